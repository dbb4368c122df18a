import { inlineText } from "../document/write/value-text.ts";
import { withEntries } from "./gather.ts";
import { mergedEntry } from "./merge-entry.ts";
import { emptyReview, type ReviewEntry, type ReviewFile } from "./schema.ts";

/** Two reviews as one. */
export interface MergedReview {
  readonly review: ReviewFile;
  /** Ids of entries that both changed in the same place, each with that of the entry that stands beside it now. */
  readonly conflicts: readonly (readonly [string, string])[];
}

/**
 * Merges what two people made of a review. Nothing is lost: an entry that one of them took out and the other changed
 * stays; where both changed the same member of an entry, both stand side by side and the later one names the other.
 * @param base what both began with; null where they began with nothing, or it is not known
 * @param ours what one of them made of it
 * @param theirs what the other made of it; changing places gives the same review
 * @returns one review, and what somebody has to choose between
 */
export function mergeReviews(base: ReviewFile | null, ours: ReviewFile, theirs: ReviewFile): MergedReview {
  const from = base ?? emptyReview();
  const [was, one, two] = [from, ours, theirs].map(entriesOf);
  const merged = new Map<string, ReviewEntry>();
  const conflicts: (readonly [string, string])[] = [];
  for (const key of new Set([...one.keys(), ...two.keys()])) {
    const [before, a, b] = [was.get(key), one.get(key), two.get(key)];
    if (a === undefined || b === undefined) {
      const left = (a ?? b) as ReviewEntry;
      // What one took out and the other left alone is out.
      if (before === undefined || inlineText(before) !== inlineText(left)) merged.set(key, left);
      continue;
    }
    const [first, ...others] = mergedEntry(before, a, b);
    merged.set(key, first);
    for (const other of others) {
      merged.set(`${other.kind} ${other.id}`, other);
      conflicts.push([first.id, other.id]);
    }
  }
  const unread = new Map([...ours.unread, ...theirs.unread].map((piece) => [inlineText(piece), piece]));
  const shot = ours.shot === from.shot ? theirs.shot : ours.shot;
  const review = {
    ...emptyReview(shot ?? ours.shot ?? theirs.shot),
    unread: [...unread.entries()].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, piece]) => piece),
    extra: { ...theirs.extra, ...ours.extra },
  };
  return { review: withEntries(review, [...merged.values()]), conflicts };
}

function entriesOf({ remarks, decisions, marks }: ReviewFile): Map<string, ReviewEntry> {
  const entries: readonly ReviewEntry[] = [...remarks, ...decisions, ...marks];
  return new Map(entries.map((entry) => [`${entry.kind} ${entry.id}`, entry]));
}
