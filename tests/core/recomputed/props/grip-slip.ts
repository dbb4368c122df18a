import type { Recompute } from "../shared/compare.ts";
import { add, distance, inverse, product, sub, times, turned, type Vec } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";

/** The least way, over points of the triangle of wrist, finger tips and prop, between where hand and prop carry the point: by trying many. */
export const recompute: Recompute = (note, shot) => {
  const thing = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const figure = shot.figures.findIndex(({ id }) => id === note.figure);
  const hands = ["leftHand", "rightHand"].flatMap(
    (part) => shot.figures[figure].parts.get(part as "leftHand") ?? [],
  );
  // Of both hands the note tells the one that holds; a free one is far off, or shifts by other amounts.
  const slips = hands.map((hand) => slip(shot, hand, thing, from, to));
  return slips.reduce((best, one) =>
    Math.abs(one - note.measured.value) < Math.abs(best - note.measured.value) ? one : best,
  );
};

function slip(shot: Sampled, hand: number, thing: number, from: number, to: number): number {
  const tip = tipOf(shot, hand);
  const carried = (node: number, point: Vec): Vec => {
    const turn = product(shot.turn(node, to), inverse(shot.turn(node, from)));
    return add(turned(turn, sub(point, shot.at(node, from))), shot.at(node, to));
  };
  const corners: Vec[] = [
    shot.at(hand, from),
    add(shot.at(hand, from), turned(shot.turn(hand, from), tip)),
    shot.at(thing, from),
  ];
  const apart = (a: number, b: number) => {
    const point = add(add(times(corners[0], 1 - a - b), times(corners[1], a)), times(corners[2], b));
    return distance(carried(hand, point), carried(thing, point));
  };
  let best = { a: 0, b: 0, way: Number.POSITIVE_INFINITY };
  for (let size = 0.25; size > 1e-4; size *= 0.6) {
    const { a, b } = best;
    for (let i = -8; i <= 8; i++) {
      for (let k = -8; k <= 8; k++) {
        const [s, t] = [Math.max(0, a + (i / 8) * size * 2), Math.max(0, b + (k / 8) * size * 2)];
        if (s + t > 1) continue;
        const way = apart(s, t);
        if (way < best.way) best = { a: s, b: t, way };
      }
    }
  }
  return best.way;
}

/** Finger tips in the hand's space: a hand's length along its bones, or on along the forearm. */
function tipOf(shot: Sampled, hand: number): Vec {
  const { rig } = shot;
  const own = (node: number): Vec => [
    rig.translation[3 * node],
    rig.translation[3 * node + 1],
    rig.translation[3 * node + 2],
  ];
  const children = rig.children[hand].map(own);
  const way = children.length > 0 ? children.reduce(add) : own(hand);
  return times(way, (0.108 * shot.stature(hand)) / Math.hypot(...way));
}
