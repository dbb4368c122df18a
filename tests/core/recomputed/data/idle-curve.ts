import type { Recompute } from "../shared/compare.ts";

/** Keys of the node's curves that hold one value throughout, of three keys and more. */
export const recompute: Recompute = ({ keys: [key] }, shot) => {
  const idle = shot
    .curvesOf(shot.rig.indexOf.get(key.node) ?? -1)
    .filter(
      ({ frames, values, width }) =>
        frames.length >= 3 && values.every((value, i) => Math.abs(value - values[i % width]) <= 1e-6),
    );
  return idle.reduce((sum, { frames }) => sum + frames.length, 0);
};
