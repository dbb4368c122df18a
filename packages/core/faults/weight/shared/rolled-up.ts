import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { type FootOverSurface, lowestOf } from "../../../motion/ground/sole-heights.ts";
import { solePathOf } from "../../../motion/ground/sole-path.ts";
import { heelShare } from "../../../motion/ground/soles.ts";
import type { Surface } from "../../../motion/ground/surface.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { lengthShare } from "../../../rig/proportions.ts";
import type { Span } from "../../../time/span.ts";

/**
 * Heights of the lowest point of a foot over a surface, metres, less what a roll onto its toes explains. That concerns a
 * person's foot that is known by its ankle alone: tilted by an angle, it stands on its toes, and the ankle is higher by
 * the sine of the angle times the length of the foot ahead of it. Any other foot as it is.
 * @param samples of which the heights are wanted; one number for each
 */
export function heightsUnrolled(
  study: Study,
  figure: number,
  foot: FootOverSurface,
  { normal: [nx, ny, nz] }: Surface,
  { from, to }: Span,
): Float64Array {
  const heights = lowestOf(foot).subarray(from, to + 1);
  if (foot.points.length > 1 || figuresOf(study)[figure].kind !== "human") return heights;
  const joint = worldOf(study, foot.ankle).position;
  const sole = solePathOf(study, foot.ankle);
  if (sole === joint) return heights;
  const ahead = (1 - heelShare) * lengthShare.foot * statureOf(study, figure);
  const unrolled = floats(heights.length);
  for (let i = from; i <= to; i++) {
    const k = 3 * i;
    const x = joint[k] - sole[k];
    const y = joint[k + 1] - sole[k + 1];
    const z = joint[k + 2] - sole[k + 2];
    const cosine = (x * nx + y * ny + z * nz) / lengthOf(x, y, z);
    unrolled[i - from] = heights[i - from] - ahead * Math.sqrt(Math.max(0, 1 - cosine * cosine));
  }
  return unrolled;
}
