import type { Recompute } from "../shared/compare.ts";
import { distance, dot, range, sub } from "../shared/geometry.ts";

/**
 * How far a hand is ahead, along the way on which it strikes out, of where it sets out; or by how much the hips, or the centre of mass, go down to their lowest before the take-off, from
 * their highest before that.
 */
export const recompute: Recompute = (note, shot) => {
  const [from, leaves] = shot.spanOf(note);
  const hips = shot.nodeOf(note);
  if (note.measured.quantity.includes("strikes out")) {
    const [before, out] = [shot.at(hips, leaves - 1), shot.at(hips, leaves)];
    const way = sub(out, before);
    const ahead = (i: number) => dot(sub(shot.at(hips, i), before), way) / distance(out, before);
    return Math.max(0, ...range(from, leaves - 1).map(ahead));
  }
  const ofMass = note.measured.quantity.includes("centre of mass");
  const height = (i: number) => (ofMass ? shot.massCentre(shot.figureOf(hips), i) : shot.at(hips, i))[1];
  const first = Math.max(from, leaves - Math.round(0.8 * shot.rate));
  const lowest = range(first, leaves - 1).reduce(
    (low, i) => (height(i) <= height(low) - 1e-6 ? i : low),
    leaves - 1,
  );
  return Math.max(...range(from, lowest).map(height)) - height(lowest);
};
