import { conjugate, rotateVector } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Channel } from "../../../document/model.ts";
import { outerWorldOf, worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import { metresPerUnitOf } from "../../../rig/stature.ts";
import { trackOf } from "../keying/track.ts";
import { offsetTrack, type Samples } from "./offsets.ts";

/**
 * Edits that shift a node, and all that hangs on it, through the world.
 * @param way 3 numbers per sample from lo to hi, metres; none at both ends unless the range ends there
 * @param loose see `Laying`
 */
export function shiftedNode(
  study: Study,
  node: number,
  { lo, hi }: Samples,
  way: Float64Array,
  loose = 1,
): KeyEdit[] {
  const up = rigOf(study).parent[node];
  const outer = up < 0 ? outerWorldOf(study, undefined) : worldOf(study, up);
  const metres = metresPerUnitOf(study);
  const count = hi - lo + 1;
  const amounts = [new Float64Array(count), new Float64Array(count), new Float64Array(count)];
  const local = new Float64Array(3);
  for (let i = 0; i < count; i++) {
    const back = conjugate(outer.orientation, 4 * (lo + i));
    rotateVector(back, 0, way, 3 * i, local, 0);
    // Turning leaves traces of the one axis in the others.
    const least = 1e-9 * Math.hypot(local[0], local[1], local[2]);
    for (let k = 0; k < 3; k++) amounts[k][i] = Math.abs(local[k]) <= least ? 0 : local[k] / metres;
  }
  return ["x", "y", "z"].flatMap((axis, k) =>
    offsetTrack(study, trackOf(study, node, `translation.${axis}` as Channel), { lo, hi }, amounts[k], loose),
  );
}
