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
 * Heights of the lowest point of a person's foot over a surface, metres, less what its tilt explains. Known by its ankle alone
 * and tilted by an angle, it stands on its toes: the ankle is higher by the sine of the angle times the length of the foot ahead
 * of it. With its ball, or its toes, higher than its ankle it stands on the back of its heel, a quarter of its length behind
 * the ankle: as far as the back of the heel is lower than the ankle then. Any other foot as it is.
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
  if (figuresOf(study)[figure].kind !== "human") return heights;
  if (foot.points.length > 1) return heightsOverHeel(study, figure, foot, { from, to });
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

/** Heights of the lowest point of a foot with a joint ahead of its ankle, less what the back of its heel reaches lower. */
function heightsOverHeel(
  study: Study,
  figure: number,
  foot: FootOverSurface,
  { from, to }: Span,
): Float64Array {
  const lowest = lowestOf(foot);
  const unrolled = floats(to - from + 1);
  const behind = heelShare * lengthShare.foot * statureOf(study, figure);
  const [ankle, front] = foot.points;
  const [back, ahead] = [ankle, front].map(({ node }) => worldOf(study, node).position);
  for (let i = from; i <= to; i++) {
    const k = 3 * i;
    const length = lengthOf(ahead[k] - back[k], ahead[k + 1] - back[k + 1], ahead[k + 2] - back[k + 2]);
    const sine = length > 0 ? (front.height[i] - ankle.height[i]) / length : 0;
    unrolled[i - from] = lowest[i] - behind * Math.min(1, Math.max(0, sine));
  }
  return unrolled;
}
