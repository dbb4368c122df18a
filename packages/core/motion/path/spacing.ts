import { changedSamples, measure, patchedMeasure } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";

export { angularSpeedOf, localAngularSpeedOf } from "./rotation.ts";

import { floats } from "../../base/room.ts";

/**
 * Metres that a node travels in the world from the sample before to each sample; the first entry is 0.
 * One number per judged frame; their sum is the arc length of the sampled path.
 * @param node rig index of the node
 * @returns metres, one number per sample
 */
export const spacingOf = patchedMeasure(
  "spacing",
  (study, node: number): Float64Array => spacingOfPath(worldOf(study, node).position),
  (a, b) => changedSamples(a, b, 1),
  (study, node, spacing, from, to) => {
    const last = Math.min(to + 1, spacing.length - 1);
    measureSteps(worldOf(study, node).position, spacing, from, last);
    return [from, last];
  },
);

/**
 * Velocity of a node in the world, m/s: central differences, one-sided at the ends. Three numbers per sample.
 * @param node rig index of the node
 * @returns m/s, three numbers per sample
 */
export const velocityOf = measure("velocity", (study, node: number): Float64Array => {
  return velocityOfPath(worldOf(study, node).position, gridOf(study).dt);
});

/**
 * Acceleration of a node in the world, m/s²: second central differences; the ends repeat their neighbours.
 * @param node rig index of the node
 * @returns m/s², three numbers per sample
 */
export const accelerationOf = measure("acceleration", (study, node: number): Float64Array => {
  return accelerationOfPath(worldOf(study, node).position, gridOf(study).dt);
});

/**
 * Magnitude of {@link velocityOf}, m/s, one number per sample.
 * @param node rig index of the node
 * @returns m/s, one number per sample
 */
export const speedOf = measure("speed", (study, node: number): Float64Array => {
  const velocity = velocityOf(study, node);
  const speed = floats(velocity.length / 3);
  for (let i = 0, k = 0; i < speed.length; i++, k += 3) {
    const x = velocity[k];
    const y = velocity[k + 1];
    const z = velocity[k + 2];
    speed[i] = lengthOf(x, y, z);
  }
  return speed;
});

/** Length of each step of a path (3 numbers per sample); the first entry is 0. */
export function spacingOfPath(path: Float64Array): Float64Array {
  const count = path.length / 3;
  const spacing = floats(count);
  measureSteps(path, spacing, 0, count - 1);
  return spacing;
}

/** Works out again the lengths of the steps to the samples from..to of a path; the first sample has none. */
export function measureSteps(path: Float64Array, spacing: Float64Array, from: number, to: number): void {
  for (let i = Math.max(1, from), k = 3 * i; i <= to; i++, k += 3) {
    const x = path[k] - path[k - 3];
    const y = path[k + 1] - path[k - 2];
    const z = path[k + 2] - path[k - 1];
    spacing[i] = lengthOf(x, y, z);
  }
}

/** First derivative of a path (3 numbers per sample, `dt` seconds apart): central, one-sided at the ends. */
export function velocityOfPath(path: Float64Array, dt: number): Float64Array {
  const length = path.length;
  const velocity = floats(length);
  if (length < 6) return velocity;
  const half = 0.5 / dt;
  for (let k = 3; k < length - 3; k++) velocity[k] = (path[k + 3] - path[k - 3]) * half;
  for (let axis = 0; axis < 3; axis++) {
    velocity[axis] = (path[axis + 3] - path[axis]) / dt;
    const last = length - 3 + axis;
    velocity[last] = (path[last] - path[last - 3]) / dt;
  }
  return velocity;
}

/** Second derivative of a path: second differences; the ends repeat their neighbours; 0 below three samples. */
export function accelerationOfPath(path: Float64Array, dt: number): Float64Array {
  const length = path.length;
  const acceleration = floats(length);
  if (length < 9) return acceleration;
  const scale = 1 / (dt * dt);
  for (let k = 3; k < length - 3; k++) {
    acceleration[k] = (path[k + 3] - 2 * path[k] + path[k - 3]) * scale;
  }
  for (let axis = 0; axis < 3; axis++) {
    acceleration[axis] = acceleration[axis + 3];
    acceleration[length - 3 + axis] = acceleration[length - 6 + axis];
  }
  return acceleration;
}
