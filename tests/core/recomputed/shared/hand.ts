import { add, dot, size, sub, times, type Vec } from "./geometry.ts";
import type { Sampled } from "./sampled.ts";

/** Distance of the hull of some points from the origin, by going to the nearest of the points on the way (E. G. Gilbert 1966). */
export function apartBy(points: readonly Vec[]): number {
  let near = points[0];
  for (let n = 0; n < 4000; n++) {
    const next = points.reduce((best, point) => (dot(point, near) < dot(best, near) ? point : best));
    const way = sub(next, near);
    const share = Math.min(1, -dot(near, way) / dot(way, way));
    if (!(share > 1e-12)) break;
    near = add(near, times(way, share));
  }
  return size(near);
}

/** Finger tips in the hand's space: a hand's length along its bones, or on along the forearm. */
export function tipOf(shot: Sampled, hand: number): Vec {
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
