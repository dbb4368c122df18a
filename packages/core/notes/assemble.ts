import type { Study } from "../base/study.ts";
import { curveName, curveOf } from "../document/inputs.ts";
import type { Finding } from "../faults/check.ts";
import type { Note, NoteKey } from "../faults/note.ts";
import { figuresOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { type Tier, tiers } from "../settings/tier.ts";
import { gridOf } from "../time/grid.ts";
import { agreeing } from "./agree.ts";
import { fingerprintOf } from "./fingerprint.ts";
import type { Draft, Group } from "./group.ts";
import { groupsOf } from "./groups.ts";
import { oneFaultEach } from "./one-fault.ts";
import { standingOf } from "./rank.ts";
import { nodeNameOf } from "./wording.ts";

/**
 * Makes the shot's notes from all drafts: a fault that travels down a chain becomes one note at its cause, where two
 * checks say the same the one that names the cause says it, and the rest is ranked.
 * @param unsaid what silenced checks would say; it becomes no note, but speaks for what yields to it
 */
export function assembleNotes(
  study: Study,
  drafts: readonly Draft[],
  unsaid: readonly Draft[] = [],
): readonly Note[] {
  const seen = new Map<string, number>();
  const numbered = (group: Group): Note => {
    const made = noteOf(study, group);
    const count = (seen.get(made.fingerprint) ?? 0) + 1;
    seen.set(made.fingerprint, count);
    const note = count === 1 ? made : { ...made, fingerprint: fingerprintOf([made.fingerprint, count]) };
    behind.set(note, group.draft.finding);
    return note;
  };
  const told = oneFaultEach(study, groupsOf(study, drafts, unsaid));
  return told.map((group) => toldWith(numbered(group), group.others.map(numbered))).sort(inOrder);
}

/** The note that matters most first. */
export function inOrder(a: Note, b: Note): number {
  return (
    rungOf(a.tier) - rungOf(b.tier) ||
    standing(b) - standing(a) ||
    tiers.indexOf(a.tier) - tiers.indexOf(b.tier) ||
    b.weight - a.weight ||
    a.frames[0] - b.frames[0] ||
    compare(a, b)
  );
}

/** What is major and what is minor is ordered together; what is broken comes before it, polish behind it. */
const rungOf = (tier: Tier) => tiers.indexOf(tier === "minor" ? "major" : tier);
const standing = ({ tier, rank }: Note) => standingOf(tier, rank?.plainness ?? 0);

/**
 * A note that speaks for others as well (see `oneFaultEach`), the heaviest of them first.
 * @param also what it speaks for from now on; where it spoke for others before, these are left out
 */
export function toldWith(note: Note, also: readonly Note[]): Note {
  const alone = speakers.get(note) ?? note;
  if (also.length === 0) return alone;
  const told = { ...alone, message: `${alone.message} (and ${also.length} more)`, also };
  speakers.set(told, alone);
  const finding = behind.get(alone);
  if (finding !== undefined) behind.set(told, finding);
  return told;
}

/** Notes that speak for others, as they are without them. */
const speakers = new WeakMap<Note, Note>();

/** Notes and, after each, those that it speaks for. */
export function eachAlone(notes: readonly Note[]): readonly Note[] {
  return notes.flatMap((note) => [note, ...(note.also ?? [])]);
}

/** What notes were made from: fixes need its numbers, reports do not. */
const behind = new WeakMap<Note, Finding>();

/** What the check found, in numbers, for a note that {@link assembleNotes} has made; null for any other. */
export function findingBehind(note: Note): Finding | null {
  return behind.get(note) ?? null;
}

function compare(a: Note, b: Note): number {
  return a.fingerprint < b.fingerprint ? -1 : a.fingerprint > b.fingerprint ? 1 : 0;
}

function noteOf(study: Study, group: Group): Note {
  const { draft, node, keys } = group;
  const { check, finding } = draft;
  const { frames } = gridOf(study);
  const rig = rigOf(study);
  const figure = finding.figure < 0 ? undefined : figuresOf(study)[finding.figure];
  const id = node < 0 ? null : rig.ids[node];
  return {
    check: check.name,
    tier: group.weighed.tier,
    weight: group.weighed.weight,
    rank: group.weighed.seen,
    figure: figure?.id ?? null,
    node: id,
    seenAt: group.seenAt.map((seen) => rig.ids[seen]),
    frames: [tidy(frames[group.from]), tidy(frames[group.to])],
    keys,
    message: agreeing(draft.message) + alsoWords(group.also) + againWords(study, group.again ?? []),
    measured: finding.measured,
    expected: finding.expected,
    why: check.why,
    suggestion: draft.suggestion,
    evidence: finding.evidence ?? [],
    fingerprint: fingerprintOf([check.name, figure?.id ?? "", id ?? "", ...anchor(study, keys)]),
  };
}

/** Tells of the parts for which one speaks. */
function alsoWords(also: number): string {
  if (also === 0) return "";
  return also === 1
    ? ", and so does another part at that moment"
    : `, and so do ${also} other parts at that moment`;
}

/** Of so many parts at most the names are told. */
const mostNamed = 3;

/** Tells how often the same was found in the bookkeeping of other keys, and on which parts. */
function againWords(study: Study, again: readonly number[]): string {
  if (again.length === 0) return "";
  const parts = [...new Set(again)];
  const named = parts.slice(0, mostNamed).map((node) => nodeNameOf(study, node));
  const more = parts.length - named.length;
  if (more > 0) named.push(more === 1 ? "1 more part" : `${more} more parts`);
  const list = named.length < 2 ? named.join("") : `${named.slice(0, -1).join(", ")} and ${named.at(-1)}`;
  return `, and the same again ${again.length === 1 ? "once" : `${again.length} times`}, on ${list}`;
}

/** What of the causing key outlives re-timing: its channel and its value. */
function anchor(study: Study, keys: readonly NoteKey[]): (string | number)[] {
  const key = keys[0];
  if (key === undefined) return [];
  const curve = curveOf(study, curveName(key.node, key.channel));
  if (curve === null) return [];
  const at = key.index * curve.width;
  return [key.node, key.channel, ...curve.values.subarray(at, at + curve.width)];
}

/** Frames without the last digits of a sum in floating point. */
export function tidy(frame: number): number {
  return Math.round(frame * 1e6) / 1e6;
}
