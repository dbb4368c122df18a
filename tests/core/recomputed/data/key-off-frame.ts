import { interpolations } from "@keyside/core";
import type { Recompute } from "../shared/compare.ts";

/**
 * The farthest that a key of the node's curves, within the note's frames, stands from a whole frame. One of two keys
 * within a frame is another check's, unless the first is a step key, which may be followed at once.
 */
export const recompute: Recompute = ({ keys: [key], frames: [from, to] }, shot) => {
  const curves = shot.curvesOf(shot.rig.indexOf.get(key.node) ?? -1);
  const within = curves
    .flatMap(({ frames, modes }) =>
      [...frames].filter(
        (frame, i) => i === 0 || interpolations[modes[i - 1]] === "step" || frame - frames[i - 1] >= 0.95,
      ),
    )
    .filter((frame) => Math.round(frame) >= Math.floor(from) && frame <= to + 1);
  return Math.max(...within.map((frame) => Math.abs(frame - Math.round(frame))));
};
