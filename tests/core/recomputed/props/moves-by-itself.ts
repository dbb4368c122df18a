import { pathsOf, solidsOf } from "../../../../packages/core/staging/solids.ts";
import type { Recompute } from "../shared/compare.ts";
import { distance, range, type Vec } from "../shared/geometry.ts";

/**
 * The note goes from the last frame of rest, or in which a body was at the thing, to the first in which a body is at it or is
 * said to be. Its length is held against the frames in which the thing goes on: it moves in each.
 */
export const recompute: Recompute = (note, shot) => {
  const thing = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const points = solidsOf(shot.whole)
    .filter(({ node }) => node === thing)
    .flatMap((solid) => pathsOf(shot.whole, solid));
  const at = (path: Float64Array, i: number): Vec => [path[3 * i], path[3 * i + 1], path[3 * i + 2]];
  return range(from + 1, to).filter((i) => points.some((path) => distance(at(path, i), at(path, i - 1)) > 0))
    .length;
};
