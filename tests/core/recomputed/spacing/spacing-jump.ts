import type { Recompute } from "../shared/compare.ts";
import { carrierIn, paceOf } from "../shared/paces.ts";

/** The step to the pose that is named over the step from it, or the reverse. */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const kind = note.message.includes("°") ? "turn" : "travel";
  const { poses, steps } = paceOf(shot, node, kind, carrierIn(shot, node, note.message));
  const at = poses.indexOf(shot.spanOf(note)[0]);
  return Math.max(steps[at] / steps[at + 1], steps[at + 1] / steps[at]);
};
