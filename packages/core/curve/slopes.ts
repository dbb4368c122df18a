import { type Keys, keyAfter, keyBefore, stepMode } from "./keys.ts";

/**
 * Slope of a smooth key, in value per frame: the limited slope of a monotone piecewise cubic (M. Steffen 1990, "A
 * simple method for monotonic interpolation in one dimension", Astronomy and Astrophysics 239, 443–450, equations 6
 * to 11). It is zero where the keys turn back and at most twice the flatter neighbour's, which keeps every segment
 * inside the band of its two keys (it lies well within the region of F. N. Fritsch and R. E. Carlson 1980, "Monotone
 * piecewise cubic interpolation", SIAM Journal on Numerical Analysis 17, 238–246).
 *
 * Beside a hold (before the first key, after the last, and next to a step segment) the slope is zero, so that a curve
 * of smooth keys has no kink anywhere.
 */
export function smoothSlope(keys: Keys, key: number): number {
  const { frames, values, modes } = keys.curve;
  const before = keyBefore(keys, key);
  const after = keyAfter(keys, key);
  if (before < keys.start || after > keys.end) return 0;
  if (modes[before] === stepMode || modes[key] === stepMode) return 0;
  const spanBefore = frames[key] - frames[before];
  const spanAfter = frames[after] - frames[key];
  if (!(spanBefore > 0) || !(spanAfter > 0)) return 0;
  const slopeBefore = (values[key] - values[before]) / spanBefore;
  const slopeAfter = (values[after] - values[key]) / spanAfter;
  if (slopeBefore > 0 !== slopeAfter > 0 || slopeBefore === 0 || slopeAfter === 0) return 0;
  const share = spanAfter / (spanBefore + spanAfter);
  const parabola = slopeBefore * share + slopeAfter * (1 - share);
  const limit = 2 * Math.min(Math.abs(slopeBefore), Math.abs(slopeAfter));
  return Math.max(-limit, Math.min(limit, parabola));
}

/** Frames from which on a handle has a direction; a shorter one stands upright, as a slope it would be endless. */
const shortestHandle = 1e-6;

/** Whether a key has a handle on a side: for width 1 one that gives a value. */
function handleValue(keys: Keys, key: number, side: 0 | 2): number {
  const { handles } = keys.curve;
  return handles === null ? Number.NaN : handles[4 * key + side + 1];
}

/**
 * Slope with which a curve of width 1 leaves (side 2) or reaches (side 0) a key on a cubic segment, in value per
 * frame: as the key gives it, worked out as for smooth where it gives none.
 */
export function cubicSlope(keys: Keys, key: number, side: 0 | 2): number {
  const value = handleValue(keys, key, side);
  if (Number.isNaN(value)) return smoothSlope(keys, key);
  const frames = (keys.curve.handles as Float64Array)[4 * key + side];
  // A handle that was drawn in frames and value has the slope of its line.
  if (Number.isNaN(frames)) return value;
  return Math.abs(frames) < shortestHandle ? smoothSlope(keys, key) : value / frames;
}
