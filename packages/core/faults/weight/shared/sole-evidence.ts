import type { Evidence } from "../../../base/measured.ts";
import type { Study } from "../../../base/study.ts";
import type { PointOverSurface } from "../../../motion/ground/sole-heights.ts";
import { gridOf } from "../../../time/grid.ts";

/** How high the lowest point of a sole is over its surface, from one sample to another: what its note speaks of. */
export function soleEvidence(
  study: Study,
  points: readonly PointOverSurface[],
  from: number,
  to: number,
): Evidence {
  const { frames, step } = gridOf(study);
  const values: number[] = [];
  for (let i = from; i <= to; i++) {
    let lowest = Number.POSITIVE_INFINITY;
    for (const { height } of points) lowest = Math.min(lowest, height[i]);
    values.push(lowest);
  }
  return {
    label: "height of the lowest point of the sole over the surface",
    unit: "m",
    firstFrame: frames[from],
    step,
    values,
  };
}
