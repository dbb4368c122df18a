import type { Recompute } from "../shared/compare.ts";
import { angleOf, toDegrees } from "../shared/geometry.ts";
import { paceOf } from "../shared/paces.ts";

/** Angle between the step to the pose that is named and the step from it. */
export const recompute: Recompute = (note, shot) => {
  const { poses, ways } = paceOf(shot, shot.nodeOf(note), "travel");
  const at = poses.indexOf(shot.spanOf(note)[0]);
  return toDegrees(angleOf(ways[at], ways[at + 1]));
};
