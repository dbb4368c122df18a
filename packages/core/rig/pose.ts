import type { Stretch } from "../base/memo.ts";
import {
  bothStretches,
  changedSamples,
  everywhere,
  measure,
  type Study,
  sameNumbers,
  sampledMeasure,
} from "../base/study.ts";
import { gridOf } from "../time/grid.ts";
import { type LocalSeries, localMotionOf } from "./local.ts";
import { rigOf } from "./rig.ts";
import { metresPerUnitOf } from "./stature.ts";
import { upAxisOf } from "./up.ts";
import { composeWorld, linearSeries, type World } from "./world.ts";

export { curveNamesOfNode } from "./channels.ts";
export { chainOf, subtreeOf } from "./rig.ts";

import { floats } from "../base/room.ts";

export type { World } from "./world.ts";

/** Translation of a node against its parent, 3 numbers per sample, document units. */
export const localTranslationOf = measure(
  "local translation",
  (study, node: number): Float64Array => everySample(study, localMotionOf(study, node).shift),
  sameNumbers,
);

/** Turn of a node against its parent, fixed rotation included, 4 numbers per sample. */
export const localRotationOf = measure(
  "local rotation",
  (study, node: number): Float64Array => everySample(study, localMotionOf(study, node).turn),
  sameNumbers,
);

/**
 * A node's world motion, worked out from its parent's by one pass over the samples.
 * @param node rig index of the node
 * @returns positions in metres, three numbers per sample; orientations as quaternions, four per sample
 */
export const worldOf = sampledMeasure(
  "world",
  (study, node: number): World => {
    const rig = rigOf(study);
    const up = rig.parent[node];
    if (rig.depth[node] >= levels && rig.depth[node] % levels === 0) askFromTheRoot(study, node);
    const parent = up < 0 ? outerWorldOf(study, undefined) : worldOf(study, up);
    const count = gridOf(study).count;
    const { shift, turn, scale } = localMotionOf(study, node);
    const still = parent.still && shift.still && turn.still && (scale?.still ?? true);
    const computed = still ? 1 : count;
    const sharesTurn = turn.still && isNoTurn(turn.values);
    // One block for both: allocating is a good part of the work.
    const block = floats(sharesTurn ? 3 * count : 7 * count);
    const position = sharesTurn ? block : block.subarray(0, 3 * count);
    const ownOrientation = sharesTurn ? null : block.subarray(3 * count);
    composeWorld(parent, shift, turn, metresPerUnitOf(study), position, ownOrientation, computed);
    const linear = linearSeries(parent, turn, scale, count, computed);
    if (still) {
      repeatFirst(position, 3);
      if (ownOrientation !== null) repeatFirst(ownOrientation, 4);
      if (linear !== null) repeatFirst(linear, 9);
    }
    return { position, orientation: ownOrientation ?? parent.orientation, linear, still };
  },
  changedWorld,
);

const half = Math.SQRT1_2;

/** Turns that lead from a document's axes to y up: z up maps (x, y, z) to (x, z, -y), x up to (-y, x, z). */
const axisTurns = { x: [0, 0, half, half], y: [0, 0, 0, 1], z: [-half, 0, 0, half] } as const;

/** What roots hang on: the world's origin, turned from the document's axes to y up. */
export const outerWorldOf = measure(
  "outer world",
  (study, _: undefined): World => {
    const count = gridOf(study).count;
    const orientation = floats(4 * count);
    orientation.set(axisTurns[upAxisOf(study).axis]);
    repeatFirst(orientation, 4);
    return { position: floats(3 * count), orientation, linear: null, still: true };
  },
  sameWorld,
);

/** Levels of a hierarchy that are worked out by recursion at a time. */
const levels = 64;

/** Asks for ancestors at some levels, the highest first, so that a very deep chain does not fill the call stack. */
function askFromTheRoot(study: Study, node: number): void {
  const { parent, depth } = rigOf(study);
  const waiting: number[] = [];
  for (let at = parent[node]; at >= 0; at = parent[at]) if (depth[at] % levels === 0) waiting.push(at);
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) worldOf(study, at);
}

function everySample(study: Study, local: LocalSeries): Float64Array {
  if (!local.still) return local.values;
  const width = local.values.length;
  const series = floats(width * gridOf(study).count);
  series.set(local.values);
  repeatFirst(series, width);
  return series;
}

function isNoTurn(q: Float64Array): boolean {
  return q[0] === 0 && q[1] === 0 && q[2] === 0 && q[3] === 1;
}

/** Copies the first `width` numbers over the whole of a series. */
function repeatFirst(series: Float64Array, width: number): void {
  for (let filled = width; filled < series.length; filled *= 2) series.copyWithin(filled, 0, filled);
}

function changedWorld(a: World, b: World): Stretch | null {
  if (a.still !== b.still) return everywhere;
  return bothStretches(
    bothStretches(changedSamples(a.position, b.position, 3), changedSamples(a.orientation, b.orientation, 4)),
    changedSamples(a.linear, b.linear, 9),
  );
}

function sameWorld(a: World, b: World): boolean {
  const { length } = a.orientation;
  return length === b.orientation.length && [0, 1, 2, 3].every((k) => a.orientation[k] === b.orientation[k]);
}
