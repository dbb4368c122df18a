import type { CurveKeys } from "../document/model.ts";
import { bezierValue, type Handles, readHandles } from "./bezier.ts";
import { valueAt } from "./evaluate.ts";
import { allKeys, bezierMode, cubicMode } from "./keys.ts";
import { cubicSlope } from "./slopes.ts";

/** A turning point of a curve. */
export interface Extremum {
  readonly frame: number;
  readonly value: number;
}

/**
 * Turning points of a curve of width 1 strictly inside the segment from a key to the next one, in order of time: where
 * a bezier or cubic segment leaves the band of its keys, or doubles back. Other segments have none.
 * @param index the segment's first key
 */
export function extremaBetween(curve: CurveKeys, index: number): Extremum[] {
  const { frames, values, modes } = curve;
  const next = index + 1;
  if (curve.width !== 1 || index < 0 || next >= frames.length) return [];
  const span = frames[next] - frames[index];
  if (!(span > 0)) return [];
  const keys = allKeys(curve);
  const v0 = values[index];
  const rise = values[next] - v0;
  if (modes[index] === bezierMode) {
    readHandles(keys, index, next, handles);
    const { x1, y1, x2, y2 } = handles;
    return turningPoints(y1 - v0, y2 - y1, values[next] - y2).map((s) => ({
      frame: frames[index] + span * bezierValue(0, x1, x2, 1, s),
      value: bezierValue(v0, y1, y2, values[next], s),
    }));
  }
  if (modes[index] !== cubicMode) return [];
  const a = (span * cubicSlope(keys, index, 2)) / 3;
  const b = (span * cubicSlope(keys, next, 0)) / 3;
  return turningPoints(a, rise - a - b, b).map((u) => {
    const frame = frames[index] + span * u;
    return { frame, value: valueAt(curve, frame) };
  });
}

const handles: Handles = { x1: 0, y1: 0, x2: 0, y2: 0 };

/** Parameters strictly inside (0, 1) where a quadratic with the Bernstein coefficients a, b, c changes its sign. */
function turningPoints(a: number, b: number, c: number): number[] {
  const second = a - 2 * b + c;
  const half = b - a;
  const root = half * half - second * a;
  // A double root touches zero without a change of sign.
  if (!(root > 0)) return [];
  const q = -(half + (half < 0 ? -1 : 1) * Math.sqrt(root));
  const found = [q / second, a / q].filter((s) => s > 0 && s < 1);
  return found.sort((s, t) => s - t);
}
