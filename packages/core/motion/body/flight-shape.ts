import type { Study } from "../../base/study.ts";
import { gridOf } from "../../time/grid.ts";
import { hipsOf } from "../ground/foot-plant.ts";
import { heldOf, onTwosOf } from "../path/held.ts";
import type { Flight } from "./flight.ts";
import { massCentreOf } from "./mass-centre.ts";
import { fitParabola, type Parabola } from "./parabola.ts";

/** How far the height of a flight strays from a parabola. */
export interface FlightShape {
  /** Root mean square, metres. */
  readonly residual: number;
  /** Largest stray, metres, positive above the parabola, and the sample at which it is. */
  readonly off: number;
  readonly at: number;
  /** The residual of another path of the centre of mass over the same flight, 3 numbers per sample. */
  residualOf(path: Float64Array): number;
}

/** A flight has to show this many poses for its shape to be judged: a parabola takes three of them. */
const fewestPoses = 6;

/** Shape of a flight, pose by pose where they are held on twos; null where it shows too few of them. */
export function flightShape(study: Study, figure: number, { from, to }: Flight): FlightShape | null {
  const { dt } = gridOf(study);
  const hips = hipsOf(study, figure);
  const hold = onTwosOf(study, hips);
  const held = heldOf(study, hips);
  let first = from;
  while (first < to && held[first] === 1) first++;
  const count = Math.floor((to - first) / hold) + 1;
  if (count < fewestPoses) return null;
  const heights = (path: Float64Array, start: number) =>
    Float64Array.from({ length: count }, (_, pose) => path[3 * (start + hold * pose) + 1]);
  const fitted = (poses: Float64Array) => fitParabola(poses, 0, count - 1, dt * hold, 1, 0);
  const poses = heights(massCentreOf(study, figure), first);
  const fit = fitted(poses);
  if (fit === null) return null;
  const { off, pose } = largestStray(poses, fit, dt * hold);
  return {
    residual: fit.residual,
    off,
    at: first + hold * pose,
    residualOf: (path) => fitted(heights(path, first - from))?.residual ?? 0,
  };
}

function largestStray(heights: Float64Array, fit: Parabola, dt: number): { off: number; pose: number } {
  let off = 0;
  let pose = 0;
  for (let i = 0; i < heights.length; i++) {
    const t = (i - fit.middle) * dt;
    const stray = heights[i] - (fit.height + fit.speed * t - 0.5 * fit.gravity * t * t);
    if (Math.abs(stray) <= Math.abs(off)) continue;
    off = stray;
    pose = i;
  }
  return { off, pose };
}
