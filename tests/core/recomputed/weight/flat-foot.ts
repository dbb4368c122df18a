import type { Recompute } from "../shared/compare.ts";
import { angleOf, range, sub, toDegrees } from "../shared/geometry.ts";
import { soleAt, soleShift } from "../shared/sole.ts";

/** The largest angle, over the frames that are marked, between the surface's normal and the line from the sole to the ankle. */
export const recompute: Recompute = (note, shot) => {
  const ankle = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const normal = shot.normalUnder(ankle, from);
  const shift = soleShift(shot, ankle);
  const tilts = range(from, to).map((i) =>
    angleOf(sub(shot.at(ankle, i), soleAt(shot, ankle, shift, i)), normal),
  );
  return toDegrees(Math.max(...tilts));
};
