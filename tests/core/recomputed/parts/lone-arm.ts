import type { Recompute } from "../shared/compare.ts";
import { add, dot, inverse, range, size, sub, times, turned, type Vec } from "../shared/geometry.ts";

/**
 * How far a point goes along the hand's way that is fixed to the chest where the hand is in the first of the note's frames,
 * as a share of that way: of a throw seen from the hips, from six frames before the note to its end; of a reach in the
 * world, and for two frames more.
 */
export const recompute: Recompute = (note, shot) => {
  const hand = shot.nodeOf(note);
  const trunk = shot.chest(hand);
  const [from, to] = shot.spanOf(note);
  const isThrow = note.measured.quantity.includes("throw");
  const hips = (i: number): Vec => (isThrow ? shot.at(shot.hips(hand), i) : [0, 0, 0]);
  const frames = (count: number) => Math.round((count * shot.rate) / 24);
  const start = sub(shot.at(hand, from), hips(from));
  const way = sub(sub(shot.at(hand, to), hips(to)), start);
  const along = times(way, 1 / size(way));
  const inChest = turned(inverse(shot.turn(trunk, from)), sub(shot.at(hand, from), shot.at(trunk, from)));
  const last = isThrow ? to : Math.min(shot.count - 1, to + frames(2));
  const gone = range(Math.max(0, from - frames(6)), last).map((i) => {
    const fixed = add(shot.at(trunk, i), turned(shot.turn(trunk, i), inChest));
    return dot(sub(sub(fixed, hips(i)), start), along);
  });
  return (Math.max(0, ...gone) - Math.min(0, ...gone)) / size(way);
};
