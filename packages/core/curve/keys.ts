import { type CurveKeys, interpolations } from "../document/model.ts";

/** Indices into `interpolations`, as they stand in `Curve.modes`. */
export const stepMode = interpolations.indexOf("step");
export const linearMode = interpolations.indexOf("linear");
export const smoothMode = interpolations.indexOf("smooth");
export const bezierMode = interpolations.indexOf("bezier");
export const cubicMode = interpolations.indexOf("cubic");

/** A curve's keys, or what is left of them when a run of keys is passed over; nothing is copied. */
export interface Keys {
  readonly curve: CurveKeys;
  /** First and last key passed over; -2 and -3 where none is. */
  readonly gapFirst: number;
  readonly gapLast: number;
  /** First and last key that counts; start > end where no key is left. */
  readonly start: number;
  readonly end: number;
}

/** All keys of a curve. */
export function allKeys(curve: CurveKeys): Keys {
  return { curve, gapFirst: -2, gapLast: -3, start: 0, end: curve.frames.length - 1 };
}

/** The keys of a curve but first to last (both included; indices outside the curve are ignored). */
export function keysWithout(curve: CurveKeys, first: number, last: number): Keys {
  const end = curve.frames.length - 1;
  const gapFirst = Math.max(0, first);
  const gapLast = Math.min(end, last);
  if (gapFirst > gapLast) return allKeys(curve);
  return {
    curve,
    gapFirst,
    gapLast,
    start: gapFirst === 0 ? gapLast + 1 : 0,
    end: gapLast === end ? gapFirst - 1 : end,
  };
}

/** The key after one, passing over the gap; > `end` behind the last. */
export function keyAfter(keys: Keys, key: number): number {
  return key + 1 === keys.gapFirst ? keys.gapLast + 1 : key + 1;
}

/** The key before one, passing over the gap; < `start` before the first. */
export function keyBefore(keys: Keys, key: number): number {
  return key - 1 === keys.gapLast ? keys.gapFirst - 1 : key - 1;
}

/** The last key at or before a time; less than `start` where there is none. */
export function keyAtOrBefore(keys: Keys, time: number): number {
  const { frames } = keys.curve;
  let low = keys.start - 1;
  let high = keys.end;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (frames[middle] <= time) low = middle;
    else high = middle - 1;
  }
  // A key inside the gap stands for the one before it.
  return low >= keys.gapFirst && low <= keys.gapLast ? keys.gapFirst - 1 : low;
}

/** Index of the first of ascending keys at or after a frame; their number where all lie before it. */
export function firstKeyFrom(frames: ArrayLike<number>, frame: number): number {
  let low = 0;
  let high = frames.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (frames[middle] < frame) low = middle + 1;
    else high = middle;
  }
  return low;
}
