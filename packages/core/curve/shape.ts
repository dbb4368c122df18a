import type { CurveKeys } from "../document/model.ts";
import { bezierValue, type Handles, readHandles } from "./bezier.ts";
import { valueAt } from "./evaluate.ts";
import { allKeys, bezierMode, cubicMode } from "./keys.ts";
import { cubicSlope } from "./slopes.ts";

/**
 * Writes the turning points of a curve of width 1 strictly inside the segment from a key to the next one, in order of
 * time: where a bezier or cubic segment leaves the band of its keys, or doubles back. Other segments have none.
 * @param index the segment's first key
 * @param out receives frame and value of each, of two at the most
 * @returns how many there are
 */
export function extremaBetween(curve: CurveKeys, index: number, out: Float64Array): number {
  const { frames, values, modes } = curve;
  const mode = modes[index];
  const next = index + 1;
  if (curve.width !== 1 || index < 0 || next >= frames.length) return 0;
  if (mode !== bezierMode && mode !== cubicMode) return 0;
  const span = frames[next] - frames[index];
  if (!(span > 0)) return 0;
  const keys = allKeys(curve);
  const v0 = values[index];
  if (mode === bezierMode) {
    readHandles(keys, index, next, handles);
    const { x1, y1, x2, y2 } = handles;
    const count = turningPoints(y1 - v0, y2 - y1, values[next] - y2);
    for (let k = 0; k < count; k++) {
      out[2 * k] = frames[index] + span * bezierValue(0, x1, x2, 1, turns[k]);
      out[2 * k + 1] = bezierValue(v0, y1, y2, values[next], turns[k]);
    }
    return count;
  }
  const rise = values[next] - v0;
  const a = (span * cubicSlope(keys, index, 2)) / 3;
  const b = (span * cubicSlope(keys, next, 0)) / 3;
  const count = turningPoints(a, rise - a - b, b);
  for (let k = 0; k < count; k++) {
    const frame = frames[index] + span * turns[k];
    out[2 * k] = frame;
    out[2 * k + 1] = valueAt(curve, frame);
  }
  return count;
}

const handles: Handles = { x1: 0, y1: 0, x2: 0, y2: 0 };
/** What {@link turningPoints} has found. */
const turns = new Float64Array(2);

/**
 * Parameters strictly inside (0, 1) where a quadratic with the Bernstein coefficients a, b, c changes its sign, ascending.
 * @returns how many there are
 */
function turningPoints(a: number, b: number, c: number): number {
  const second = a - 2 * b + c;
  const half = b - a;
  const root = half * half - second * a;
  // A double root touches zero without a change of sign.
  if (!(root > 0)) return 0;
  const q = -(half + (half < 0 ? -1 : 1) * Math.sqrt(root));
  const one = q / second;
  const other = a / q;
  const isInside = one > 0 && one < 1;
  let count = 0;
  if (isInside && !(other < one)) turns[count++] = one;
  if (other > 0 && other < 1) turns[count++] = other;
  if (isInside && other < one) turns[count++] = one;
  return count;
}
