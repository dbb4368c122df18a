import { measure } from "../study/study.ts";
import { worldOf } from "./pose.ts";
import { rigOf } from "./rig.ts";

/**
 * How far the parts that hang on a node reach from it, in metres: the distance to its furthest child in the first
 * judged frame, or to its parent for the end of a chain. Turns an angle into what is seen of it.
 */
export const reachOf = measure<number, number>(
  "reach",
  (study, node) => {
    const rig = rigOf(study);
    const near =
      rig.children[node].length > 0 ? rig.children[node] : rig.parent[node] >= 0 ? [rig.parent[node]] : [];
    const here = worldOf(study, node).position;
    let furthest = 0;
    for (const other of near) {
      const there = worldOf(study, other).position;
      furthest = Math.max(furthest, Math.hypot(there[0] - here[0], there[1] - here[1], there[2] - here[2]));
    }
    return furthest;
  },
  (before, after) => Math.abs(before - after) <= 1e-9 * before,
);
