import { eulerToQuaternion, multiplyQuaternions } from "../base/quaternion.ts";
import type { Study } from "../base/study.ts";
import { chainOf, rigOf } from "./rig.ts";

/**
 * The turn of a node in the rest pose: what is measured there is told in the node's own axes by its inverse.
 * @param node rig index
 * @returns unit quaternion (x, y, z, w), in the document's axes
 */
export function restOrientation(study: Study, node: number): Float64Array {
  const rig = rigOf(study);
  const turn = Float64Array.of(0, 0, 0, 1);
  const own = new Float64Array(4);
  for (const at of chainOf(rig, node)) {
    const [x, y, z] = rig.restRotation.subarray(3 * at, 3 * at + 3);
    eulerToQuaternion(rig.order[at], x, y, z, own, 0);
    multiplyQuaternions(turn, 0, rig.fixedRotation, 4 * at, turn, 0);
    multiplyQuaternions(turn, 0, own, 0, turn, 0);
  }
  return turn;
}
