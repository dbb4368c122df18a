import type { Note } from "../faults/note.ts";
import { answers, type Waiver } from "../notes/waivers.ts";
import type { Decision, Mark, MarkState, Remark, ReviewFile } from "./schema.ts";

/**
 * The waivers that a review makes: one for each note that is dropped. Where people disagree about a note, it is not
 * waived until one of them gives way.
 * @param review a review file of the shot
 * @returns waivers, for `setWaiversBeside`
 */
export function waiversOfReview(review: ReviewFile): readonly Waiver[] {
  const contested = new Set(
    review.decisions.flatMap(({ id, conflicts }) => (conflicts === undefined ? [] : [id, conflicts])),
  );
  const isAgreed = ({ id, conflicts }: Decision) =>
    !contested.has(id) ||
    review.decisions
      .filter((other) => [other.id, other.conflicts].some((name) => name === id || name === conflicts))
      .every(({ verdict }) => verdict === "dropped");
  return review.decisions
    .filter((decision) => decision.verdict === "dropped" && isAgreed(decision))
    .map(({ check, node, frames, reason, by, lastRevision }) => ({
      check,
      ...(node === undefined ? {} : { node }),
      ...(frames === undefined ? {} : { frames }),
      reason: reason ?? "dropped in review",
      by,
      ...(lastRevision === undefined ? {} : { lastRevision }),
    }));
}

/**
 * The decision about a note: by the note's fingerprint where one names it, else by its check, node and frames, as a
 * waiver answers a note. Of several the one that was made last.
 * @param review a review file of the shot
 * @param note a computed note; its frames are in the document's numbering
 * @returns null where nobody decided
 */
export function decisionAbout(
  review: ReviewFile,
  note: Pick<Note, "check" | "node" | "frames" | "fingerprint"> & { readonly seenAt?: readonly string[] },
): Decision | null {
  const seen = { ...note, seenAt: note.seenAt ?? [] };
  const about = review.decisions.filter((one) => answers({ ...one, reason: "" }, seen));
  const named = about.filter(({ fingerprint }) => fingerprint === note.fingerprint);
  return latest(named.length > 0 ? named : about);
}

/** What is known of what became of a remark. */
export interface RemarkState {
  readonly state: MarkState;
  /** What somebody said last; null where nobody said anything. */
  readonly mark: Mark | null;
}

/**
 * What became of a remark: what was said last of it.
 * @param remark a remark
 * @param marks marks of the review files of all versions that are looked at
 * @returns its state; open where nobody said anything
 */
export function stateOfRemark({ id }: Pick<Remark, "id">, marks: readonly Mark[]): RemarkState {
  const mark = latest(marks.filter(({ of }) => of === id));
  return { state: mark?.state ?? "open", mark };
}

function latest<
  E extends { readonly id: string; readonly date: string; readonly changed?: { date: string } | undefined },
>(entries: readonly E[]): E | null {
  const at = ({ changed, date }: E) => Date.parse(changed?.date ?? date) || 0;
  return entries.reduce<E | null>(
    (last, entry) => (last === null || at(entry) >= at(last) ? entry : last),
    null,
  );
}
