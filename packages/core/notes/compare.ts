import type { Shot } from "../document/model.ts";
import { type Tier, tiers } from "../settings/tier.ts";
import { type Comparable, type Match, type MatchedBy, matchVersions } from "./compare-match.ts";
import { type Times, timesBetween } from "./compare-times.ts";

/** A version of a shot with what was found in it. */
export interface Version<N extends Comparable> {
  readonly shot: Shot;
  /** Notes that nobody waived, and in them those for which they speak. */
  readonly notes: readonly N[];
  /** Notes that are waived. */
  readonly waived?: readonly N[];
}

/** The same note in both versions. */
export interface NotePair<N> {
  readonly before: N;
  readonly after: N;
  /** By what it was known. */
  readonly by: MatchedBy;
}

/** A note that is still there, and matters more or less than before. */
export interface NoteChange<N> extends NotePair<N> {
  readonly verdict: "better" | "worse";
  /**
   * By what part of what it was before the measured value came nearer to its limit (1: all the way) or went farther
   * from it (negative); null where the weight alone changed.
   */
  readonly fixedShare: number | null;
}

/** What became of a shot's notes from one version to the next. */
export interface Comparison<N> {
  /** Gone. */
  readonly fixed: readonly N[];
  /** As they were. */
  readonly still: readonly NotePair<N>[];
  readonly changed: readonly NoteChange<N>[];
  /** Were not there. */
  readonly added: readonly N[];
  /**
   * Waived in the newer version, or waived in the older one and gone; the side on which there is no such note is null.
   */
  readonly waived: readonly { readonly before: N | null; readonly after: N | null }[];
  readonly times: Times;
}

/**
 * Change of a measured value, as part of how far it was past its limit, under which a note counts as unchanged;
 * our choice: nobody sees a twentieth.
 */
const unchangedWithin = 0.05;
/** Change of a weight (0 to 1) under which a note counts as unchanged, where its value is (our choice). */
const sameWeight = 0.05;

/**
 * Compares the notes of two versions of a shot. Notes are found again through re-timed keys, frames put in or taken
 * out and renamed files: see {@link matchVersions} and {@link timesBetween}. Exchanging the versions exchanges fixed
 * and added, better and worse. What a note speaks for is found again too, as a note of its own or beside another speaker;
 * it is told apart only where its speaker fares otherwise.
 * @param before the older version: its shot and its notes
 * @param after the newer version
 * @returns what is fixed, added, better, worse and as it was
 */
export function compareNotes<N extends Comparable>(before: Version<N>, after: Version<N>): Comparison<N> {
  const times = timesBetween(before.shot, after.shot);
  const [olds, oldSpeakers] = withListed(before);
  const [news, newSpeakers] = withListed(after);
  const rate = { before: rateOf(before.shot), after: rateOf(after.shot) };
  const matches = matchVersions(olds, news, times, rate);
  const isWaivedBefore = (index: number) => index >= olds.length - (before.waived?.length ?? 0);
  const isWaivedAfter = (index: number) => index >= news.length - (after.waived?.length ?? 0);
  const still: NotePair<N>[] = [];
  const changed: NoteChange<N>[] = [];
  const waived: { before: N | null; after: N | null }[] = [];
  for (const match of matches) {
    const pair = pairOf(olds, news, match);
    const change = changeOf(pair);
    // Beside the same speaker in both, or told under two that are told themselves.
    if (oldSpeakers[match.before] >= 0 && newSpeakers[match.after] >= 0) continue;
    if (isWaivedAfter(match.after)) waived.push({ before: pair.before, after: pair.after });
    else if (change === null) still.push(pair);
    else changed.push(change);
  }
  const matchedBefore = new Set(matches.map((match) => match.before));
  const matchedAfter = new Set(matches.map((match) => match.after));
  const lost = [...olds.keys()].filter((index) => !matchedBefore.has(index));
  const found = [...news.keys()].filter((index) => !matchedAfter.has(index));
  for (const index of found.filter(isWaivedAfter)) waived.push({ before: null, after: news[index] });
  for (const index of lost.filter(isWaivedBefore)) waived.push({ before: olds[index], after: null });
  return {
    fixed: lost
      .filter(
        (index) =>
          !isWaivedBefore(index) && (matchedBefore.has(oldSpeakers[index]) || oldSpeakers[index] < 0),
      )
      .map((index) => olds[index]),
    still,
    changed,
    added: found
      .filter(
        (index) => !isWaivedAfter(index) && (matchedAfter.has(newSpeakers[index]) || newSpeakers[index] < 0),
      )
      .map((index) => news[index]),
    waived,
    times,
  };
}

/**
 * The notes of a version, behind each those that it speaks for, and last the waived ones.
 * @returns with, for each, the index of what speaks for it; −1 where it stands alone
 */
function withListed<N extends Comparable>({
  notes,
  waived = [],
}: Version<N>): [readonly N[], readonly number[]] {
  const all: N[] = [];
  const speakers: number[] = [];
  for (const note of notes) {
    const speaker = all.push(note) - 1;
    speakers.push(-1);
    for (const other of (note.also ?? []) as readonly N[]) {
      all.push(other);
      speakers.push(speaker);
    }
  }
  return [
    [...all, ...waived],
    [...speakers, ...waived.map(() => -1)],
  ];
}

/**
 * Whether the newer version has something at or above a tier that the older one did not have there: a new note, or
 * one that was lighter than the tier.
 * @param comparison what `compareNotes` gave
 * @param tier the lightest tier that counts
 * @returns whether a note at or above the tier came
 */
export function bringsNew<N extends Comparable>(comparison: Comparison<N>, tier: Tier): boolean {
  const limit = tiers.indexOf(tier);
  const fails = (note: N) => tiers.indexOf(note.tier) <= limit;
  return (
    comparison.added.some(fails) ||
    [...comparison.changed, ...comparison.still].some(({ before, after }) => fails(after) && !fails(before))
  );
}

function rateOf({ frameRate }: Shot): number {
  return frameRate.numerator / frameRate.denominator;
}

function pairOf<N>(olds: readonly N[], news: readonly N[], { before, after, by }: Match): NotePair<N> {
  return { before: olds[before], after: news[after], by };
}

function changeOf<N extends Comparable>(pair: NotePair<N>): NoteChange<N> | null {
  const { before, after } = pair;
  const [was, is] = [pastLimit(before), pastLimit(after)];
  if (was !== null && is !== null) {
    // Against the larger of both, so that the way back is as far as the way there.
    const part = (was - is) / Math.max(was, is, Number.MIN_VALUE);
    if (Math.abs(part) > unchangedWithin) {
      return {
        ...pair,
        verdict: part > 0 ? "better" : "worse",
        fixedShare: was > 0 ? (was - is) / was : null,
      };
    }
  }
  const heavier = after.weight - before.weight;
  if (Math.abs(heavier) > sameWeight || after.tier !== before.tier) {
    const tierChange = tiers.indexOf(before.tier) - tiers.indexOf(after.tier);
    const isWorse = tierChange === 0 ? heavier > 0 : tierChange > 0;
    return { ...pair, verdict: isWorse ? "worse" : "better", fixedShare: null };
  }
  return null;
}

/** How far a measured value is past its limit; null where nothing is measured or there is no limit. */
function pastLimit({ measured, expected }: Comparable): number | null {
  if (measured === null || expected === null || measured.unit !== expected.unit) return null;
  const { min, max } = expected;
  if (min === undefined && max === undefined) return null;
  return Math.max(0, measured.value - (max ?? measured.value), (min ?? measured.value) - measured.value);
}
