import { tangents, unroll } from "../../base/rotation-vector.ts";
import { changedSamples, everywhere, type Measure, patchedMeasure, type Study } from "../../base/study.ts";
import { worldTurnOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { shownOf } from "./shown.ts";

/**
 * How a node turns in the world, unrolled into a path of rotation vectors (radians), 3 numbers per shown pose; null
 * where nothing turns. Only local shapes may be read from it; see {@link tangents}.
 */
export const turnPathOf: Measure<number, Float64Array | null> = patchedMeasure(
  "turn path",
  (study, node: number): Float64Array | null => {
    if (isStill(study, node)) return null;
    const shown = shownOf(study, node);
    const path = pathAbove(study, node, shown.length);
    return path === undefined ? tangents(worldTurnOf(study, node).orientation, shown) : path;
  },
  // Paths count poses, which are samples only where both show all of them.
  (a, b) =>
    a === null && b === null ? null : (a?.length === b?.length && changedSamples(a, b, 3)) || everywhere,
  (study, node, path, from, to) => {
    const shown = shownOf(study, node);
    const { count } = gridOf(study);
    if (path === null || shown.length !== count || path.length !== 3 * count || isStill(study, node))
      return undefined;
    const above = pathAbove(study, node, count);
    if (above !== undefined) return above === path ? [from, to] : undefined;
    const { orientation } = worldTurnOf(study, node);
    const end = unroll(orientation, shown, path, from, Math.min(count - 1, to + 1));
    // Where nothing turns any more there is no path.
    if (end < 0 && tangents(orientation, shown) === null) return undefined;
    return [from, Math.abs(end) - 1];
  },
);

function isStill(study: Study, node: number): boolean {
  return worldTurnOf(study, node).still;
}

/** The path of the parent, where a node has no turn of its own: what its parent shows is what it shows. */
function pathAbove(study: Study, node: number, poses: number): Float64Array | null | undefined {
  const above = rigOf(study).parent[node];
  if (above < 0 || worldTurnOf(study, above).orientation !== worldTurnOf(study, node).orientation)
    return undefined;
  const path = turnPathOf(study, above);
  return path === null || path.length === 3 * poses ? path : undefined;
}
