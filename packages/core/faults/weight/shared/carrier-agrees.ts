import { standardGravity } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import type { Flight } from "../../../motion/body/flight.ts";
import { type Brake, type FreeFall, liftAt } from "../../../motion/body/free-fall.ts";
import { fitParabola } from "../../../motion/body/parabola.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";

/**
 * No table says how the mass of a body that is no human is spread: its centre of mass is a guess, and legs that swing
 * move it. What is told of such a body's fall has to be seen of the middle of its trunk as well, where most of any body's mass is.
 */
function hasGuessedMass(study: Study, figure: number): boolean {
  return figuresOf(study)[figure].kind !== "human";
}

/** Path of the middle of the trunk: between the hips and the top of the chest, where a body has one. */
function trunkPath(study: Study, figure: number): Float64Array {
  const hips = worldOf(study, hipsOf(study, figure)).position;
  const chest = figuresOf(study)[figure].parts.get("chest")?.at(-1);
  if (chest === undefined) return hips;
  const top = worldOf(study, chest).position;
  return hips.map((value, k) => (value + top[k]) / 2);
}

const because = "the trunk does not show it, and how the mass of this body is spread is a guess";

/** Whether the trunk is braked as well, on the mean over the frames of a brake, where masses are a guess. */
export function trunkBrakes(
  study: Study,
  figure: number,
  { own, reach }: FreeFall,
  { from, to }: Brake,
  limit: number,
): boolean {
  if (!hasGuessedMass(study, figure)) return true;
  const { dt } = gridOf(study);
  const hips = hipsOf(study, figure);
  const path = trunkPath(study, figure);
  let sum = 0;
  for (let i = from; i <= to; i++) sum += liftAt(path, i, reach, dt) - own;
  const brakes = sum > limit * (to - from + 1);
  if (!brakes) excused(hips, from, to, because);
  return brakes;
}

/** Whether the trunk falls too fast, or too slowly, as its flight does, where masses are a guess. */
export function trunkFalls(study: Study, figure: number, flight: Flight, tolerance: number): boolean {
  if (!hasGuessedMass(study, figure)) return true;
  const { from, to, gravity } = flight;
  const hips = hipsOf(study, figure);
  const own = fitParabola(trunkPath(study, figure), from, to, gridOf(study).dt)?.gravity ?? 0;
  const falls =
    gravity > standardGravity ? own > standardGravity * tolerance : own * tolerance < standardGravity;
  if (!falls) excused(hips, from, to, because);
  return falls;
}

/** Whether the trunk's level course bends as far in the air, m/s², where masses are a guess. */
export function trunkDrifts(study: Study, figure: number, { from, to }: Flight, limit: number): boolean {
  if (!hasGuessedMass(study, figure)) return true;
  const hips = hipsOf(study, figure);
  const path = trunkPath(study, figure);
  const { dt } = gridOf(study);
  const x = fitParabola(path, from, to, dt, 3, 0)?.gravity ?? 0;
  const z = fitParabola(path, from, to, dt, 3, 2)?.gravity ?? 0;
  const drifts = Math.hypot(x, z) > limit;
  if (!drifts) excused(hips, from, to, because);
  return drifts;
}
