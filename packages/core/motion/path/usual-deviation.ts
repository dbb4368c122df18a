import { inOrder, perMedianDeviation } from "../../base/median.ts";

/**
 * How far a part is usually off its path in the whole shot, by which what is unusual is told: the noise floor of a joint.
 */

/** Below this share of its deviations lies what is usual: accents and slips are fewer than two in five. */
const usualShare = 0.6;
/** A sample tells what is usual at a speed from this share of the speed on. */
const comparable = 0.5;
/** What is this many times as quick as the samples about a spike tells nothing of them: a rest is calm, however a part swings. */
const quickest = 4;
/** From fewer samples than this nothing is learned. */
const fewest = 10;

/**
 * What is usual of a series at the speed that it has about some samples: the 60th percentile × 1.4826 of the
 * deviations at samples that are at least half as quick, without those that a spike there touches. Slow samples are calm
 * however noisy a part is at speed. A floor that contained its own fault would silence short shots.
 * @param points 3 numbers per sample
 * @param deviation of each sample, see `deviations`
 * @param at first sample of the spike
 * @param length how many samples it has
 * @param rest way from a sample to the next one but one up to which a part rests, in the series' unit; where it
 *   is left out, what is quicker tells of it however quick it is
 * @returns in the series' unit; 0 where there is too little to learn from
 */
export function usualAt(
  points: Float64Array,
  deviation: Float64Array,
  at: number,
  length: number,
  rest = Number.POSITIVE_INFINITY,
): number {
  const count = points.length / 3;
  if (room.length < count) {
    room = new Float64Array(count);
    order = new Int32Array(count);
    ways = new Float64Array(count);
  }
  const here = wayAcross(points, at - 1, at + length) / (length + 1) ** 2;
  const least = 4 * comparable * comparable * here;
  const tooQuick = Math.max(4 * here * quickest * quickest, rest * rest);
  let kept = 0;
  for (let i = 2; i < count - 2; i++) {
    if (i >= at - 2 && i <= at + length + 1) continue;
    const way = wayAcross(points, i - 1, i + 1);
    if (!(way >= least) || way > tooQuick) continue;
    ways[kept] = way;
    order[kept++] = i;
  }
  if (kept < fewest) return 0;
  // Those that are nearest in speed: a third of them, or all up to twice as quick. Of equals, the first ones count.
  const most = (4 * here) / (comparable * comparable);
  const share = Math.min(kept, Math.max(fewest, Math.ceil(kept / 3)));
  room.set(ways.subarray(0, kept));
  const third = inOrder(room.subarray(0, kept), share - 1);
  const limit = Math.max(most, third);
  let equals = Number.POSITIVE_INFINITY;
  if (!(third <= most)) {
    equals = share;
    for (let k = 0; k < kept; k++) if (ways[k] < third) equals--;
  }
  let taken = 0;
  for (let k = 0; k < kept; k++) {
    if (ways[k] > limit || (ways[k] === third && equals-- <= 0)) continue;
    room[taken++] = deviation[order[k]];
  }
  return perMedianDeviation * inOrder(room.subarray(0, taken), Math.floor(usualShare * (taken - 1)));
}

let room = new Float64Array(0);
let ways = new Float64Array(0);
let order = new Int32Array(0);

/** Square of the distance between two samples. */
function wayAcross(points: Float64Array, from: number, to: number): number {
  const a = 3 * from;
  const b = 3 * to;
  const x = points[b] - points[a];
  const y = points[b + 1] - points[a + 1];
  const z = points[b + 2] - points[a + 2];
  return x * x + y * y + z * z;
}
