import { floats } from "../../base/room.ts";
import { measure } from "../../base/study.ts";
import { localRotationOf, worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";

/** Speed at which a node turns in the world, rad/s, from the sample before to each sample; the first entry is 0. */
export const angularSpeedOf = measure("angular speed", (study, node: number): Float64Array => {
  return scaled(turnsOfOrientations(worldOf(study, node).orientation), gridOf(study).rate);
});

/** Speed at which a node turns against its parent, rad/s, from the sample before; the first entry is 0. */
export const localAngularSpeedOf = measure("local angular speed", (study, node: number): Float64Array => {
  return scaled(turnsOfOrientations(localRotationOf(study, node)), gridOf(study).rate);
});

/** Angle in radians between each quaternion (4 numbers per sample) and the one before; the first entry is 0. */
export function turnsOfOrientations(orientations: Float64Array): Float64Array {
  const count = orientations.length / 4;
  const turns = floats(count);
  for (let i = 1; i < count; i++) turns[i] = angleBetween(orientations, 4 * (i - 1), orientations, 4 * i);
  return turns;
}

/**
 * Geodesic angle in radians, 0 to π, between two unit quaternions read at offsets of two arrays: 2·acos|a·b|, taken
 * from their difference and their sum so that small angles keep the digits that the arc cosine loses.
 */
export function angleBetween(a: Float64Array, offsetA: number, b: Float64Array, offsetB: number): number {
  let apart = 0;
  let along = 0;
  for (let k = 0; k < 4; k++) {
    const difference = a[offsetA + k] - b[offsetB + k];
    const sum = a[offsetA + k] + b[offsetB + k];
    apart += difference * difference;
    along += sum * sum;
  }
  return 4 * Math.atan2(Math.sqrt(Math.min(apart, along)), Math.sqrt(Math.max(apart, along)));
}

function scaled(series: Float64Array, factor: number): Float64Array {
  for (let i = 0; i < series.length; i++) series[i] *= factor;
  return series;
}
