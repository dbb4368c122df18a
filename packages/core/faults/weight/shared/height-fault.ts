import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import type { PointOverSurface } from "../../../motion/ground/sole-heights.ts";
import { heightsOver, type Surface } from "../../../motion/ground/surface.ts";
import { worldOf } from "../../../rig/pose.ts";
import type { Span } from "../../../time/span.ts";
import type { Fault } from "../../check.ts";

/**
 * A fault of how high a foot is over a surface.
 * @param points of its sole
 * @param measured from the heights of its lowest point over the run
 * @param name of what `measured` computes, which must hang on nothing else
 */
export function heightFault(
  study: Study,
  surface: Surface,
  points: readonly PointOverSurface[],
  { from, to }: Span,
  measured: (heights: Float64Array) => number,
  name: string,
): Fault {
  const [first, ...others] = points;
  // The sole is as thick under each joint as it is there now.
  const soles = points.map(({ node, height }) => {
    const path = worldOf(study, node).position;
    return heightsOver(surface, path.subarray(3 * from, 3 * from + 3))[0] - height[from];
  });
  const lowest = floats(to - from + 1);
  return {
    kind: "position",
    subject: first.node,
    others: others.map(({ node }) => node),
    lo: from,
    hi: to,
    from,
    to,
    sees: [name, surface.height, surface.normal, soles],
    strength: (path, paths) => {
      lowest.fill(Number.POSITIVE_INFINITY);
      lower(lowest, surface, path, soles[0]);
      for (let k = 0; k < paths.length; k++) lower(lowest, surface, paths[k], soles[k + 1]);
      return measured(lowest);
    },
  };
}

/** Lowers heights to those of the sole under a joint, where these are lower; trials ask hundreds of times. */
function lower(lowest: Float64Array, { normal, height }: Surface, path: Float64Array, sole: number): void {
  for (let i = 0, k = 0; i < lowest.length; i++, k += 3) {
    const over = path[k] * normal[0] + path[k + 1] * normal[1] + path[k + 2] * normal[2] - height;
    lowest[i] = Math.min(lowest[i], over - sole);
  }
}
