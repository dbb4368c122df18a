import type { Recompute } from "../shared/compare.ts";
import {
  angleOf,
  cross,
  inverse,
  mean,
  product,
  type Quat,
  range,
  sub,
  toDegrees,
  turned,
  type Vec,
} from "../shared/geometry.ts";
import { restPlace, restTurn } from "../shared/rest.ts";
import type { Sampled } from "../shared/sampled.ts";

/** Where the body faces in the rest pose: a quarter turn from right to left, or where the head is ahead of what carries it. */
function aheadOf(shot: Sampled, head: number, upright: Vec): Vec {
  const thighs = ["left", "right"].flatMap((side) => shot.parts(head, `${side}Thigh`).slice(0, 1));
  const [left, right] = thighs.map((thigh) => restPlace(shot, thigh));
  if (left !== undefined && right !== undefined) return cross(sub(left, right), upright);
  const way = sub(restPlace(shot, head), restPlace(shot, shot.rig.parent[head]));
  return cross(upright, cross(way, upright));
}

/** The angle between where the face points and the way to the target of the gaze, degrees: the mean of the frames. */
export const recompute: Recompute = (note, shot) => {
  const head = shot.nodeOf(note);
  const { id } = shot.figures[shot.figureOf(head)];
  const gaze = shot.shot.header.gazes?.find(
    ({ figure, frames }) => figure === id && frames[0] <= note.frames[0] && note.frames[1] <= frames[1],
  );
  const target = shot.node(gaze?.at);
  // The upright: y, if the document says no other.
  const up = shot.shot.header.space?.up ?? "y";
  const upright: Vec = up === "x" ? [1, 0, 0] : up === "y" ? [0, 1, 0] : [0, 0, 1];
  const ahead = aheadOf(shot, head, upright);
  const chain: number[] = [];
  for (let at = head; at >= 0; at = shot.rig.parent[at]) chain.unshift(at);
  const rest = chain.reduce<Quat>((turn, at) => product(turn, restTurn(shot, at)), [0, 0, 0, 1]);
  const own = turned(inverse(rest), ahead);
  const [from, to] = shot.spanOf(note);
  return mean(
    range(from, to).map((i) =>
      toDegrees(angleOf(turned(shot.turn(head, i), own), sub(shot.at(target, i), shot.at(head, i)))),
    ),
  );
};
