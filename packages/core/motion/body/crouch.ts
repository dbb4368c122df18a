import { bytes, floats } from "../../base/room.ts";
import { measure, sameNumbers } from "../../base/study.ts";
import { carrierOf, figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";

/**
 * How far a body goes down or up on both legs at once, in body heights, to be crouching or rising: legs of half the
 * body's height bend at the knee by about 70° for it, so that the hips go back and something has to go forward for them.
 */
const leastTravel = 0.1;
/** Share of its way that a crouch has gone as it begins to be seen, and has left as it ends (our choice). */
const edgeShare = 0.05;

/**
 * 1 where a figure goes down or up on both legs at once, as in a squat, in sitting down, and before and after a jump:
 * the hips come at least a tenth of the body's height nearer to both feet, or go that far away from them, each leg making
 * half of the way at least. Steps on stairs are none, as each leg does its own. All 0 where no two legs are known.
 * @param figure index into `figuresOf`
 */
export const crouchingOf = measure(
  "crouching",
  (study, figure: number): Uint8Array => {
    const { count } = gridOf(study);
    const flags = bytes(count);
    const { parts } = figuresOf(study)[figure];
    const feet = [parts.get("leftFoot")?.[0], parts.get("rightFoot")?.[0]];
    const hips = worldOf(study, carrierOf(figuresOf(study)[figure])).position;
    if (feet[0] === undefined || feet[1] === undefined) return flags;
    const left = worldOf(study, feet[0]).position;
    const right = worldOf(study, feet[1]).position;
    const least = leastTravel * statureOf(study, figure);
    const height = floats(count);
    // Over the lower foot: what the other one does as it steps is not seen in it.
    for (let i = 0; i < count; i++) height[i] = hips[3 * i + 1] - Math.min(left[3 * i + 1], right[3 * i + 1]);
    for (const [from, to] of waysOf(height, least)) {
      const way = height[to] - height[from];
      const body = hips[3 * to + 1] - hips[3 * from + 1];
      const legs = [left, right].map((foot) => (body - foot[3 * to + 1] + foot[3 * from + 1]) / way);
      if (legs.some((share) => share < 0.5)) continue;
      const gone = (i: number) => (height[i] - height[from]) / way;
      let middle = from;
      while (gone(middle) < 0.5) middle++;
      // What wanders before it and behind it, as hips do over feet that walk, is no part of it.
      let first = middle;
      let last = middle;
      while (first > from && gone(first) >= edgeShare && gone(first - 1) <= gone(first)) first--;
      while (last < to && gone(last) <= 1 - edgeShare && gone(last + 1) >= gone(last)) last++;
      flags.fill(1, first, last + 1);
    }
    return flags;
  },
  sameNumbers,
);

/** The ways up and down of a series: from turning point to turning point, each at least `least` long. */
function waysOf(series: Float64Array, least: number): [number, number][] {
  const ways: [number, number][] = [];
  let low = 0;
  let high = 0;
  let start = 0;
  // 1 on a way up, −1 on one down, 0 before the first one.
  let sense = 0;
  for (let i = 1; i < series.length; i++) {
    if (series[i] > series[high]) high = i;
    if (series[i] < series[low]) low = i;
    if (sense <= 0 && series[i] - series[low] >= least) {
      if (sense < 0) ways.push([start, low]);
      start = low;
      sense = 1;
      high = i;
    } else if (sense >= 0 && series[high] - series[i] >= least) {
      if (sense > 0) ways.push([start, high]);
      start = high;
      sense = -1;
      low = i;
    }
  }
  if (sense !== 0) ways.push([start, sense > 0 ? high : low]);
  return ways;
}
