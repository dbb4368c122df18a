import type { Recompute } from "../shared/compare.ts";

/** The farthest that a key of the curve, within the note's frames, stands from a whole frame. */
export const recompute: Recompute = ({ keys: [key], frames: [from, to] }, shot) => {
  const { frames } = shot.curve(key.node, key.channel);
  const within = [...frames].filter((frame) => Math.round(frame) >= Math.floor(from) && frame <= to + 1);
  return Math.max(...within.map((frame) => Math.abs(frame - Math.round(frame))));
};
