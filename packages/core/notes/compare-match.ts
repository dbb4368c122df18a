import type { Expected, Measured } from "../base/measured.ts";
import { curveName } from "../document/inputs.ts";
import type { NoteKey } from "../faults/note.ts";
import type { Tier } from "../settings/tier.ts";
import type { Times } from "./compare-times.ts";

/** What of a note comparison looks at; a note in full has it all. */
export interface Comparable {
  /** Name of the check, or code of a problem in the document. */
  readonly check: string;
  readonly tier: Tier;
  readonly weight: number;
  readonly figure: string | null;
  readonly node: string | null;
  /** Nodes on which it shows. */
  readonly seenAt?: readonly string[];
  /** null for a problem that has no frame. */
  readonly frames: readonly [number, number] | null;
  readonly keys: readonly Pick<NoteKey, "node" | "channel" | "frame">[];
  readonly measured: Measured | null;
  readonly expected: Expected | null;
  readonly fingerprint: string;
  /** What it speaks for, each of the same kind of note. */
  readonly also?: readonly Comparable[] | undefined;
}

/** By what two notes were known to be the same, from the surest down. */
export const matchedBy = ["fingerprint", "key", "place", "value"] as const;
/** One of {@link matchedBy}. */
export type MatchedBy = (typeof matchedBy)[number];

/** Indices into the notes of both versions. */
export interface Match {
  readonly before: number;
  readonly after: number;
  readonly by: MatchedBy;
}

/**
 * Seconds by which two notes may lie apart, once re-timed, and still be the same; our choice: a fault of the
 * same kind on the same part within a quarter of a second is the same to whoever watches.
 */
const nearSeconds = 0.25;
/** Part by which two measured values differ that are the same but for rounding of keys (our choice). */
const sameValue = 0.02;

/**
 * Finds the notes that are the same in two versions, each at most once. Several rounds, the surest first; within a
 * round those that lie nearest to each other in time go first, then those whose numbers are most alike. Which version
 * is called the old one makes no difference.
 * @param rate frames per second of the document's numbering, of both versions
 */
export function matchVersions(
  before: readonly Comparable[],
  after: readonly Comparable[],
  times: Times,
  rate: Rates,
): readonly Match[] {
  const candidates = pairsOf(before, after, times, rate);
  const freeBefore = new Set(before.keys());
  const freeAfter = new Set(after.keys());
  const matches: Match[] = [];
  for (const { by, fits } of rounds) {
    for (const { i, j, isNear } of candidates) {
      if (!freeBefore.has(i) || !freeAfter.has(j) || !fits(before[i], after[j], isNear, times)) continue;
      freeBefore.delete(i);
      freeAfter.delete(j);
      matches.push({ before: i, after: j, by });
    }
  }
  return matches.sort((p, q) => p.after - q.after);
}

interface Candidate {
  readonly i: number;
  readonly j: number;
  readonly isNear: boolean;
}

/** All pairs of notes of the same check, those first that lie nearest in time, then those with the likest numbers. */
function pairsOf(
  before: readonly Comparable[],
  after: readonly Comparable[],
  times: Times,
  rate: Rates,
): readonly Candidate[] {
  const byCheck = new Map<string, number[]>();
  after.forEach(({ check }, j) => {
    const list = byCheck.get(check);
    if (list === undefined) byCheck.set(check, [j]);
    else list.push(j);
  });
  const pairs = before.flatMap((one, i) =>
    (byCheck.get(one.check) ?? []).map((j) => {
      const two = after[j];
      const isNear = secondsApart(one, two, times, rate) <= nearSeconds;
      return {
        i,
        j,
        isNear,
        apart: tidy(middlesApart(one, two, times, rate)),
        unlike: tidy(unlikeness(one, two)),
      };
    }),
  );
  return pairs.sort(
    (p, q) => order(p.apart, q.apart) || p.unlike - q.unlike || p.i + p.j - (q.i + q.j) || p.i - q.i,
  );
}

/** Without the last digits of a sum, so that what is equal but for rounding stays equal. */
function tidy(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}

/** Order of two numbers of which both may be infinite. */
function order(a: number, b: number): number {
  return a === b ? 0 : a - b;
}

interface Round {
  readonly by: MatchedBy;
  fits(before: Comparable, after: Comparable, isNear: boolean, times: Times): boolean;
}

const rounds: readonly Round[] = [
  { by: "fingerprint", fits: (one, two, isNear) => isNear && one.fingerprint === two.fingerprint },
  { by: "key", fits: (one, two, isNear, times) => isNear && sameKey(one, two, times) === true },
  { by: "place", fits: (one, two, isNear) => isNear && one.figure === two.figure && one.node === two.node },
  { by: "place", fits: (one, two, isNear) => isNear && one.figure === two.figure && touch(one, two) },
  {
    // The key was carried elsewhere, and its fault with it.
    by: "fingerprint",
    fits: (one, two, _, times) =>
      one.keys.length > 0 && one.fingerprint === two.fingerprint && sameKey(one, two, times) !== false,
  },
  {
    // Where no key tells how the versions run against each other, alike numbers have to do.
    by: "value",
    fits: (one, two, _, times) => times.shot.knots.length === 0 && sameValues(one, two),
  },
];

/** Whether the key that causes most is the same; null where that cannot be told. */
function sameKey(before: Comparable, after: Comparable, times: Times): boolean | null {
  const [one, two] = [before.keys[0], after.keys[0]];
  if (one === undefined || two === undefined) return null;
  if (one.node !== two.node || one.channel !== two.channel) return false;
  return times.sameKey(curveName(one.node, one.channel), one.frame, two.frame);
}

/** Whether two notes share a node on which they show, or a curve that causes them. */
function touch(before: Comparable, after: Comparable): boolean {
  const nodes = new Set([...(before.seenAt ?? []), before.node]);
  if ([...(after.seenAt ?? []), after.node].some((node) => node !== null && nodes.has(node))) return true;
  const curves = new Set(before.keys.map(({ node, channel }) => curveName(node, channel)));
  return after.keys.some(({ node, channel }) => curves.has(curveName(node, channel)));
}

/** Whether two notes on the same node have the same numbers and the same length, wherever they are. */
function sameValues(before: Comparable, after: Comparable): boolean {
  if (before.figure !== after.figure || before.node !== after.node) return false;
  if (before.frames === null || after.frames === null || before.measured === null) return false;
  const lengths = [before.frames[1] - before.frames[0], after.frames[1] - after.frames[0]];
  return Math.abs(lengths[0] - lengths[1]) <= 1 && unlikeness(before, after) <= sameValue;
}

/** By what part the measured values differ: 0 alike, 1 for another sign, another quantity or nothing measured. */
function unlikeness({ measured: one }: Comparable, { measured: two }: Comparable): number {
  if (one === null || two === null) return one === two ? 0 : 1;
  if (one.quantity !== two.quantity || one.unit !== two.unit) return 1;
  const larger = Math.max(Math.abs(one.value), Math.abs(two.value));
  return larger === 0 ? 0 : Math.min(1, Math.abs(one.value - two.value) / larger);
}

/** Seconds between the frames of two notes, once re-timed; 0 where they overlap or neither has frames. */
function secondsApart(before: Comparable, after: Comparable, times: Times, rate: Rates): number {
  return least(before, after, times, rate, ([a, b], [c, d]) => Math.max(0, c - b, a - d));
}

/** Seconds between the middles of two notes, once re-timed. */
function middlesApart(before: Comparable, after: Comparable, times: Times, rate: Rates): number {
  return least(before, after, times, rate, ([a, b], [c, d]) => Math.abs(a + b - c - d) / 2);
}

type Span = readonly [number, number];
interface Rates {
  readonly before: number;
  readonly after: number;
}

/** Something between the frames of two notes, measured in both versions by the map that brings them closest. */
function least(
  before: Comparable,
  after: Comparable,
  times: Times,
  rate: Rates,
  measure: (one: Span, two: Span) => number,
): number {
  if (before.frames === null || after.frames === null) return before.frames === after.frames ? 0 : Infinity;
  const [a, b] = before.frames;
  const [c, d] = after.frames;
  const key = before.keys[0] ?? after.keys[0];
  const own = key === undefined ? null : times.curve(curveName(key.node, key.channel));
  let result = Infinity;
  for (const map of own === null ? [times.shot] : [times.shot, own]) {
    const there = measure([map.toAfter(a), map.toAfter(b)], [c, d]) / rate.after;
    const back = measure([a, b], [map.toBefore(c), map.toBefore(d)]) / rate.before;
    result = Math.min(result, (there + back) / 2);
  }
  return result;
}
