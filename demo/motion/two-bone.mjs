// @ts-check
/** Two bones and a hinge between them: legs, arms. */
import {
  add,
  cross,
  dot,
  inverse,
  length,
  multiply,
  rotate,
  scale,
  subtract,
  turn,
  turnOntoPair,
  unit,
} from "./vector.mjs";

/**
 * Turns a limb so that its end reaches a point. Both bones point down (−y) at rest, the hinge turns about x.
 * @param {object} limb
 * @param {number[]} limb.start world position of the first joint
 * @param {number[]} limb.target world position that the end is to reach
 * @param {number[]} limb.pole world direction into which the middle joint points
 * @param {number} limb.upper length of the first bone @param {number} limb.lower length of the second
 * @param {1 | -1} limb.bend 1: the hinge bends the end backwards (a knee); −1: forwards (an elbow)
 * @returns {{ upper: number[], angle: number, stretch: number }} world orientation of the first bone, the hinge's
 *   angle about x in degrees, and how far the limb is stretched (1 is straight; above 1 the target is out of reach)
 */
export function reach({ start, target, pole, upper, lower, bend }) {
  const way = subtract(target, start);
  const distance = length(way);
  const stretch = distance / (upper + lower);
  const d = Math.min(distance, (upper + lower) * 0.99999);
  const cosine = (d * d - upper * upper - lower * lower) / (2 * upper * lower);
  const angle = bend * Math.acos(Math.max(-1, Math.min(1, cosine)));
  const end = [0, -upper - lower * Math.cos(angle), -lower * Math.sin(angle)];
  const hinge = cross(scale(pole, bend), way);
  return { upper: turnOntoPair(end, [1, 0, 0], way, hinge), angle: (angle * 180) / Math.PI, stretch };
}

/**
 * Where a foot's ankle is, and how the foot is turned, when it stands on its ball (pitch above 0: heel up) or on its
 * heel (below 0: toes up). The ball, or the heel, keeps its place while the pitch changes.
 * @param {{ ankleHeight: number, ball: number[], heel: number[] }} shape `ball` and `heel` from the ankle, unturned
 * @param {number[]} place the point on the ground below the ankle of the flat foot
 * @param {number} yaw degrees about y @param {number} pitch degrees
 */
export function footOn(shape, place, yaw, pitch) {
  const pivot = pitch > 0 ? shape.ball : shape.heel;
  const facing = turn(1, yaw);
  const orientation = multiply(facing, turn(0, pitch));
  const flat = add(place, [0, shape.ankleHeight, 0]);
  const ankle = subtract(add(flat, rotate(facing, pivot)), rotate(orientation, pivot));
  return { ankle, orientation };
}

/** The part of a direction that is square to another. @param {number[]} v @param {number[]} axis */
export const squareTo = (v, axis) => subtract(v, scale(axis, dot(v, axis) / (dot(axis, axis) || 1)));

/** @param {number[]} world orientation @param {number[]} parent orientation */
export const localTo = (world, parent) => multiply(inverse(parent), world);

/** Direction on the ground for a heading in degrees: 0 is +z, 90 is +x. @param {number} yaw */
export const heading = (yaw) => unit(rotate(turn(1, yaw), [0, 0, 1]));
