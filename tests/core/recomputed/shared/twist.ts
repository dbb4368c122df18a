import { angleBetween, inverse, product, type Quat, turnBetween, turned, type Vec } from "./geometry.ts";

/** Turn about one axis. */

/** How far a series of orientations turns about an axis (of the world, as it stands at `start`): largest less smallest. */
export function twistRange(orientations: readonly Quat[], start: Quat, axis: Vec): number {
  const angles = twists(orientations, start, axis);
  return Math.max(...angles) - Math.min(...angles);
}

/** Angle about an axis by which each orientation has turned from `start`, running on past half a turn. */
export function twists(orientations: readonly Quat[], start: Quat, axis: Vec): number[] {
  let before = 0;
  return orientations.map((orientation) => {
    const [x, y, z, w] = product(orientation, inverse(start));
    let angle = 2 * Math.atan2(x * axis[0] + y * axis[1] + z * axis[2], w);
    angle += 2 * Math.PI * Math.round((before - angle) / (2 * Math.PI));
    before = angle;
    return angle;
  });
}

/** Axis (unit, in the frame of what carries both) and angle of the turn between two orientations. */
export function axisAndAngle(from: Quat, to: Quat): { axis: Vec; angle: number } {
  const way = turnBetween(from, to);
  const angle = angleBetween(from, to);
  return { axis: [way[0] / angle, way[1] / angle, way[2] / angle], angle };
}

/** An axis that is given in a carrier's frame, in the world. */
export const inWorld = (carrier: Quat, axis: Vec): Vec => turned(carrier, axis);
/** An axis of the world in a carrier's frame. */
export const inFrame = (carrier: Quat, axis: Vec): Vec => turned(inverse(carrier), axis);
