import type { Recompute } from "../shared/compare.ts";
import { range } from "../shared/geometry.ts";

/** By how much the hips, or the centre of mass, rise from their lowest within 0.8 s to the first frame in the air. */
export const recompute: Recompute = (note, shot) => {
  const [, leaves] = shot.spanOf(note);
  const hips = shot.nodeOf(note);
  const first = Math.max(0, leaves - Math.round(0.8 * shot.rate));
  const ofMass = note.measured.quantity.includes("centre of mass");
  const height = (i: number) => (ofMass ? shot.massCentre(shot.figureOf(hips), i) : shot.at(hips, i))[1];
  const heights = range(first, leaves - 1).map(height);
  return height(leaves) - Math.min(...heights);
};
