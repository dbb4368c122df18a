import type { Recompute } from "../shared/compare.ts";

/** Frames between the two keys that are named. */
export const recompute: Recompute = ({ keys: [one, other] }, shot) => {
  const { frames } = shot.curve(one.node, one.channel);
  return Math.abs(frames[one.index] - frames[other.index]);
};
