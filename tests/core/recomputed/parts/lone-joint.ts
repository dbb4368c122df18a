import type { Recompute } from "../shared/compare.ts";
import { range } from "../shared/geometry.ts";
import { axisAndAngle, inWorld, twistRange } from "../shared/twist.ts";

/**
 * How far what carries the head turns in the world about the axis of the head's turn, from six frames before the frames
 * that are marked to two after them (hips: six), over the head's own turn.
 */
export const recompute: Recompute = (note, shot) => {
  const head = shot.nodeOf(note);
  const carrier = shot.rig.parent[head];
  const hips = shot.hips(head);
  const [from, to] = shot.spanOf(note);
  const { axis, angle } = axisAndAngle(shot.turnIn(head, carrier, from), shot.turnIn(head, carrier, to));
  const about = inWorld(shot.turn(carrier, from), axis);
  const frames = (count: number) => Math.round((count * shot.rate) / 24);
  const answer = (node: number, late: number) => {
    const samples = range(Math.max(0, from - frames(6)), Math.min(shot.count - 1, to + frames(late)));
    const turns = samples.map((i) => shot.turn(node, i));
    return twistRange(turns, shot.turn(node, from), about);
  };
  return Math.max(answer(carrier, 2), answer(hips, 6)) / angle;
};
