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

/** The angle between where the face points and the way to the target of the gaze, degrees: the mean of the frames. */
export const recompute: Recompute = (note, shot) => {
  const head = shot.nodeOf(note);
  const { id } = shot.figures[shot.figureOf(head)];
  const gaze = shot.shot.header.gazes?.find(
    ({ figure, frames }) => figure === id && frames[0] <= note.frames[0] && note.frames[1] <= frames[1],
  );
  const target = shot.node(gaze?.at);
  const [left, right] = ["left", "right"].map((side) => restPlace(shot, shot.part(head, `${side}Thigh`)));
  // From right to left, turned a quarter about the upright: y, if the document says no other.
  const up = shot.shot.header.space?.up ?? "y";
  const upright: Vec = up === "x" ? [1, 0, 0] : up === "y" ? [0, 1, 0] : [0, 0, 1];
  const ahead = cross(sub(left, right), upright);
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
