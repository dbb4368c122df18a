import { angleBetween } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import { measure } from "../../base/study.ts";
import { localRotationOf, worldTurnOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";

/**
 * Speed at which a node turns in the world, rad/s, from the sample before to each sample; the first entry is 0.
 * @param node rig index of the node
 * @returns rad/s, one number per sample
 */
export const angularSpeedOf = measure("angular speed", (study, node: number): Float64Array => {
  return scaled(turnsOfOrientations(worldTurnOf(study, node).orientation), gridOf(study).rate);
});

/**
 * Speed at which a node turns against its parent, rad/s, from the sample before; the first entry is 0.
 * @param node rig index of the node
 * @returns rad/s, one number per sample
 */
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

function scaled(series: Float64Array, factor: number): Float64Array {
  for (let i = 0; i < series.length; i++) series[i] *= factor;
  return series;
}
