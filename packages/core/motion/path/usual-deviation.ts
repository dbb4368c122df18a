import { perMedianDeviation } from "../../base/median.ts";

/**
 * How far a part is usually off its path in the whole shot, by which what is unusual is told: the noise floor of a joint.
 */

/** Below this share of its deviations lies what is usual: accents and slips are fewer than two in five. */
const usualShare = 0.6;
/** A sample tells what is usual at a speed from this share of the speed on. */
const comparable = 0.5;
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
 * @returns in the series' unit; 0 where there is too little to learn from
 */
export function usualAt(points: Float64Array, deviation: Float64Array, at: number, length: number): number {
  const count = points.length / 3;
  if (room.length < count) {
    room = new Float64Array(count);
    order = new Int32Array(count);
    ways = new Float64Array(count);
  }
  const here = wayAcross(points, at - 1, at + length) / (length + 1) ** 2;
  const least = 4 * comparable * comparable * here;
  let kept = 0;
  for (let i = 2; i < count - 2; i++) {
    if (i >= at - 2 && i <= at + length + 1) continue;
    ways[i] = wayAcross(points, i - 1, i + 1);
    if (ways[i] >= least) order[kept++] = i;
  }
  if (kept < fewest) return 0;
  const sorted = order.subarray(0, kept).sort((a, b) => ways[a] - ways[b]);
  const most = (4 * here) / (comparable * comparable);
  const share = Math.max(fewest, Math.ceil(kept / 3));
  let taken = 0;
  while (taken < kept && (taken < share || ways[sorted[taken]] <= most)) {
    room[taken] = deviation[sorted[taken]];
    taken++;
  }
  const own = room.subarray(0, taken).sort();
  return perMedianDeviation * own[Math.floor(usualShare * (taken - 1))];
}

let room = new Float64Array(0);
let ways = new Float64Array(0);
let order = new Int32Array(0);

/** Square of the distance between two samples. */
function wayAcross(points: Float64Array, from: number, to: number): number {
  let square = 0;
  for (let axis = 0; axis < 3; axis++) square += (points[3 * to + axis] - points[3 * from + axis]) ** 2;
  return square;
}
