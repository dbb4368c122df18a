import { add, dot, inverse, range, sub, times, turned, type Vec } from "./geometry.ts";
import type { Sampled } from "./sampled.ts";

/**
 * The point of the sole under a joint of a foot that lies on the surface while the foot is flat, as a shift in the joint's
 * axes: the mean over the samples of its contacts at which the joint is within 0.004 body heights of its lowest.
 */
export function soleShift(shot: Sampled, joint: number): Vec {
  const downs: Vec[] = [];
  for (const { node, from, to, surface } of shot.contacts(shot.figureOf(joint))) {
    if (node !== joint) continue;
    const height = (i: number) => dot(surface.normal, shot.at(joint, i)) - surface.height;
    const lowest = Math.min(...range(from, to).map(height));
    for (const i of range(from, to)) {
      if (height(i) > lowest + 0.004 * shot.stature(joint)) continue;
      downs.push(turned(inverse(shot.turn(joint, i)), times(surface.normal, -height(i))));
    }
  }
  return downs.length === 0 ? [0, 0, 0] : times(downs.reduce(add), 1 / downs.length);
}

/** Where that point is at a sample. */
export const soleAt = (shot: Sampled, joint: number, shift: Vec, i: number): Vec =>
  add(shot.at(joint, i), turned(shot.turn(joint, i), shift));

/** How far two points lie apart along a surface. */
export function apartIn(a: Vec, b: Vec, normal: Vec): number {
  const way = sub(a, b);
  return Math.hypot(...sub(way, times(normal, dot(way, normal))));
}
