import { trimmed } from "../base/number-words.ts";
import type { Study } from "../base/study.ts";
import type { Note } from "../faults/note.ts";
import { eachAlone } from "../notes/assemble.ts";
import { figuresOf } from "../rig/body.ts";
import { chainOf, rigOf, subtreeOf } from "../rig/rig.ts";
import { tiers } from "../settings/tier.ts";
import { matchNotes } from "./matching.ts";

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
  /** Lighter notes that come in exchange. */
  readonly added: readonly Note[];
}

/** What became of the notes; where the note is still there or the shot got worse, what is said against it, as a clause. */
export function judged(
  note: Note,
  notesBefore: readonly Note[],
  notesAfter: readonly Note[],
): Outcome | string {
  // What one note spoke for may stand by itself afterwards, and is nothing new.
  const [before, after] = [eachAlone(notesBefore), eachAlone(notesAfter)];
  const matches = matchNotes(before, after);
  if (matches.has(note)) return `${note.check} would still be noted there`;
  const limit = tiers.indexOf(note.tier);
  const isHeavy = ({ tier }: Note) => tiers.indexOf(tier) <= limit;
  const known = new Set(matches.values());
  const added = after.filter((other) => !known.has(other));
  const worse = added.find(isHeavy);
  if (worse !== undefined) return `it would bring in ${placeOf(worse)}`;
  for (const [old, now] of matches) {
    const rose = tiers.indexOf(now.tier) < tiers.indexOf(old.tier) || now.weight > old.weight + slackWeight;
    if (rose && isHeavy(now)) return `it would make ${placeOf(now)} worse`;
  }
  // Many light notes for one heavy one are no gain.
  if (weightOf(added) + weightOf([...known]) >= weightOf(before))
    return "it would bring in lighter notes that weigh as much together";
  return { gone: before.filter((old) => !matches.has(old)), added };
}

function placeOf({ tier, check, node, frames: [first, last] }: Note): string {
  const when =
    first === last
      ? `at frame ${trimmed(first, 1)}`
      : `over frames ${trimmed(first, 1)} to ${trimmed(last, 1)}`;
  return `a ${tier} note, ${check}${node === null ? "" : ` of ${node}`} ${when}`;
}

function weightOf(notes: readonly Note[]): number {
  return notes.reduce((sum, { weight }) => sum + weight, 0);
}
