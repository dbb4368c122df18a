import { middleOf, perMedianDeviation } from "../../base/median.ts";
import { lengthOf } from "../../base/vector.ts";
import { usualAt } from "./usual-deviation.ts";

/**
 * Spikes: one or two samples that leave the path which their neighbours predict, and come back.
 *
 * A stop, a start or a bounce also deviates from a smooth prediction, but it bends the path once; a spike bends it
 * out, twice back and out again. The share of the bending that spikes explain tells the two apart: 1 for a spike,
 * 2/3 at most for a single bend (0.7 where two samples may differ).
 */
export interface Spike {
  /** Index into the series of the first sample off the path, and how many there are (1 or 2). */
  readonly at: number;
  readonly length: 1 | 2;
  /** How far the furthest of them is off the predicted path, in the series' unit. */
  readonly deviation: number;
  /**
   * What of it counts: all of it across the path, and along it what exceeds half a spacing, since a sample that is
   * early or late on its way is spacing and no spike.
   */
  readonly counted: number;
  /** What has to count for it to stand out: the floor, the local spread and what is usual in the whole series. */
  readonly limit: number;
}

/** Share of the bending that a spike has to explain. Between a single bend (0.70) and a clean spike (1). */
const leastExplained = 0.85;
/** Samples on each side that the local spread is taken from: enough for a median, near enough to be the same move. */
const reach = 10;
/** Share of the spacing by which a sample may be early or late on its path. */
const alongShare = 0.5;

/** A sample bears upon the deviations of so many samples on each side of it. */
export const spikeReach = 2;

/**
 * Deviation of each sample from the cubic through its two neighbours on either side:
 * p̂[i] = (−p[i−2] + 4 p[i−1] + 4 p[i+1] − p[i+2]) / 6. Zero within two samples of the ends.
 * @param points 3 numbers per sample
 */
export function deviations(points: Float64Array, out: Float64Array): void {
  const count = points.length / 3;
  for (let i = 0; i < count; i++) out[i] = deviationAt(points, i);
}

/** Deviation of one sample, see {@link deviations}. */
export function deviationAt(points: Float64Array, i: number): number {
  if (i < 2 || i >= points.length / 3 - 2) return 0;
  const k = 3 * i;
  const dx = points[k] + (points[k - 6] - 4 * points[k - 3] - 4 * points[k + 3] + points[k + 6]) / 6;
  const dy = points[k + 1] + (points[k - 5] - 4 * points[k - 2] - 4 * points[k + 4] + points[k + 7]) / 6;
  const dz = points[k + 2] + (points[k - 4] - 4 * points[k - 1] - 4 * points[k + 5] + points[k + 8]) / 6;
  return lengthOf(dx, dy, dz);
}

/** Samples on each side of one on which it hangs whether it may be a spike: those of the spread, and what tells of these. */
export const spikeSight = 12;

/**
 * Whether a sample stands out from those around it as a spike does: nearly no sample does, and the first question, whether
 * it deviates by half a floor, costs no roots. Rounding is allowed for.
 * @param points 3 numbers per sample
 * @param floor smallest deviation that counts
 * @param factor how many times the local spread a spike has to stand out
 */
export function mayBeSpike(points: Float64Array, i: number, floor: number, factor: number): boolean {
  const k = 3 * i;
  if (i < 2 || k + 8 >= points.length) return false;
  // Six deviations are the fourth difference of the path.
  const x = 6 * points[k] - 4 * (points[k - 3] + points[k + 3]) + points[k - 6] + points[k + 6];
  const y = 6 * points[k + 1] - 4 * (points[k - 2] + points[k + 4]) + points[k - 5] + points[k + 7];
  const z = 6 * points[k + 2] - 4 * (points[k - 1] + points[k + 5]) + points[k - 4] + points[k + 8];
  if (x * x + y * y + z * z < 0.999 * 9 * floor * floor) return false;
  const here = deviationAt(points, i);
  if (here < floor * 0.5 || here < deviationAt(points, i - 1) || here < deviationAt(points, i + 1))
    return false;
  const found = spikeNear(points, here, i, floor);
  return found !== null && !(found.counted < factor * spreadAround(points, i));
}

/**
 * Finds spikes in a path.
 * @param points 3 numbers per sample
 * @param candidates the samples that {@link mayBeSpike}, by the same floor and factor, ascending
 * @param floor smallest deviation that counts
 * @param factor how many times the local spread a spike has to stand out
 * @param usual how many times what is usual in the whole series, at samples of such a speed
 */
export function spikesIn(
  points: Float64Array,
  candidates: readonly number[],
  floor: number,
  factor: number,
  usual: number,
): Spike[] {
  const spikes: Spike[] = [];
  if (candidates.length === 0) return spikes;
  const deviation = roomFor(points.length / 3);
  deviations(points, deviation);
  for (const i of candidates) {
    const found = spikeNear(points, deviation[i], i, floor);
    if (found === null || (spikes.length > 0 && found.at <= spikes[spikes.length - 1].at + 1)) continue;
    const { at, length, counted } = found;
    const spread = factor * spreadAround(points, i);
    const limit = Math.max(floor, spread, usual * usualAt(points, deviation, at, length, floor));
    if (counted >= limit) spikes.push({ at, length, deviation: offPath(points, at, length), counted, limit });
  }
  return spikes;
}

let room = new Float64Array(0);

/** Deviations of the path that is looked at; those of the next one are written over them. */
function roomFor(length: number): Float64Array {
  if (room.length < length) room = new Float64Array(length);
  return room.subarray(0, length);
}

/** The spike that starts at or just before a local maximum of the deviation, if it is one. */
function spikeNear(
  points: Float64Array,
  here: number,
  i: number,
  floor: number,
): Pick<Spike, "at" | "length" | "counted"> | null {
  // Nearly all of the many accents of a motion fail by their shape.
  if (here >= floor && explained(points, i, 1) >= leastExplained) {
    const counted = offPath(points, i, 1, alongShare);
    if (counted >= floor && comesBack(points, i, 1, here)) return { at: i, length: 1, counted };
  }
  // Two samples off the path hide each other from the one-sample prediction, which then deviates most beside them:
  // predict pairs near the maximum from outside of them, and take the one that explains most.
  let best = -1;
  let furthest = 0;
  let most = leastExplained;
  for (let at = i - 2; at <= i + 1; at++) {
    const counted = offPath(points, at, 2, alongShare);
    if (counted < floor) continue;
    const share = explained(points, at, 2);
    if (share < most || !comesBack(points, at, 2, counted / 2)) continue;
    most = share;
    best = at;
    furthest = counted;
  }
  return best < 0 ? null : { at: best, length: 2, counted: furthest };
}

/** Weights of the samples around one, or around the first of a pair, from which the cubic through them predicts it. */
const single = { places: [-2, -1, 1, 2], weights: [-1 / 6, 4 / 6, 4 / 6, -1 / 6] } as const;
const first = { places: [-2, -1, 2, 3], weights: [-0.3, 1, 0.5, -0.2] } as const;
const second = { places: [-2, -1, 2, 3], weights: [-0.2, 0.5, 1, -0.3] } as const;

/**
 * How far the sample at `at`, or the further one of the pair that begins there, is off the cubic through the two samples
 * on either side of it. Zero too near the ends.
 * @param free share of the spacing by which a sample may be off along its path
 */
export function offPath(points: Float64Array, at: number, length: 1 | 2, free = 0): number {
  if (at < 2 || at + length + 1 >= points.length / 3) return 0;
  if (length === 1) return offBy(points, at, 0, single, length, free);
  return Math.max(offBy(points, at, 0, first, length, free), offBy(points, at, 1, second, length, free));
}

function offBy(
  points: Float64Array,
  at: number,
  offset: number,
  { places, weights }: typeof single | typeof first | typeof second,
  length: 1 | 2,
  free: number,
): number {
  let off2 = 0;
  let way2 = 0;
  let dot = 0;
  for (let axis = 0; axis < 3; axis++) {
    const k = 3 * at + axis;
    let off = points[k + 3 * offset];
    for (let n = 0; n < 4; n++) off -= weights[n] * points[k + 3 * places[n]];
    const way = points[k + 3 * length] - points[k - 3];
    off2 += off * off;
    way2 += way * way;
    dot += off * way;
  }
  if (way2 === 0 || free === 0) return Math.sqrt(off2);
  const along = Math.abs(dot) / Math.sqrt(way2);
  const beyond = Math.max(0, along - (free * Math.sqrt(way2)) / (length + 1));
  return Math.sqrt(Math.max(0, off2 - along * along) + beyond * beyond);
}

/**
 * Whether a path goes on behind a spike where it would have gone without it, to within a distance: across the spike it
 * gets on by what the steps beside it say. A jump to another place does not.
 */
function comesBack(points: Float64Array, at: number, length: 1 | 2, within: number): boolean {
  let gap = 0;
  for (let axis = 0; axis < 3; axis++) {
    const k = 3 * at + axis;
    const behind = k + 3 * length;
    const step = (points[k - 3] - points[k - 6] + points[behind + 3] - points[behind]) / 2;
    gap += (points[behind] - points[k - 3] - (length + 1) * step) ** 2;
  }
  return Math.sqrt(gap) <= within;
}

/** Share of the bending (squared second differences) around a spike that moving its samples explains. */
function explained(points: Float64Array, at: number, length: 1 | 2): number {
  const count = points.length / 3;
  const from = at - 2;
  const to = at + length + 1;
  if (from < 1 || to > count - 2) return 0;
  let total = 0;
  let part = 0;
  for (let axis = 0; axis < 3; axis++) {
    // Bending that goes on at both ends of the window is the move's own and is not held against the spike.
    const base = (bend(points, from, axis) + bend(points, to, axis)) / 2;
    let first = 0;
    let second = 0;
    for (let i = from; i <= to; i++) {
      const b = bend(points, i, axis) - base;
      total += b * b;
      first += b * template(i - at);
      if (length === 2) second += b * template(i - at - 1);
    }
    // Least squares on the templates [1, −2, 1] of one sample, or of two samples side by side.
    part +=
      length === 1
        ? (first * first) / 6
        : (6 * first * first + 8 * first * second + 6 * second * second) / 20;
  }
  return total > 0 ? part / total : 0;
}

function template(offset: number): number {
  return offset === 0 ? -2 : offset === 1 || offset === -1 ? 1 : 0;
}

/** Second difference of one axis at a sample. */
function bend(points: Float64Array, i: number, axis: number): number {
  const k = 3 * i + axis;
  return points[k - 3] - 2 * points[k] + points[k + 3];
}

const window = new Float64Array(2 * reach + 1);

/** Median × 1.4826 of the deviations around a sample, leaving out the five that a spike there touches. */
function spreadAround(points: Float64Array, i: number): number {
  let length = 0;
  const last = Math.min(points.length / 3 - 3, i + reach);
  for (let k = Math.max(2, i - reach); k <= last; k++)
    if (Math.abs(k - i) > 3) window[length++] = deviationAt(points, k);
  if (length < 3) return 0;
  return perMedianDeviation * middleOf(window.subarray(0, length).sort());
}
