import type { CurveKeys } from "../document/model.ts";
import { allKeys, type Keys, keysWithout } from "./keys.ts";
import { sampleQuaternions } from "./quaternions.ts";
import { sampleScalars } from "./scalars.ts";

/**
 * Values of a curve at ascending times. Before its first and after its last key a curve holds; at a key's own time the
 * value is the key's, and where keys share a time, the last one's. A curve without keys gives NaN.
 * @param curve the curve; what has no keys gives NaN
 * @param times document frames, ascending
 * @param out `curve.width` numbers per time
 */
export function sampleCurve(curve: CurveKeys, times: Float64Array, out: Float64Array): void {
  sampleKeys(allKeys(curve), times, out);
}

/**
 * Values of a curve of width 1 at some of ascending times.
 * @param times document frames, ascending
 * @param out one number per time, of which those from `from` to `to` (both included) are written
 */
export function sampleBetween(
  curve: CurveKeys,
  times: Float64Array,
  out: Float64Array,
  from: number,
  to: number,
): void {
  if (curve.frames.length === 0) out.fill(Number.NaN, from, to + 1);
  else sampleScalars(allKeys(curve), times, out, from, to + 1);
}

/**
 * The value of a curve of width 1 at a frame.
 * @param curve a curve of one number per key
 * @param frame in the numbering of the document; may lie between frames
 * @returns in the unit of the channel in the document
 */
export function valueAt(curve: CurveKeys, frame: number): number {
  oneTime[0] = frame;
  sampleKeys(allKeys(curve), oneTime, oneValue);
  return oneValue[0];
}

/**
 * Values of a curve as they would be if the keys first to last (indices, both included) were taken out; smooth slopes
 * beside the gap are those of the keys that are left.
 * @param times document frames, ascending
 * @param out `curve.width` numbers per time
 */
export function sampleCurveWithout(
  curve: CurveKeys,
  first: number,
  last: number,
  times: Float64Array,
  out: Float64Array,
): void {
  sampleKeys(keysWithout(curve, first, last), times, out);
}

const oneTime = new Float64Array(1);
const oneValue = new Float64Array(4);

function sampleKeys(keys: Keys, times: Float64Array, out: Float64Array): void {
  if (keys.start > keys.end) out.fill(Number.NaN, 0, keys.curve.width * times.length);
  else if (keys.curve.width === 1) sampleScalars(keys, times, out, 0, times.length);
  else sampleQuaternions(keys, times, out);
}
