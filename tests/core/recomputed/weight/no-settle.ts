import type { Recompute } from "../shared/compare.ts";
import { range } from "../shared/geometry.ts";

/** How far the hips, or the centre of mass, sink from the last frame in the air to their lowest within 0.4 s. */
export const recompute: Recompute = (note, shot) => {
  const [from] = shot.spanOf(note);
  const hips = shot.nodeOf(note);
  const last = Math.min(shot.count - 1, Math.floor(from + 1 + 0.4 * shot.rate));
  const ofMass = note.measured.quantity.includes("centre of mass");
  const height = (i: number) => (ofMass ? shot.massCentre(shot.figureOf(hips), i) : shot.at(hips, i))[1];
  const heights = range(from + 1, last).map(height);
  return height(from) - Math.min(...heights);
};
