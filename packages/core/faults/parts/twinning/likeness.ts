import { bytes } from "../../../base/room.ts";
import { lengthOf } from "../../../base/vector.ts";

/**
 * How alike the paths of two hands are, the one mirrored: 3 numbers per sample; ranges of samples from..to − 1 hold the
 * steps that lead to these samples.
 */

/** 1 in frames in which both hands move. */
export function bothMoving(left: Float64Array, right: Float64Array, step: number): Uint8Array {
  const busy = bytes(left.length / 3);
  for (let i = 1; i < busy.length; i++) {
    if (stepOf(left, i) > step && stepOf(right, i) > step) busy[i] = 1;
  }
  return busy;
}

/** 1 in frames in which a hand leaves the pose before at all. */
export function eitherMoving(left: Float64Array, right: Float64Array): Uint8Array {
  const moving = bytes(left.length / 3);
  for (let i = 1; i < moving.length; i++) {
    if (stepOf(left, i) > posed || stepOf(right, i) > posed) moving[i] = 1;
  }
  return moving;
}

/** Metres under which a pose is the one before, as a step key repeats it: rounding against the chest. */
const posed = 1e-6;

/** How far a path goes from the sample before to a sample, metres. */
export function stepOf(path: Float64Array, i: number): number {
  const k = 3 * i;
  return lengthOf(path[k] - path[k - 3], path[k + 1] - path[k - 2], path[k + 2] - path[k - 1]);
}

/** Whether no flag of from..to − 1 is set. */
export function noneSet(flags: Uint8Array, from: number, to: number): boolean {
  for (let i = from; i < to; i++) if (flags[i] === 1) return false;
  return true;
}

/** How far apart the wrists of joined hands are at the most, in body heights; a hand is 0.108 long (our choice). */
export const joinedShare = 0.15;

/** Whether hands are near each other and keep their distance. Hands far apart that keep it move alike: that is twinning. */
export function areJoined(apart: Float64Array, from: number, to: number, stature: number): boolean {
  let low = Number.POSITIVE_INFINITY;
  let high = 0;
  for (let i = from; i < to; i++) {
    low = Math.min(low, apart[i]);
    high = Math.max(high, apart[i]);
  }
  return high <= joinedShare * stature && high - low < 0.01 * stature;
}

/**
 * Correlation of two paths' steps about zero; 0 where one is less than four fifths of the other in size, or where they do
 * not come to more than `step` a sample on the average.
 */
export function correlationOf(
  left: Float64Array,
  right: Float64Array,
  from: number,
  to: number,
  step: number,
): number {
  let l = 0;
  let r = 0;
  let lefts = 0;
  let rights = 0;
  for (let i = from; i < to; i++) {
    const a = stepOf(left, i);
    const b = stepOf(right, i);
    l += a * a;
    r += b * b;
    lefts += a;
    rights += b;
  }
  if (Math.min(lefts, rights) <= step * (to - from)) return 0;
  return Math.min(l, r) < 0.64 * Math.max(l, r) ? 0 : similarity(left, right, from, to, 0);
}

/** Whether steps are more alike by an offset in time than without: one hand is before the other by half of it or more. */
export function isOffset(
  left: Float64Array,
  right: Float64Array,
  from: number,
  to: number,
  by: number,
): boolean {
  const first = Math.max(1 + by, from);
  const last = Math.min(left.length / 3 - by, to);
  const alike = similarity(left, right, first, last, 0);
  return [-by, by].some((lag) => similarity(left, right, first, last, lag) > alike + 1e-9);
}

/** Correlation of two paths' steps about zero, those of the second one `lag` samples later. */
export function similarity(
  left: Float64Array,
  right: Float64Array,
  from: number,
  to: number,
  lag: number,
): number {
  let both = 0;
  let l = 0;
  let r = 0;
  for (let k = 3 * from; k < 3 * to; k++) {
    const a = left[k] - left[k - 3];
    const b = right[k + 3 * lag] - right[k + 3 * lag - 3];
    both += a * b;
    l += a * a;
    r += b * b;
  }
  return both / Math.sqrt(Math.max(l * r, 1e-300));
}

/** Mean distance between two paths at the samples from..to − 1, metres. */
export function distanceBetween(left: Float64Array, right: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) {
    const k = 3 * i;
    sum += lengthOf(left[k] - right[k], left[k + 1] - right[k + 1], left[k + 2] - right[k + 2]);
  }
  return sum / (to - from);
}

/** By how much the steps of two paths differ at the samples from..to − 1, as a share of the first one's way. */
export function stepsApart(left: Float64Array, right: Float64Array, from: number, to: number): number {
  let apart = 0;
  let way = 0;
  for (let i = from; i < to; i++) {
    const k = 3 * i;
    const step = (axis: number) =>
      left[k + axis] - left[k + axis - 3] - right[k + axis] + right[k + axis - 3];
    apart += lengthOf(step(0), step(1), step(2));
    way += stepOf(left, i);
  }
  return apart / Math.max(way, 1e-300);
}
