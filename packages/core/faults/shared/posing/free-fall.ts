import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { gridOf } from "../../../time/grid.ts";
import { shiftedNode } from "./node-shift.ts";

/**
 * The hips' height, and all that hangs on them, so that the centre of mass is on the parabola from where it is at sample
 * `first` to where it is at sample `last`. Gravity in m/s².
 */
export function inFreeFall(
  study: Study,
  figure: number,
  first: number,
  last: number,
  gravity: number,
): KeyEdit[] {
  const { dt, count } = gridOf(study);
  const path = massCentreOf(study, figure);
  const [start, end] = [path[3 * first + 1], path[3 * last + 1]];
  const time = (last - first) * dt;
  const way = new Float64Array(3 * count);
  for (let i = first + 1; i < last; i++) {
    const t = (i - first) * dt;
    const height = start + ((end - start) * t) / time + 0.5 * gravity * t * (time - t);
    way[3 * i + 1] = height - path[3 * i + 1];
  }
  return shiftedNode(study, hipsOf(study, figure), { lo: 0, hi: count - 1 }, way);
}
