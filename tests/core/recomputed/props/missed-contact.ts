import { type Note, rigOf } from "@keyside/core";
import { pathsOf, type Solid, solidsOf } from "../../../../packages/core/staging/solids.ts";
import type { Recompute } from "../shared/compare.ts";
import { add, dot, range, sub, times, turned, type Vec } from "../shared/geometry.ts";
import { apartBy, tipOf } from "../shared/hand.ts";
import type { Sampled } from "../shared/sampled.ts";

/**
 * The widest gap, over the note's frames, between a hand and the nearest solid or level of what it is to touch; of a thing, how
 * high its lowest point is over the level.
 */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const id = shot.rig.ids[node];
  const [from, to] = shot.spanOf(note);
  const partners = (shot.shot.header.contacts ?? []).filter((contact) => contact.node === id);
  const gaps = partners.map(({ with: on }) =>
    Math.max(...range(from, to).map((i) => gapAt(note, shot, node, on ?? "", i))),
  );
  return gaps.reduce((best, one) =>
    Math.abs(one - note.measured.value) < Math.abs(best - note.measured.value) ? one : best,
  );
};

function gapAt(note: Note, shot: Sampled, node: number, on: string, i: number): number {
  const isHand = note.measured.quantity === "gap of a hand";
  const own = isHand ? handAt(shot, node, i) : null;
  const flesh = 0.016 * shot.stature(node);
  const surface = (shot.shot.header.surfaces ?? []).find((one) => one.id === on);
  if (surface !== undefined) {
    const [x = 0, y = 1, z = 0] = surface.normal ?? [0, 1, 0];
    const normal: Vec = times([x, y, z], 1 / Math.hypot(x, y, z));
    const over = (point: Vec) => dot(normal, point) - surface.height * shot.metresPerUnit;
    if (own !== null) return Math.min(...own.map(over)) - flesh;
    return Math.min(
      ...solidsAt(shot, node, i).flatMap(({ points, radius }) => points.map((p) => over(p) - radius)),
    );
  }
  const other = rigOf(shot.whole).indexOf.get(on) as number;
  const solids = solidsAt(shot, other, i);
  if (/Hand$/.test(shot.partOf(other)))
    solids.push({ points: handAt(shot, other, i), radius: 0.016 * shot.stature(other) });
  const apart = solids.map(
    ({ points, radius }) =>
      apartBy(points.flatMap((point) => (own as Vec[]).map((end) => sub(point, end)))) - radius,
  );
  return Math.min(...apart) - flesh;
}

interface Seen {
  readonly points: Vec[];
  readonly radius: number;
}

function solidsAt(shot: Sampled, node: number, i: number): Seen[] {
  return solidsOf(shot.whole)
    .filter((solid: Solid) => solid.node === node)
    .map((solid) => ({
      radius: solid.radius,
      points: pathsOf(shot.whole, solid).map((path): Vec => [path[3 * i], path[3 * i + 1], path[3 * i + 2]]),
    }));
}

/** Wrist and finger tips. */
function handAt(shot: Sampled, hand: number, i: number): Vec[] {
  const wrist = shot.at(hand, i);
  return [wrist, add(wrist, turned(shot.turn(hand, i), tipOf(shot, hand)))];
}
