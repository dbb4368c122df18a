import type { Note } from "@keyside/core";
import type { Recompute } from "../shared/compare.ts";
import { distance, dot, range, sub } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";

/**
 * How far a hand is ahead, along the way on which it strikes out, of where it sets out; or by how much the hips, or the centre of mass, go down to their lowest before the take-off, from
 * their highest before that; or for how long they are below half of that, or a leg is bent by half of what it extends.
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
  if (note.measured.quantity.startsWith("time")) return timeCrouched(note, shot);
  const ofMass = note.measured.quantity.includes("centre of mass");
  const height = (i: number) => (ofMass ? shot.massCentre(shot.figureOf(hips), i) : shot.at(hips, i))[1];
  const first = Math.max(from, leaves - Math.round(0.8 * shot.rate));
  const lowest = range(first, leaves - 1).reduce(
    (low, i) => (height(i) <= height(low) - 1e-6 ? i : low),
    leaves - 1,
  );
  return Math.max(...range(from, lowest).map(height)) - height(lowest);
};

/** Seconds within the 0.8 s before the take-off. */
function timeCrouched(note: Note, shot: Sampled): number {
  const [, leaves] = shot.spanOf(note);
  const hips = shot.nodeOf(note);
  const first = Math.max(0, leaves - Math.round(0.8 * shot.rate));
  const samples = range(first, leaves - 1);
  const height = (i: number) => shot.at(hips, i)[1];
  const lowest = samples.reduce((low, i) => (height(i) < height(low) - 1e-6 ? i : low), leaves - 1);
  const earlier = range(Math.max(0, lowest - Math.round(0.6 * shot.rate)), lowest).map(height);
  const half = (Math.max(...earlier) + height(lowest)) / 2;
  const isDown = Math.max(...earlier) - height(lowest) >= 0.05 * shot.stature(hips);
  const down = isDown ? samples.filter((i) => height(i) <= half).length : 0;
  const bent = ["left", "right"].map((side) => {
    const [thigh, foot] = ["Thigh", "Foot"].map((part) => shot.part(hips, `${side}${part}`));
    const reach = (i: number) => distance(shot.at(thigh, i), shot.at(foot, i));
    const least = Math.min(...samples.map(reach));
    const share = (reach(leaves - 1) - least) / reachOf(shot, hips, side);
    const count = samples.filter((i) => reach(i) <= (reach(leaves - 1) + least) / 2).length;
    return { share, count };
  });
  const [most] = bent.sort((a, b) => b.share - a.share);
  const onLegs = most.share >= 0.1 ? most.count : 0;
  return Math.max(down, onLegs) / shot.rate;
}

/** Length of the bones of a leg. */
function reachOf(shot: Sampled, hips: number, side: string): number {
  const [thigh, shin, foot] = ["Thigh", "Shin", "Foot"].map((part) =>
    shot.at(shot.part(hips, `${side}${part}`), 0),
  );
  return distance(thigh, shin) + distance(shin, foot);
}
