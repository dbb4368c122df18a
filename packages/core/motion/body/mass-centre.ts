import { floats } from "../../base/room.ts";
import {
  changedSamples,
  everywhere,
  measure,
  patchedMeasure,
  type Study,
  sameNumbers,
} from "../../base/study.ts";
import { figuresOf } from "../../rig/body.ts";
import { segmentsOf } from "../../rig/mass.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { bodyCutsOf, pathWithoutCuts } from "../path/cuts.ts";
import { derivedMeasure } from "../path/derived.ts";
import { accelerationOfPath, velocityOfPath } from "../path/spacing.ts";

/**
 * Centre of mass of a figure in the world, metres, 3 numbers per sample; the path of its root where nothing of it
 * has a mass.
 * @param figure index into `figuresOf`
 * @returns metres, three numbers per sample
 */
export const massCentreOf = patchedMeasure(
  "mass centre",
  (study, figure: number): Float64Array => {
    const centre = floats(3 * gridOf(study).count);
    const weights = weightsOf(study, figure);
    if (weights.size === 0) centre.set(worldOf(study, figuresOf(study)[figure].root).position);
    for (const [node, weight] of weights) addScaled(centre, worldOf(study, node).position, weight);
    return centre;
  },
  (a, b) => changedSamples(a, b, 3),
  (study, figure, centre, from, to) => {
    const weights = weightsOf(study, figure);
    if (weights.size === 0) return undefined;
    const part = centre.subarray(3 * from, 3 * to + 3).fill(0);
    for (const [node, weight] of weights)
      addScaled(part, worldOf(study, node).position.subarray(3 * from, 3 * to + 3), weight);
    return [from, to];
  },
  true,
);

/** Nodes (rig indices) whose places make up a figure's centre of mass, and their shares of it; empty where nothing of it has a mass. */
const weightsOf = measure<number, ReadonlyMap<number, number>>("weights of a figure", (study, figure) => {
  const weights = new Map<number, number>();
  const segments = segmentsOf(study, figure);
  const total = segments.reduce((sum, { mass }) => sum + mass, 0);
  const add = (node: number, mass: number) => weights.set(node, (weights.get(node) ?? 0) + mass);
  for (const { from, to, along, mass } of segments) {
    add(from, mass * (1 - along));
    add(to, mass * along);
  }
  for (const [node, mass] of weights) weights.set(node, mass / total);
  return weights;
});

/**
 * The path of {@link massCentreOf} with all cuts taken out: what a step key switches moves no mass. Only differences
 * between samples may be read from it.
 * @param figure index into `figuresOf`
 * @returns metres, three numbers per sample
 */
export const uncutMassCentreOf = patchedMeasure(
  "uncut mass centre",
  (study, figure: number): Float64Array =>
    pathWithoutCuts(massCentreOf(study, figure), bodyCutsOf(study, figure)),
  (a, b) => changedSamples(a, b, 3),
  (study, figure, path, from, to) => (path === massCentreOf(study, figure) ? [from, to] : undefined),
);

/**
 * Velocity of a figure's centre of mass between cuts, m/s, 3 numbers per sample; central differences.
 * @param figure index into `figuresOf`
 * @returns m/s, three numbers per sample
 */
export const massCentreVelocityOf = derivedMeasure(
  "mass centre velocity",
  uncutMassCentreOf,
  (study, path) => velocityOfPath(path, gridOf(study).dt),
  () => 1,
);

/**
 * Acceleration of a figure's centre of mass between cuts, m/s², 3 numbers per sample; second differences.
 * @param figure index into `figuresOf`
 * @returns m/s², three numbers per sample
 */
export const massCentreAccelerationOf = derivedMeasure(
  "mass centre acceleration",
  uncutMassCentreOf,
  (study, path) => accelerationOfPath(path, gridOf(study).dt),
  // The ends repeat their neighbours.
  () => 2,
);

/** Part of a figure's mass and where its centre is. */
export interface PartialMass {
  /** Share of the figure's mass, 0 to 1. */
  readonly share: number;
  /** `share` times the centre of that mass in the world, metres, 3 numbers per sample. */
  readonly moment: Float64Array;
}

/** Per node (rig index): share of a figure's mass that starts at the node or below it. */
export const massSharesBelow = measure(
  "mass shares below",
  (study, figure: number): Float64Array => {
    const { count, parent } = rigOf(study);
    const shares = floats(count);
    for (const { from, mass } of segmentsOf(study, figure)) shares[from] += mass;
    for (let node = count - 1; node >= 0; node--) if (parent[node] >= 0) shares[parent[node]] += shares[node];
    return shares;
  },
  sameNumbers,
);

/**
 * The mass that turns and travels with a node: all segments that start at it or below it. A change of the node's
 * translation moves the figure's centre of mass by `share` of itself.
 */
export function subtreeMassOf(study: Study, figure: number, node: number): PartialMass {
  return massBelowOf(study, `${figure} ${node}`);
}

/** By "figure node"; a node's children are added up, so that an edit works out again only what stands above it. */
const massBelowOf = patchedMeasure(
  "mass below",
  (study, key: string): PartialMass => {
    const [figure, node] = key.split(" ").map(Number);
    const moment = floats(3 * gridOf(study).count);
    addMassBelow(study, figure, node, moment, 0, gridOf(study).count);
    return { share: massSharesBelow(study, figure)[node], moment };
  },
  (a, b) => (a.share === b.share ? changedSamples(a.moment, b.moment, 3) : everywhere),
  (study, key, { moment }, from, to) => {
    const [figure, node] = key.split(" ").map(Number);
    addMassBelow(study, figure, node, moment.subarray(3 * from, 3 * to + 3).fill(0), from, to + 1);
    return [from, to];
  },
  true,
);

/** Adds up what a node's segments and those below it weigh, times their places, over the samples from..to (excluded). */
function addMassBelow(
  study: Study,
  figure: number,
  node: number,
  moment: Float64Array,
  from: number,
  to: number,
): void {
  const shares = massSharesBelow(study, figure);
  const part = (series: Float64Array) => series.subarray(3 * from, 3 * to);
  for (const { from: upper, to: lower, along, mass } of segmentsOf(study, figure)) {
    if (upper !== node) continue;
    addScaled(moment, part(worldOf(study, upper).position), mass * (1 - along));
    addScaled(moment, part(worldOf(study, lower).position), mass * along);
  }
  for (const child of rigOf(study).children[node]) {
    if (shares[child] > 0) addScaled(moment, part(subtreeMassOf(study, figure, child).moment), 1);
  }
}

function addScaled(sum: Float64Array, path: Float64Array, factor: number): void {
  if (factor !== 0) for (let k = 0; k < sum.length; k++) sum[k] += factor * path[k];
}
