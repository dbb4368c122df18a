import { mergedEntry } from "./merge-entry.ts";
import type { ReviewProblem } from "./problem.ts";
import type { Decision, Mark, Remark, ReviewEntry, ReviewFile } from "./schema.ts";

/**
 * Puts entries into a review. Where two of them have the same id, as after a merge that kept both lines, they become
 * one, or stay side by side where they contradict each other.
 */
export function gathered(
  review: ReviewFile,
  entries: readonly ReviewEntry[],
): { review: ReviewFile; told: readonly ReviewProblem[] } {
  const byId = new Map<string, ReviewEntry>();
  const told: ReviewProblem[] = [];
  const put = (entry: ReviewEntry) => {
    const key = `${entry.kind} ${entry.id}`;
    const known = byId.get(key);
    const [one, ...others] = known === undefined ? [entry] : mergedEntry(undefined, known, entry);
    byId.set(key, one);
    for (const other of others) {
      const message = `Two people changed the ${one.kind} ${one.id} at once; both are kept, the other one as ${other.id}. Choose one.`;
      told.push({ line: null, message, id: one.id });
      byId.set(`${other.kind} ${other.id}`, other);
    }
  };
  for (const entry of entries) put(entry);
  return { review: withEntries(review, [...byId.values()]), told };
}

/** A review with other entries, sorted by id. */
export function withEntries(review: ReviewFile, entries: readonly ReviewEntry[]): ReviewFile {
  const sorted = [...entries].sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
  return {
    ...review,
    remarks: sorted.filter((entry): entry is Remark => entry.kind === "remark"),
    decisions: sorted.filter((entry): entry is Decision => entry.kind === "decision"),
    marks: sorted.filter((entry): entry is Mark => entry.kind === "mark"),
  };
}
