import type { Note } from "@keyside/core";
import type { Recompute } from "../shared/compare.ts";
import { angleBetween, dot, mean, range, sub, sum, type Vec } from "../shared/geometry.ts";
import { inBody } from "../shared/in-body.ts";
import type { Sampled } from "../shared/sampled.ts";

/** The hands of one figure, or when several figures act. */
export const recompute: Recompute = (note, shot) =>
  note.measured.quantity.includes("figures") ? alikeInTime(note, shot) : alikeArms(note, shot);

/** Correlation of the steps of the left hand and the mirrored right one, seen from the chest, over the note's frames. */
function alikeArms(note: Note, shot: Sampled): number {
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
}

/** The least correlation of the first figure with another, of the roots of what their joints turn to each frame of the shot. */
function alikeInTime(note: Note, shot: Sampled): number {
  const actions = note.seenAt.map((id) => {
    const { parts } = shot.figures[shot.figureOf(shot.node(id))];
    const joints = [...parts]
      .filter(([part]) => part !== "root" && !/Fingers|Toes/.test(part))
      .map(([, nodes]) => nodes[0]);
    const turn = (node: number, i: number) => shot.turnIn(node, shot.rig.parent[node], i);
    return range(0, shot.count - 1).map((i) =>
      i === 0 ? 0 : Math.sqrt(sum(joints.map((node) => angleBetween(turn(node, i - 1), turn(node, i))))),
    );
  });
  const about = actions.map((action) => action.map((value) => value - mean(action)));
  const product = (a: readonly number[], b: readonly number[]) => sum(a.map((value, i) => value * b[i]));
  const [first, ...others] = about;
  return Math.min(
    ...others.map(
      (other) => product(first, other) / Math.sqrt(product(first, first) * product(other, other)),
    ),
  );
}
