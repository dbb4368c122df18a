import type { Keys } from "./keys.ts";
import { smoothSlope } from "./slopes.ts";

/** The inner control points of a bezier segment, from its first key: time as a share of the segment, value absolute. */
export interface Handles {
  x1: number;
  y1: number;
  x2: number;
  y2: number;
}

/**
 * Puts the handles of the segment from `key` to `next` into `into`. Time must not run back: a handle that points back
 * in time is stood upright, and one that runs past the neighbouring key is shortened along its own direction. With
 * both times inside the segment the time cubic is monotone, as in the CSS Easing Functions Level 1 (cubic-bezier).
 * A handle that is left out is worked out as for smooth: a third of the segment long.
 */
export function readHandles(keys: Keys, key: number, next: number, into: Handles): void {
  const { frames, values, handles } = keys.curve;
  const span = frames[next] - frames[key];
  let run = handles === null ? Number.NaN : handles[4 * key + 2];
  let rise = handles === null ? Number.NaN : handles[4 * key + 3];
  if (Number.isNaN(run) || Number.isNaN(rise)) {
    rise = (Number.isNaN(rise) ? smoothSlope(keys, key) : rise) * (span / 3);
    run = span / 3;
  }
  if (run > span) rise *= span / run;
  into.x1 = run <= 0 ? 0 : run >= span ? 1 : run / span;
  into.y1 = values[key] + rise;
  run = handles === null ? Number.NaN : -handles[4 * next];
  rise = handles === null ? Number.NaN : handles[4 * next + 1];
  if (Number.isNaN(run) || Number.isNaN(rise)) {
    rise = -(Number.isNaN(rise) ? smoothSlope(keys, next) : rise) * (span / 3);
    run = span / 3;
  }
  if (run > span) rise *= span / run;
  into.x2 = run <= 0 ? 1 : run >= span ? 0 : 1 - run / span;
  into.y2 = values[next] + rise;
}

/** Share of a segment's time within which the time cubic is solved. */
const tolerance = 1e-15;

/**
 * The parameter s in [0, 1] at which a cubic from 0 to 1 with inner control values x1 and x2 (both in [0, 1]) is x.
 * Newton's method inside a bracket that bisection narrows wherever Newton leaves it or slows down.
 */
export function solveTime(x1: number, x2: number, x: number): number {
  const c = 3 * x1;
  const b = 3 * (x2 - x1) - c;
  const a = 1 - c - b;
  if (Math.abs(a) + Math.abs(b) < 1e-15) return x;
  let low = 0;
  let high = 1;
  let s = x;
  let step = 1;
  for (let round = 0; round < 100; round++) {
    const error = ((a * s + b) * s + c) * s - x;
    if (Math.abs(error) <= tolerance) return s;
    if (error > 0) high = s;
    else low = s;
    const slope = (3 * a * s + 2 * b) * s + c;
    const newton = s - error / slope;
    const before = step;
    const stays = newton > low && newton < high && Math.abs(newton - s) < 0.5 * Math.abs(before);
    const next = stays ? newton : 0.5 * (low + high);
    step = next - s;
    if (next === s || high - low < 1e-16) return next;
    s = next;
  }
  return s;
}

/** Value of a cubic with the four control values at a parameter. */
export function bezierValue(p0: number, p1: number, p2: number, p3: number, s: number): number {
  const r = 1 - s;
  return r * r * (r * p0 + 3 * s * p1) + s * s * (3 * r * p2 + s * p3);
}
