import { middleOf, perMedianDeviation } from "../../../base/median.ts";

/**
 * Poses on each side from which the usual change of spacing is taken: enough for a median, near enough to be the same
 * move.
 */
const around = 10;
const changes = new Float64Array(2 * around + 4);

/**
 * How far the change from one step to the next usually is from the middle between the changes before and after it,
 * around a pose that is left out with what it bears upon: median × 1.4826, as for a Hampel identifier. An ease changes
 * its spacing much, but evenly; what is sudden stands out against the changes beside it.
 */
export function usualLurch(steps: Float64Array, at: number): number {
  // What is calm tells nothing of what is usual at speed, if there are three others.
  const quick = lurchesAround(steps, at, (steps[at] + steps[at + 1]) / 2);
  return spreadOf(changes.subarray(0, quick >= 3 ? quick : lurchesAround(steps, at, 0)));
}

/** Lurches at the poses around one with two steps that make at least a length; returns how many. */
function lurchesAround(steps: Float64Array, at: number, least: number): number {
  let length = 0;
  const end = Math.min(steps.length - 3, at + around);
  for (let i = Math.max(2, at - around); i <= end; i++) {
    if (Math.abs(i - at) < 2 || steps[i] + steps[i + 1] < least) continue;
    changes[length++] = Math.abs(lurchAt(steps, i));
  }
  return length;
}

/** How far the change of spacing at a pose is from the middle between those at the poses before and after it. */
export function lurchAt(steps: Float64Array, at: number): number {
  return 1.5 * (steps[at + 1] - steps[at]) + (steps[at - 1] - steps[at + 2]) / 2;
}

/**
 * How far a step usually is from the middle between the steps before and after it, around the poses first..last, which
 * are left out with the step after them. An ease changes its spacing much, but evenly; what is out of the row stands
 * out against the steps beside it.
 * @param pace steps of less than half of this tell nothing of what is usual at speed, if there are three others
 */
export function usualUnevenness(steps: Float64Array, first: number, last: number, pace: number): number {
  const quick = unevennessAround(steps, first, last, pace / 2);
  return spreadOf(changes.subarray(0, quick >= 3 ? quick : unevennessAround(steps, first, last, 0)));
}

/** How uneven the steps around poses are that make at least a length, by themselves or beside them. */
function unevennessAround(steps: Float64Array, first: number, last: number, least: number): number {
  let length = 0;
  const end = Math.min(steps.length - 2, last + around);
  for (let i = Math.max(2, first - around); i <= end; i++) {
    if (i > first - 2 && i < last + 3) continue;
    const middle = (steps[i - 1] + steps[i + 1]) / 2;
    if (Math.max(steps[i], middle) >= least) changes[length++] = Math.abs(steps[i] - middle);
  }
  return length;
}

/**
 * How far the change of a path's velocity at a pose usually is from the middle between the changes at the poses before
 * and after it, around a pose that is left out with what it bears upon. A curve that eases changes its velocity much,
 * but evenly; a corner stands out against the changes beside it.
 * @param speed poses that the path passes at less than this way per pose tell nothing of what is usual at speed, if
 *   there are three others
 */
export function usualBreak(path: Float64Array, poses: Int32Array, at: number, speed: number): number {
  const quick = breaksAround(path, poses, at, speed);
  return spreadOf(changes.subarray(0, quick >= 3 ? quick : breaksAround(path, poses, at, 0)));
}

/** Breaks at the poses around one past which the path goes two steps of at least a length; returns how many. */
function breaksAround(path: Float64Array, poses: Int32Array, at: number, least: number): number {
  let length = 0;
  const end = Math.min(poses.length - 3, at + around);
  for (let i = Math.max(2, at - around); i <= end; i++) {
    if (Math.abs(i - at) < 3) continue;
    let square = 0;
    let way = 0;
    for (let axis = 0; axis < 3; axis++) {
      const before = path[3 * poses[i - 1] + axis];
      const after = path[3 * poses[i + 1] + axis];
      const outer = path[3 * poses[i - 2] + axis] + path[3 * poses[i + 2] + axis];
      square += (3 * path[3 * poses[i] + axis] - 2 * (before + after) + outer / 2) ** 2;
      way += (after - before) ** 2;
    }
    if (way >= 4 * least * least) changes[length++] = Math.sqrt(square);
  }
  return length;
}

/** Median × 1.4826 of absolute changes, which are sorted in place; 0 of fewer than three. */
function spreadOf(values: Float64Array): number {
  if (values.length < 3) return 0;
  return perMedianDeviation * middleOf(values.sort());
}
