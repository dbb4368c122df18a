import type { Recompute } from "../shared/compare.ts";
import { range } from "../shared/geometry.ts";

/** By how much the hips, or the centre of mass, go down to their lowest before the take-off, from their highest before that. */
export const recompute: Recompute = (note, shot) => {
  const [from, leaves] = shot.spanOf(note);
  const hips = shot.nodeOf(note);
  const ofMass = note.measured.quantity.includes("centre of mass");
  const height = (i: number) => (ofMass ? shot.massCentre(shot.figureOf(hips), i) : shot.at(hips, i))[1];
  const first = Math.max(from, leaves - Math.round(0.8 * shot.rate));
  const lowest = range(first, leaves - 1).reduce(
    (low, i) => (height(i) <= height(low) - 1e-6 ? i : low),
    leaves - 1,
  );
  return Math.max(...range(from, lowest).map(height)) - height(lowest);
};
