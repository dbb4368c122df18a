import { tangents } from "../../base/rotation-vector.ts";
import { type Measure, measure } from "../../base/study.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { shownOf } from "./shown.ts";

/**
 * How a node turns in the world, unrolled into a path of rotation vectors (radians), 3 numbers per shown pose; null
 * where nothing turns. Only local shapes may be read from it; see {@link tangents}.
 */
export const turnPathOf: Measure<number, Float64Array | null> = measure(
  "turn path",
  (study, node: number): Float64Array | null => {
    const world = worldOf(study, node);
    if (world.still) return null;
    const shown = shownOf(study, node);
    const above = rigOf(study).parent[node];
    if (above >= 0 && worldOf(study, above).orientation === world.orientation) {
      // The node has no turn of its own: what its parent shows is what it shows.
      const path = turnPathOf(study, above);
      if (path === null || path.length === 3 * shown.length) return path;
    }
    return tangents(world.orientation, shown);
  },
);
