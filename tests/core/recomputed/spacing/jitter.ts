import type { Recompute } from "../shared/compare.ts";
import { add, dot, range, sub, times, turnBetween, type Vec } from "../shared/geometry.ts";

/**
 * Shown poses at which the vector from the middle between a pose's neighbours to the pose points against that of the
 * pose before, per second: in the frames of the note, or in those in which, it says, the part trembles most.
 */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const most = / most at frames (\S+) to ([^,\s]+)/.exec(note.message);
  const [from, to] =
    most === null ? shot.spanOf(note) : [shot.sample(Number(most[1])), shot.sample(Number(most[2]))];
  const turns = note.message.includes("°");
  const shown = range(0, shot.count - 1).filter((i) => !shot.held(node)[i]);
  const path: Vec[] = [];
  for (const [k, i] of shown.entries()) {
    if (!turns) path.push(shot.at(node, i));
    else if (k === 0) path.push([0, 0, 0]);
    else path.push(add(path[k - 1], turnBetween(shot.turn(node, shown[k - 1]), shot.turn(node, i))));
  }
  const push = (k: number) => sub(path[k], times(add(path[k - 1], path[k + 1]), 0.5));
  const inside = range(2, shown.length - 2).filter((k) => shown[k] > from && shown[k] <= to);
  const reversals = inside.filter((k) => dot(push(k), push(k - 1)) < 0).length;
  return (reversals * shot.rate) / (to - from);
};
