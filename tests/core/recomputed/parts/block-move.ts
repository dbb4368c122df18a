import type { Recompute } from "../shared/compare.ts";
import { range } from "../shared/geometry.ts";
import { axisAndAngle, inFrame, twistRange, twists } from "../shared/twist.ts";

/**
 * The most that pelvis, chest and head turn against each other about the axis of the chest's turn, over the speed of the
 * chest in the middle half of its turn.
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
  const bend = Math.max(against(chest, hips), against(head, chest), against(head, hips));
  const course = twists(
    samples.map((i) => shot.turn(chest, i)),
    shot.turn(chest, from),
    axis,
  );
  const [low, high] = [course.indexOf(Math.min(...course)), course.indexOf(Math.max(...course))];
  const [first, last] = [Math.min(low, high), Math.max(low, high)];
  const done = (i: number) => (course[i] - course[first]) / (course[last] - course[first]);
  let start = first;
  while (start < last && done(start + 1) <= 0.25) start++;
  let end = start + 1;
  while (end < last && done(end) < 0.75) end++;
  return bend / (Math.abs(course[end] - course[start]) / (end - start));
};
