import type { Recompute } from "../shared/compare.ts";
import { cross, dot, size, sub, times, turnBetween, unit } from "../shared/geometry.ts";

/** Of the foot's turn from the first frame that is marked to the last one: what is not about the axis across it, over it. */
export const recompute: Recompute = (note, shot) => {
  const ankle = shot.nodeOf(note);
  const ball = shot.part(ankle, shot.partOf(ankle).replace("Foot", "Toes"));
  const [flat, most] = shot.spanOf(note);
  const normal = shot.normalUnder(ankle, flat);
  const way = sub(shot.at(ball, flat), shot.at(ankle, flat));
  const across = cross(normal, unit(sub(way, times(normal, dot(way, normal)))));
  const turn = turnBetween(shot.turn(ankle, flat), shot.turn(ankle, most));
  const about = dot(turn, across);
  return size(sub(turn, times(across, about))) / Math.abs(about);
};
