import type { Recompute } from "../shared/compare.ts";
import { dot, mean, range, sub, type Vec } from "../shared/geometry.ts";
import { inBody } from "../shared/in-body.ts";

/**
 * Correlation of the steps of the left hand and the mirrored right one, seen from the chest: of the half second of the
 * note's frames around each frame in which it is highest, as a mean over the note's frames.
 */
export const recompute: Recompute = (note, shot) => {
  const arm = shot.nodeOf(note);
  const hand = (side: string) => shot.parts(arm, `${side}Hand`)[0] ?? shot.part(arm, `${side}Forearm`);
  const [from, to] = shot.spanOf(note);
  const left = inBody(shot, hand("left"));
  const right = inBody(shot, hand("right"));
  const mirrored = (i: number): Vec => [-right(i)[0], right(i)[1], right(i)[2]];
  const steps = range(from + 1, to).map((i) => ({
    left: sub(left(i), left(i - 1)),
    right: sub(mirrored(i), mirrored(i - 1)),
  }));
  const window = Math.max(4, Math.floor((12 * shot.rate) / 24 + 0.01));
  const correlation = (first: number) => {
    let [both, l, r] = [0, 0, 0];
    for (const step of steps.slice(first, first + window)) {
      both += dot(step.left, step.right);
      l += dot(step.left, step.left);
      r += dot(step.right, step.right);
    }
    return both / Math.sqrt(l * r);
  };
  const correlations = range(0, steps.length - window).map(correlation);
  return mean(steps.map((_, k) => Math.max(...correlations.slice(Math.max(0, k - window + 1), k + 1))));
};
