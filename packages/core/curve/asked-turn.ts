import type { CurveKeys } from "../document/model.ts";
import { allKeys, bezierMode, cubicMode, linearMode, smoothMode } from "./keys.ts";
import { cubicSlope, smoothSlope } from "./slopes.ts";

/**
 * Whether the keys around a segment ask for the turn that a curve of width 1 makes in it: the curve comes from a key on the
 * inner side, passes both of the segment's keys without a corner, and goes on to a key on the inner side. At neither key it
 * is steeper than three times the way to the key outside, which keeps the segments outside within their keys (F. N. Fritsch
 * and R. E. Carlson 1980, "Monotone piecewise cubic interpolation"). Any smooth curve through such keys turns between them.
 * @param key the segment's first key
 * @param side 1 for a turn above the two keys, -1 for one below
 */
export function isAskedTurn(curve: CurveKeys, key: number, side: 1 | -1): boolean {
  if (key < 1 || key + 2 >= curve.frames.length) return false;
  return isPassed(curve, key, key - 1, side) && isPassed(curve, key + 1, key + 2, side);
}

/** Whether a curve passes a key on its way between a turn and the key outside of it. */
function isPassed(curve: CurveKeys, key: number, outside: number, side: 1 | -1): boolean {
  const { frames, values } = curve;
  const toward = Math.sign(key - outside);
  const way = (side * (values[key] - values[outside])) / Math.abs(frames[key] - frames[outside]);
  const within = side * toward * slopeOn(curve, key, toward > 0 ? 1 : -1);
  const without = side * toward * slopeOn(curve, key, toward > 0 ? -1 : 1);
  return way > 0 && within > 0 && within <= steepest * way && without >= leastShare * within;
}

/** Slope of a curve at a key, on the side of the next key (1) or of the one before (-1), in value per frame. */
function slopeOn(curve: CurveKeys, key: number, side: 1 | -1): number {
  const { frames, values, modes } = curve;
  const mode = modes[side > 0 ? key : key - 1];
  if (mode === bezierMode || mode === cubicMode) return cubicSlope(allKeys(curve), key, side > 0 ? 2 : 0);
  if (mode === smoothMode) return smoothSlope(allKeys(curve), key);
  if (mode !== linearMode) return 0;
  return (values[key + side] - values[key]) / (frames[key + side] - frames[key]);
}

/** Times the way to the key outside; Fritsch & Carlson's bound. */
const steepest = 3;
/** Of the slope inside, on the other side of the key; less is a corner, where the curve was eased and is thrown on again. */
const leastShare = 0.5;
