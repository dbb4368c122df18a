import { add, dot, inverse, range, sub, times, turned, type Vec } from "./geometry.ts";
import type { Sampled } from "./sampled.ts";

/**
 * The point of the sole under a joint of a foot that lies on the surface while the foot is flat, as a shift in the joint's
 * axes: the mean over the samples of its contacts at which the joint is within 0.004 body heights of its lowest.
 */
export const soleShift = (shot: Sampled, joint: number): Vec => whileFlat(shot, joint, (height) => -height);

/** What is up for a joint of a foot while it lies flat, in the joint's axes: the mean of the surface's normals. */
export const soleUp = (shot: Sampled, joint: number): Vec => whileFlat(shot, joint, () => 1);

function whileFlat(shot: Sampled, joint: number, along: (height: number) => number): Vec {
  const ways: Vec[] = [];
  for (const { node, from, to, surface } of shot.contacts(shot.figureOf(joint))) {
    if (node !== joint) continue;
    const height = (i: number) => dot(surface.normal, shot.at(joint, i)) - surface.height;
    const lowest = Math.min(...range(from, to).map(height));
    for (const i of range(from, to)) {
      if (height(i) > lowest + 0.004 * shot.stature(joint)) continue;
      ways.push(turned(inverse(shot.turn(joint, i)), times(surface.normal, along(height(i)))));
    }
  }
  return ways.length === 0 ? [0, 0, 0] : times(ways.reduce(add), 1 / ways.length);
}

/** Where that point is at a sample. */
export const soleAt = (shot: Sampled, joint: number, shift: Vec, i: number): Vec =>
  add(shot.at(joint, i), turned(shot.turn(joint, i), shift));

/** How far two points lie apart along a surface. */
export function apartIn(a: Vec, b: Vec, normal: Vec): number {
  const way = sub(a, b);
  return Math.hypot(...sub(way, times(normal, dot(way, normal))));
}
