import { inlineText } from "../document/write/value-text.ts";
import { siblingId } from "./ids.ts";
import type { ReviewEntry } from "./schema.ts";

/** Members that tell how an entry came to be, of which the later one is right. */
const later = ["changed", "carried", "rank", "date", "by", "version"];

/**
 * Merges what two people made of one entry, member by member.
 * @param base what both began with; undefined where that is not known, or there was nothing
 * @returns one entry; two where both changed the same member: the one that was changed last first, and what the other
 *   person made of it beside it, whole, under an id of its own that names the first
 */
export function mergedEntry(
  base: ReviewEntry | undefined,
  ours: ReviewEntry,
  theirs: ReviewEntry,
): readonly ReviewEntry[] {
  const [text, other] = [inlineText(ours), inlineText(theirs)];
  if (text === other) return [ours];
  const from = base === undefined ? undefined : inlineText(base);
  if (from === text) return [theirs];
  if (from === other) return [ours];
  // Which side is called ours makes no difference.
  const isOursLast =
    changedAt(ours) === changedAt(theirs) ? text > other : changedAt(ours) > changedAt(theirs);
  const [last, first] = isOursLast ? [ours, theirs] : [theirs, ours];
  const merged: Record<string, unknown> = {};
  let isConflict = false;
  for (const name of new Set([...Object.keys(last), ...Object.keys(first)])) {
    const [a, b, was] = [last, first, base].map(
      (entry) => (entry as Record<string, unknown> | undefined)?.[name],
    );
    const [aText, bText] = [inlineText(a), inlineText(b)];
    const isUntouched = base !== undefined && aText === inlineText(was);
    const value = isUntouched ? b : a;
    if (value !== undefined) merged[name] = value;
    if (aText === bText || isUntouched || later.includes(name)) continue;
    isConflict ||= base === undefined || bText !== inlineText(was);
  }
  if (!isConflict) return [merged as unknown as ReviewEntry];
  return [
    merged as unknown as ReviewEntry,
    { ...first, id: siblingId(first.id, first), conflicts: last.id } as ReviewEntry,
  ];
}

function changedAt(entry: ReviewEntry): number {
  const changed = "changed" in entry ? (entry.changed as { date: string } | undefined) : undefined;
  return Date.parse(changed?.date ?? entry.date) || 0;
}
