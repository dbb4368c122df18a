import { lengthOf } from "../../base/vector.ts";
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
  /** Robust spread of the deviations of the samples around it (median absolute deviation × 1.4826). */
  readonly spread: number;
}

/** Share of the bending that a spike has to explain. Between a single bend (0.70) and a clean spike (1). */
const leastExplained = 0.85;
/** Samples on each side that the local spread is taken from: enough for a median, near enough to be the same move. */
const reach = 10;

/**
 * Deviation of each sample from the cubic through its two neighbours on either side:
 * p̂[i] = (−p[i−2] + 4 p[i−1] + 4 p[i+1] − p[i+2]) / 6. Zero within two samples of the ends.
 * @param points 3 numbers per sample
 */
export function deviations(points: Float64Array, out: Float64Array): void {
  const count = points.length / 3;
  out.fill(0, 0, count);
  for (let i = 2; i < count - 2; i++) {
    const k = 3 * i;
    const dx = points[k] + (points[k - 6] - 4 * points[k - 3] - 4 * points[k + 3] + points[k + 6]) / 6;
    const dy = points[k + 1] + (points[k - 5] - 4 * points[k - 2] - 4 * points[k + 4] + points[k + 7]) / 6;
    const dz = points[k + 2] + (points[k - 4] - 4 * points[k - 1] - 4 * points[k + 5] + points[k + 8]) / 6;
    out[i] = lengthOf(dx, dy, dz);
  }
}

/**
 * Whether anything of a path may deviate by half a floor, which a spike does at least: nearly no motion does, and it
 * costs no roots to see that. Rounding is allowed for.
 * @param points 3 numbers per sample
 * @param floor smallest deviation that counts
 */
export function mayHoldSpikes(points: Float64Array, floor: number): boolean {
  // Six deviations are the fourth difference of the path.
  const least = 0.999 * 9 * floor * floor;
  for (let k = 6, end = points.length - 6; k < end; k += 3) {
    const x = 6 * points[k] - 4 * (points[k - 3] + points[k + 3]) + points[k - 6] + points[k + 6];
    const y = 6 * points[k + 1] - 4 * (points[k - 2] + points[k + 4]) + points[k - 5] + points[k + 7];
    const z = 6 * points[k + 2] - 4 * (points[k - 1] + points[k + 5]) + points[k - 4] + points[k + 8];
    if (!(x * x + y * y + z * z < least)) return true;
  }
  return false;
}

/**
 * Finds spikes in a path.
 * @param points 3 numbers per sample
 * @param deviation from {@link deviations} of the same points
 * @param floor smallest deviation that counts
 * @param factor how many times the local spread a spike has to stand out
 */
export function spikesIn(
  points: Float64Array,
  deviation: Float64Array,
  floor: number,
  factor: number,
): Spike[] {
  const count = points.length / 3;
  const spikes: Spike[] = [];
  for (let i = 2; i < count - 2; i++) {
    const here = deviation[i];
    if (here < floor * 0.5 || here < deviation[i - 1] || here < deviation[i + 1]) continue;
    const found = spikeNear(points, deviation, i, floor, factor);
    if (found !== null && (spikes.length === 0 || found.at > spikes[spikes.length - 1].at + 1))
      spikes.push(found);
  }
  return spikes;
}

/** The spike that starts at or just before a local maximum of the deviation, if it is one. */
function spikeNear(
  points: Float64Array,
  deviation: Float64Array,
  i: number,
  floor: number,
  factor: number,
): Spike | null {
  // The shape is looked at before the spread: nearly all of the many accents of a motion fail by their shape.
  if (deviation[i] >= floor && explained(points, i, 1) >= leastExplained) {
    const spread = spreadAround(deviation, i);
    if (deviation[i] >= factor * spread) return { at: i, length: 1, deviation: deviation[i], spread };
  }
  // Two samples off the path hide each other from the one-sample prediction, which then deviates most beside them:
  // predict pairs near the maximum from outside of them, and take the one that explains most.
  let best = -1;
  let furthest = 0;
  let most = leastExplained;
  for (let at = i - 2; at <= i + 1; at++) {
    const pair = pairDeviation(points, at);
    if (pair < floor) continue;
    const share = explained(points, at, 2);
    if (share < most || !comesBack(points, at, pair)) continue;
    most = share;
    best = at;
    furthest = pair;
  }
  if (best < 0) return null;
  const spread = spreadAround(deviation, i);
  return furthest >= factor * spread ? { at: best, length: 2, deviation: furthest, spread } : null;
}

/**
 * Larger deviation of samples at and at+1 from the cubic through the two samples on either side of the pair, at
 * −2, −1, 2, 3: weights −0.3, 1, 0.5, −0.2 for the first, mirrored for the second.
 */
export function pairDeviation(points: Float64Array, at: number): number {
  if (at < 2 || at + 3 >= points.length / 3) return 0;
  let first = 0;
  let second = 0;
  for (let axis = 0; axis < 3; axis++) {
    const k = 3 * at + axis;
    const a = points[k - 6];
    const b = points[k - 3];
    const c = points[k + 6];
    const d = points[k + 9];
    first += (points[k] - (-0.3 * a + b + 0.5 * c - 0.2 * d)) ** 2;
    second += (points[k + 3] - (-0.2 * a + 0.5 * b + c - 0.3 * d)) ** 2;
  }
  return Math.sqrt(Math.max(first, second));
}

/**
 * Whether a path goes on behind a pair of samples where it would have gone without them: across the pair it gets on by
 * what the steps beside it say, to within the deviation. A jump to another place does not.
 */
function comesBack(points: Float64Array, at: number, deviation: number): boolean {
  let gap = 0;
  for (let axis = 0; axis < 3; axis++) {
    const k = 3 * at + axis;
    const step = (points[k - 3] - points[k - 6] + points[k + 9] - points[k + 6]) / 2;
    gap += (points[k + 6] - points[k - 3] - 3 * step) ** 2;
  }
  return Math.sqrt(gap) <= deviation;
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
function spreadAround(deviation: Float64Array, i: number): number {
  let length = 0;
  const last = Math.min(deviation.length - 3, i + reach);
  for (let k = Math.max(2, i - reach); k <= last; k++)
    if (Math.abs(k - i) > 3) window[length++] = deviation[k];
  if (length < 3) return 0;
  const sorted = window.subarray(0, length).sort();
  return (
    1.4826 * (length % 2 === 1 ? sorted[(length - 1) / 2] : (sorted[length / 2 - 1] + sorted[length / 2]) / 2)
  );
}
