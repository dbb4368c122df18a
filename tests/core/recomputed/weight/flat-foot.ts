import type { Recompute } from "../shared/compare.ts";
import { angleOf, range, toDegrees, turned } from "../shared/geometry.ts";
import { soleUp } from "../shared/sole.ts";

/** The largest angle, over the frames that are marked, between the surface's normal and what is up for the foot as it lies flat. */
export const recompute: Recompute = (note, shot) => {
  const ankle = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const normal = shot.normalUnder(ankle, from);
  const up = soleUp(shot, ankle);
  const tilts = range(from, to).map((i) => angleOf(turned(shot.turn(ankle, i), up), normal));
  return toDegrees(Math.max(...tilts));
};
