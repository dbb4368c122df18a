import type { Study } from "../base/study.ts";
import type { Note } from "../faults/note.ts";
import { eachAlone } from "../notes/assemble.ts";
import { figuresOf } from "../rig/body.ts";
import { chainOf, rigOf, subtreeOf } from "../rig/rig.ts";
import { tiers } from "../settings/tier.ts";
import type { KeyChange } from "./changes.ts";
import { matchNotes } from "./matching.ts";
import { framesInWords, leftInWords } from "./refusals.ts";

/** A note that is there already may get this much heavier, no more: its number moves with the keys around it. */
const slackWeight = 0.05;

/**
 * Ids of the nodes that a fix of a note may touch: those of its figure, or of the hierarchy that its node is in, and
 * those that the note itself names (a prop that is moved with the hands).
 */
export function nodesWithin(study: Study, note: Note): ReadonlySet<string> {
  const rig = rigOf(study);
  const figure = figuresOf(study).find(({ id }) => id === note.figure);
  const anchor = rig.indexOf.get(note.node ?? note.keys[0]?.node ?? "");
  const own = anchor === undefined ? [] : subtreeOf(rig, chainOf(rig, anchor)[0]);
  const named = [...note.seenAt, ...note.keys.map(({ node }) => node)];
  return new Set([...(figure?.nodes ?? own).map((node) => rig.ids[node]), ...named]);
}

/** What became of the other notes when one was cleared. */
export interface Outcome {
  /** Notes that go with it: the note itself and others that had the same cause. */
  readonly gone: readonly Note[];
  /** Lighter notes that come in exchange, and such of any weight as were hidden by what is gone. */
  readonly added: readonly Note[];
}

/**
 * What became of the notes; where the note is still there or the shot got worse, what is said against it, as a clause.
 * @param isOfOldMotion whether nothing that a note is about moves otherwise than before: such a note was hidden by what is
 *   gone, and is not held against a change
 * @param changes what was done to keys
 */
export function judged(
  note: Note,
  notesBefore: readonly Note[],
  notesAfter: readonly Note[],
  isOfOldMotion: (note: Note) => boolean,
  changes: readonly KeyChange[],
): Outcome | string {
  // What one note spoke for may stand by itself afterwards, and is nothing new.
  const [before, after] = [eachAlone(notesBefore), eachAlone(notesAfter)];
  const matches = matchNotes(before, after);
  const left = matches.get(note);
  const isAnother = left !== undefined && isOfAnother(note, left, changes);
  if (left !== undefined && !isAnother)
    return `${note.check} would still be noted there: ${leftInWords(left)}`;
  const limit = tiers.indexOf(note.tier);
  const isHeavy = ({ tier }: Note) => tiers.indexOf(tier) <= limit;
  const known = new Set(matches.values());
  const added = after.filter((other) => !known.has(other));
  if (isAnother) added.push(left);
  const made = added.filter((other) => other !== left && !isOfOldMotion(other));
  const worse = made.find(isHeavy);
  if (worse !== undefined) return `it would bring in ${placeOf(worse)}`;
  for (const [old, now] of matches) {
    if (old === note) continue;
    const rose = tiers.indexOf(now.tier) < tiers.indexOf(old.tier) || now.weight > old.weight + slackWeight;
    if (rose && isHeavy(now) && !isOfOldMotion(now)) return `it would make ${placeOf(now)} worse`;
  }
  // Many light notes for one heavy one are no gain.
  if (weightOf(made) + weightOf([...known]) >= weightOf(before)) return lighterInWords(made);
  return { gone: before.filter((old) => old === note || !matches.has(old)), added };
}

/**
 * Whether a note that is left where one was is of another slip, which the first one hid: it stands on another part, no key
 * behind it is one that was touched or that the first one named, and it weighs no more. Two slips in the same frames are two
 * notes, and each is mended by itself.
 */
function isOfAnother(note: Note, left: Note, changes: readonly KeyChange[]): boolean {
  const name = ({ node, channel }: { readonly node: string; readonly channel: string }) =>
    `${node} ${channel}`;
  const touched = new Set([...note.keys, ...changes].map(name));
  return (
    left.node !== note.node &&
    left.keys.length > 0 &&
    left.weight <= note.weight + slackWeight &&
    !left.keys.some((key) => touched.has(name(key)))
  );
}

function lighterInWords(notes: readonly Note[]): string {
  const [first] = [...notes].sort((a, b) => b.weight - a.weight);
  if (first === undefined) return "it would leave notes that weigh as much together as those before";
  return `it would bring in ${notes.length === 1 ? "" : `${notes.length} notes, `}${placeOf(first)}${notes.length === 1 ? ", which weighs as much" : " before all, that weigh as much together"}`;
}

function placeOf({ tier, check, node, frames }: Note): string {
  return `a ${tier} note, ${check}${node === null ? "" : ` of ${node}`} ${framesInWords(frames)}`;
}

function weightOf(notes: readonly Note[]): number {
  return notes.reduce((sum, { weight }) => sum + weight, 0);
}
