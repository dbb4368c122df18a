import type { Recompute } from "../shared/compare.ts";
import { angleOf, toDegrees } from "../shared/geometry.ts";
import { carrierIn, paceOf } from "../shared/paces.ts";

/** Angle between the step to the pose that is named and the step from it, in the world or against what carries the part. */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const { poses, ways } = paceOf(shot, node, "travel", carrierIn(shot, node, note.message));
  const at = poses.indexOf(shot.spanOf(note)[0]);
  return toDegrees(angleOf(ways[at], ways[at + 1]));
};
