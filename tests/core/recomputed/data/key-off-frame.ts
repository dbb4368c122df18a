import type { Recompute } from "../shared/compare.ts";

/** The farthest that a key of the node's curves, within the note's frames, stands from a whole frame. */
export const recompute: Recompute = ({ keys: [key], frames: [from, to] }, shot) => {
  const curves = shot.curvesOf(shot.rig.indexOf.get(key.node) ?? -1);
  const within = curves
    .flatMap(({ frames }) => [...frames].filter((frame, i) => frame - frames[i - 1] >= 0.95 || !(i > 0)))
    .filter((frame) => Math.round(frame) >= Math.floor(from) && frame <= to + 1);
  return Math.max(...within.map((frame) => Math.abs(frame - Math.round(frame))));
};
