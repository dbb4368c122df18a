import type { Note } from "@keyside/core";
import type { Recompute } from "../shared/compare.ts";
import { distance, range } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";

/**
 * How far the hips, or the centre of mass, sink from the last frame in the air to their lowest within 0.4 s; or how far the straighter of the legs on the ground is bent.
 */
export const recompute: Recompute = (note, shot) => {
  const [from, to] = shot.spanOf(note);
  const hips = shot.nodeOf(note);
  if (note.measured.quantity.startsWith("bend of the legs")) return bendOfLegs(note, shot, to);
  const last = Math.min(shot.count - 1, Math.floor(from + 1 + 0.4 * shot.rate));
  const ofMass = note.measured.quantity.includes("centre of mass");
  const height = (i: number) => (ofMass ? shot.massCentre(shot.figureOf(hips), i) : shot.at(hips, i))[1];
  const heights = range(from + 1, last).map(height);
  return height(from) - Math.min(...heights);
};

function bendOfLegs(note: Note, shot: Sampled, at: number): number {
  const hips = shot.nodeOf(note);
  const bends = ["left", "right"].flatMap((side) => {
    const [thigh, shin, foot] = ["Thigh", "Shin", "Foot"].map((part) => shot.part(hips, `${side}${part}`));
    const stands = shot
      .contacts(shot.figureOf(hips))
      .some(({ node, from, to }) => node === foot && from <= at && at <= to);
    const bones =
      distance(shot.at(thigh, at), shot.at(shin, at)) + distance(shot.at(shin, at), shot.at(foot, at));
    return stands ? [bones - distance(shot.at(thigh, at), shot.at(foot, at))] : [];
  });
  return Math.min(...bends);
}
