import type { Recompute } from "../shared/compare.ts";

/** Frames between the closest two keys of any curve of the node, within the note's frames. */
export const recompute: Recompute = ({ keys: [key], frames: [from, to] }, shot) => {
  const curves = shot.curvesOf(shot.rig.indexOf.get(key.node) ?? -1);
  const gaps = curves.flatMap(({ frames }) =>
    [...frames].flatMap((frame, i) =>
      i > 0 && frames[i - 1] >= from - 0.5 && frame <= to + 0.5 ? [frame - frames[i - 1]] : [],
    ),
  );
  return Math.min(...gaps);
};
