import type { Recompute } from "../shared/compare.ts";
import { mean } from "../shared/geometry.ts";
import { carrierIn, paceOf } from "../shared/paces.ts";

/** Standard deviation over mean of the steps of the move that is marked, but for the first and the last. */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const kind = note.message.includes(" turns ") ? "turn" : "travel";
  const { poses, steps } = paceOf(shot, node, kind, carrierIn(shot, node, note.message));
  const [from, to] = shot.spanOf(note).map((sample) => poses.indexOf(sample));
  const inner = steps.slice(from + 2, to);
  const middle = mean(inner);
  return Math.sqrt(mean(inner.map((step) => (step - middle) ** 2))) / middle;
};
