import type { Recompute } from "../shared/compare.ts";
import { dot, range, sub, sum, type Vec } from "../shared/geometry.ts";
import { inBody } from "../shared/in-body.ts";

/** Correlation of the steps of the left hand and the mirrored right one, seen from the chest, over the note's frames. */
export const recompute: Recompute = (note, shot) => {
  const arm = shot.nodeOf(note);
  const hand = (side: string) => shot.parts(arm, `${side}Hand`)[0] ?? shot.part(arm, `${side}Forearm`);
  const [from, to] = shot.spanOf(note);
  const [left, right] = [inBody(shot, hand("left")), inBody(shot, hand("right"))];
  const mirrored = (i: number): Vec => [-right(i)[0], right(i)[1], right(i)[2]];
  const steps = range(from + 1, to).map((i) => [
    sub(left(i), left(i - 1)),
    sub(mirrored(i), mirrored(i - 1)),
  ]);
  const product = (one: 0 | 1, other: 0 | 1) => sum(steps.map((step) => dot(step[one], step[other])));
  return product(0, 1) / Math.sqrt(product(0, 0) * product(1, 1));
};
