import type { Recompute } from "../shared/compare.ts";
import { toDegrees } from "../shared/geometry.ts";
import { carrierIn, paceOf } from "../shared/paces.ts";

/** The longest of the steps to the poses that are marked, per frame. */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const turns = note.measured.unit === "deg";
  const kind = turns ? "turn" : "travel";
  const { poses, steps } = paceOf(shot, node, kind, carrierIn(shot, node, note.message));
  const [from, to] = shot.spanOf(note);
  const most = Math.max(...steps.filter((_, k) => poses[k] >= from && poses[k] <= to));
  return turns ? toDegrees(most) : most;
};
