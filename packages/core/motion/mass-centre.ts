import { figuresOf } from "../rig/body.ts";
import { segmentsOf } from "../rig/mass.ts";
import { worldOf } from "../rig/pose.ts";
import { rigOf } from "../rig/rig.ts";
import { measure, type Study } from "../study/study.ts";
import { gridOf } from "./grid.ts";
import { accelerationOfPath, velocityOfPath } from "./spacing.ts";

/**
 * Centre of mass of a figure in the world, metres, 3 numbers per sample; the path of its root where nothing of it
 * has a mass.
 */
export const massCentreOf = measure("mass centre", (study, figure: number): Float64Array => {
  const { share, position } = weighedPath(study, figure, () => true);
  return share > 0 ? position : worldOf(study, figuresOf(study)[figure].root).position;
});

/** Velocity of a figure's centre of mass, m/s, 3 numbers per sample; central differences. */
export const massCentreVelocityOf = measure("mass centre velocity", (study, figure: number): Float64Array => {
  return velocityOfPath(massCentreOf(study, figure), gridOf(study).dt);
});

/** Acceleration of a figure's centre of mass, m/s², 3 numbers per sample; second differences. */
export const massCentreAccelerationOf = measure(
  "mass centre acceleration",
  (study, figure: number): Float64Array => accelerationOfPath(massCentreOf(study, figure), gridOf(study).dt),
);

/** Part of a figure's mass and where its centre is. */
export interface PartialMass {
  /** Share of the figure's mass, 0 to 1. */
  readonly share: number;
  /** Centre of that mass in the world, metres, 3 numbers per sample; the node's own path where it carries none. */
  readonly position: Float64Array;
}

/**
 * The mass that turns and travels with a node: all segments that start at it or below it. A change of the node's
 * translation moves the figure's centre of mass by `share` of itself.
 */
export function subtreeMassOf(study: Study, figure: number, node: number): PartialMass {
  const { parent } = rigOf(study);
  const isBelow = (from: number) => {
    for (let at = from; at >= 0; at = parent[at]) if (at === node) return true;
    return false;
  };
  const found = weighedPath(study, figure, isBelow);
  return found.share > 0 ? found : { share: 0, position: worldOf(study, node).position };
}

function weighedPath(study: Study, figure: number, counts: (from: number) => boolean): PartialMass {
  const position = new Float64Array(3 * gridOf(study).count);
  const weightOf = new Map<number, number>();
  const add = (node: number, weight: number) => weightOf.set(node, (weightOf.get(node) ?? 0) + weight);
  let share = 0;
  for (const { from, to, along, mass } of segmentsOf(study, figure)) {
    if (!counts(from)) continue;
    share += mass;
    add(from, mass * (1 - along));
    add(to, mass * along);
  }
  if (!(share > 0)) return { share: 0, position };
  for (const [node, weight] of weightOf) {
    if (weight === 0) continue;
    const path = worldOf(study, node).position;
    const factor = weight / share;
    for (let k = 0; k < position.length; k++) position[k] += factor * path[k];
  }
  return { share, position };
}
