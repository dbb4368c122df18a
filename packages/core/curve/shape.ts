import type { CurveKeys } from "../document/model.ts";
import { bezierValue, type Handles, readHandles, solveTime } from "./bezier.ts";
import { valueAt } from "./evaluate.ts";
import { allKeys, bezierMode, cubicMode, keyAtOrBefore, linearMode, smoothMode, stepMode } from "./keys.ts";
import { cubicSlope, smoothSlope } from "./slopes.ts";

/** A turning point of a curve. */
export interface Extremum {
  readonly frame: number;
  readonly value: number;
}

/**
 * Slope of a curve of width 1 at a frame, in value per frame; infinite where a handle stands upright.
 * @param side which segment counts at a key's own time: the one before it or the one after it
 */
export function derivativeAt(curve: CurveKeys, frame: number, side: "before" | "after" = "after"): number {
  const { frames, values, modes } = curve;
  const keys = allKeys(curve);
  let key = keyAtOrBefore(keys, frame);
  if (side === "before") while (key >= 0 && frames[key] === frame) key--;
  const next = key + 1;
  if (key < 0 || next >= frames.length) return 0;
  const span = frames[next] - frames[key];
  const rise = values[next] - values[key];
  const u = (frame - frames[key]) / span;
  const mode = modes[key];
  if (mode === stepMode) return 0;
  if (mode === linearMode) return rise / span;
  if (mode === bezierMode) {
    readHandles(keys, key, next, handles);
    const { x1, y1, x2, y2 } = handles;
    return bezierSlope(x1, y1 - values[key], x2, y2 - values[key], rise, solveTime(x1, x2, u)) / span;
  }
  const m0 = mode === smoothMode ? smoothSlope(keys, key) : cubicSlope(keys, key, 2);
  const m1 = mode === smoothMode ? smoothSlope(keys, next) : cubicSlope(keys, next, 0);
  const c2 = (3 * rise) / span - 2 * m0 - m1;
  const c3 = m0 + m1 - (2 * rise) / span;
  return m0 + u * (2 * c2 + 3 * u * c3);
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

/** Slope dy/dx of a bezier cubic from (0, 0) to (1, y3) at a parameter; where both stand still, that of its limit. */
function bezierSlope(x1: number, y1: number, x2: number, y2: number, y3: number, s: number): number {
  const r = 1 - s;
  const dx = r * r * x1 + 2 * r * s * (x2 - x1) + s * s * (1 - x2);
  const dy = r * r * y1 + 2 * r * s * (y2 - y1) + s * s * (y3 - y2);
  if (dx > 0 || dy !== 0) return dy / dx;
  const ddx = r * (x2 - 2 * x1) + s * (1 - 2 * x2 + x1);
  const ddy = r * (y2 - 2 * y1) + s * (y3 - 2 * y2 + y1);
  if (ddx !== 0 || ddy !== 0) return ddy / ddx;
  return (y3 - 3 * y2 + 3 * y1) / (1 - 3 * x2 + 3 * x1);
}

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
