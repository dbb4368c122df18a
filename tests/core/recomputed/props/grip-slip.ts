import type { Note } from "@keyside/core";
import { pathsOf, type Solid, solidsOf } from "../../../../packages/core/staging/solids.ts";
import type { Recompute } from "../shared/compare.ts";
import { add, distance, inverse, product, range, sub, times, turned, type Vec } from "../shared/geometry.ts";
import { apartBy, tipOf } from "../shared/hand.ts";
import type { Sampled } from "../shared/sampled.ts";

/**
 * The gap of a hand is the widest, over frames, between the line from wrist to finger tips and the thing's solids. A slip is the least way, over points of the triangle of wrist, finger tips and prop, between where hand and prop carry the point: by trying many.
 */
export const recompute: Recompute = (note, shot) => {
  if (note.measured.quantity.startsWith("gap")) return widestGap(shot, note);
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

/** Over frames, how far the line from wrist to finger tips is at most from the nearest solid of what the hand is to hold, less half of its thickness. */
function widestGap(shot: Sampled, note: Note): number {
  const hand = shot.nodeOf(note);
  const id = shot.rig.ids[hand];
  const [from, to] = shot.spanOf(note);
  const tip = tipOf(shot, hand);
  const things = (shot.shot.header.props ?? [])
    .filter(({ heldBy }) => heldBy?.some(({ node }) => node === id))
    .map(({ node }) => solidsOf(shot.whole).filter((solid) => shot.rig.ids[solid.node] === node));
  const gapAt = (solids: readonly Solid[], i: number) => {
    const wrist = shot.at(hand, i);
    const ends = [wrist, add(wrist, turned(shot.turn(hand, i), tip))];
    const gaps = solids.map((solid) => {
      const corners = pathsOf(shot.whole, solid).map(
        (path): Vec => [path[3 * i], path[3 * i + 1], path[3 * i + 2]],
      );
      return apartBy(corners.flatMap((corner) => ends.map((end) => sub(corner, end)))) - solid.radius;
    });
    return Math.min(...gaps) - 0.016 * shot.stature(hand);
  };
  const widest = things.map((solids) => Math.max(...range(from, to).map((i) => gapAt(solids, i))));
  return widest.reduce((best, one) =>
    Math.abs(one - note.measured.value) < Math.abs(best - note.measured.value) ? one : best,
  );
}

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
