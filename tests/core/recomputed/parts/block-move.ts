import type { Recompute } from "../shared/compare.ts";
import { range } from "../shared/geometry.ts";
import { axisAndAngle, inFrame, twistRange, twists } from "../shared/twist.ts";

/**
 * The most that pelvis, chest and head turn against each other, or head and chest where a head rides on its chest, in
 * the frames that are marked, about the axis of the
 * chest's turn; over what the chest's speed changes by there.
 */
export const recompute: Recompute = (note, shot) => {
  const chest = shot.nodeOf(note);
  const [hips, head] = [shot.hips(chest), shot.part(chest, "head")];
  const [from, to] = shot.spanOf(note);
  const samples = range(from, to);
  const { axis } = axisAndAngle(shot.turn(chest, from), shot.turn(chest, to));
  const against = (node: number, carrier: number) =>
    twistRange(
      samples.map((i) => shot.turnIn(node, carrier, i)),
      shot.turnIn(node, carrier, from),
      inFrame(shot.turn(carrier, from), axis),
    );
  const bend = note.measured.quantity.includes("between head and chest")
    ? against(head, chest)
    : Math.max(against(chest, hips), against(head, chest), against(head, hips));
  const course = twists(
    samples.map((i) => shot.turn(chest, i)),
    shot.turn(chest, from),
    axis,
  );
  const steps = range(1, course.length - 1).map((i) => Math.abs(course[i] - course[i - 1]));
  return bend / (Math.max(...steps) - Math.min(...steps));
};
