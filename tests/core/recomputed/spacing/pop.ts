import type { Recompute } from "../shared/compare.ts";
import { add, distance, range, times, toDegrees, turnBetween, type Vec } from "../shared/geometry.ts";

/**
 * The farthest that a pose of the note is off the cubic through the two shown poses on either side of all of
 * them; where it breaks a pose that is held, the two frames. Turns, in the world or as a part itself turns, are unrolled into vectors first.
 */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const parent = note.message.includes("itself turns") ? shot.rig.parent[node] : -1;
  const turn = (i: number) => (parent < 0 ? shot.turn(node, i) : shot.turnIn(node, parent, i));
  const held = shot.held(node);
  const isHeld = (first: number, last: number) =>
    first >= 0 && last < shot.count && range(first, last).every((i) => held[i]);
  // Between two poses that are held for longer than threes, every frame counts.
  const pose = Math.floor((3 * shot.rate) / 24 + 0.01);
  const isFlicker = isHeld(from - pose, from - 1) && isHeld(to + 2, to + 1 + pose);
  const shown = range(0, shot.count - 1).filter((i) => isFlicker || !held[i]);
  const [first, last] = [shown.indexOf(from), shown.indexOf(to)];
  const around = range(first - 2, last + 2).map((pose) => shown[pose]);
  const points: Vec[] = [];
  for (const [k, i] of around.entries()) {
    if (note.measured.unit === "m") points.push(shot.at(node, i));
    else if (k === 0) points.push([0, 0, 0]);
    else points.push(add(points[k - 1], turnBetween(turn(around[k - 1]), turn(i))));
  }
  const poses = last - first + 1;
  const beside = [...points.slice(0, 2), ...points.slice(-2)];
  const off = Math.max(
    ...range(0, poses - 1).map((t) => distance(points[2 + t], cubic(beside, [-2, -1, poses, poses + 1], t))),
  );
  return note.measured.unit === "m" ? off : toDegrees(off);
};

/** The cubic through four points at four times, at another time (Lagrange). */
function cubic(points: readonly Vec[], at: readonly number[], time: number): Vec {
  return points.reduce<Vec>(
    (total, point, i) => {
      const share = at.reduce(
        (all, other, k) => (k === i ? all : (all * (time - other)) / (at[i] - other)),
        1,
      );
      return add(total, times(point, share));
    },
    [0, 0, 0],
  );
}
