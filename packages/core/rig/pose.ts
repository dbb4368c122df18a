import type { Stretch } from "../base/memo-cell.ts";
import {
  bothStretches,
  changedSamples,
  everywhere,
  type Measure,
  measure,
  overwritten,
  patchedMeasure,
  type Study,
  sameNumbers,
} from "../base/study.ts";
import { gridOf } from "../time/grid.ts";
import { type LocalSeries, localMotionOf } from "./local.ts";
import { passingGroundOf } from "./passing-ground.ts";
import { rigOf } from "./rig.ts";
import { metresPerUnitOf } from "./stature.ts";
import { axisTurnOf } from "./up.ts";
import { composeLinear, composePositions, composeTurns, type World, type WorldTurn } from "./world.ts";

export { curveNamesOfNode } from "./channels.ts";
export { chainOf, subtreeOf } from "./rig.ts";

import { floats } from "../base/room.ts";

export type { World, WorldTurn } from "./world.ts";

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
 * How a node is turned in the world, worked out from its parent's turn by one pass over the samples.
 * @param node rig index of the node
 * @returns orientations as quaternions, four numbers per sample
 */
export const worldTurnOf: Measure<number, WorldTurn> = patchedMeasure(
  "world turn",
  (study, node: number): WorldTurn => {
    const { depth } = rigOf(study);
    if (depth[node] >= levels && depth[node] % levels === 0) askFromTheRoot(study, node, worldTurnOf);
    const parent = turnAbove(study, node);
    const { count } = gridOf(study);
    const { turn, scale } = localMotionOf(study, node);
    const still = parent.still && turn.still && (scale?.still ?? true);
    const computed = still ? 1 : count;
    const linear = parent.linear === null && scale === null ? null : floats(9 * count);
    if (linear !== null) composeLinear(parent, turn, scale, linear, 0, computed);
    if (still && linear !== null) repeatFirst(linear, 9);
    if (isNoTurn(turn)) return { orientation: parent.orientation, linear, still };
    const orientation = floats(4 * count);
    composeTurns(parent, turn, orientation, 0, computed);
    if (still) repeatFirst(orientation, 4);
    return { orientation, linear, still };
  },
  changedTurn,
  (study, node, value, from, to) => {
    const parent = turnAbove(study, node);
    const { turn, scale } = localMotionOf(study, node);
    const { linear, orientation } = value;
    if (value.still || (linear === null) !== (parent.linear === null && scale === null)) return undefined;
    const shares = isNoTurn(turn);
    if (shares !== (orientation === parent.orientation)) return undefined;
    const count = to - from + 1;
    const fresh = scratchOf(9 * count);
    let range: Stretch | null = null;
    if (linear !== null) {
      composeLinear(parent, turn, scale, fresh, from, to + 1);
      range = overwritten(linear, 9, from, fresh, count);
    }
    if (shares) return [from, to];
    composeTurns(parent, turn, fresh, from, to + 1);
    return bothStretches(range, overwritten(orientation, 4, from, fresh, count));
  },
  true,
);

/**
 * A node's world motion, worked out from its parent's by one pass over the samples.
 * @param node rig index of the node
 * @returns positions in metres, three numbers per sample; orientations as quaternions, four per sample
 */
export const worldOf: Measure<number, World> = patchedMeasure(
  "world",
  (study, node: number): World => {
    const rig = rigOf(study);
    if (rig.depth[node] >= levels && rig.depth[node] % levels === 0) askFromTheRoot(study, node, worldOf);
    const parent = worldAbove(study, node);
    const { count } = gridOf(study);
    const { orientation, linear, still: turnsNot } = worldTurnOf(study, node);
    const { shift } = localMotionOf(study, node);
    const still = parent.still && shift.still && turnsNot;
    const position = floats(3 * count);
    composePositions(parent, shift, metresPerUnitOf(study), position, 0, still ? 1 : count);
    if (still) repeatFirst(position, 3);
    return { position, orientation, linear, still };
  },
  changedWorld,
  (study, node, value, from, to) => {
    const parent = worldAbove(study, node);
    const turn = worldTurnOf(study, node);
    const { shift } = localMotionOf(study, node);
    if (value.still || value.linear !== turn.linear || value.orientation !== turn.orientation)
      return undefined;
    const fresh = scratchOf(3 * (to - from + 1));
    composePositions(parent, shift, metresPerUnitOf(study), fresh, from, to + 1);
    return bothStretches(
      study.memo.changeOf(worldTurnOf.definition, node),
      overwritten(value.position, 3, from, fresh, to - from + 1),
    );
  },
  true,
);

function turnAbove(study: Study, node: number): WorldTurn {
  const up = rigOf(study).parent[node];
  return up < 0 ? outerWorldOf(study, undefined) : worldTurnOf(study, up);
}

function worldAbove(study: Study, node: number): World {
  const up = rigOf(study).parent[node];
  return up < 0 ? outerWorldOf(study, undefined) : worldOf(study, up);
}

let scratch = new Float64Array(0);

/** Room for numbers that are read before it is asked for again. */
function scratchOf(length: number): Float64Array {
  if (scratch.length < length) scratch = new Float64Array(2 * length);
  return scratch;
}

/**
 * What roots hang on: the world's origin, turned from the document's axes to y up. Under a body that goes in place it goes
 * along against the ground (see `passingGroundOf`): the world is the ground's.
 */
export const outerWorldOf = measure(
  "outer world",
  (study, _: undefined): World => {
    const { count, dt } = gridOf(study);
    const orientation = floats(4 * count);
    orientation.set(axisTurnOf(study));
    repeatFirst(orientation, 4);
    const position = floats(3 * count);
    const passing = passingGroundOf(study);
    if (passing === null) return { position, orientation, linear: null, still: true };
    for (let i = 0; i < count; i++) {
      position[3 * i] = -passing[0] * i * dt;
      position[3 * i + 2] = -passing[1] * i * dt;
    }
    return { position, orientation, linear: null, still: false };
  },
  sameWorld,
);

/** Levels of a hierarchy that are worked out by recursion at a time. */
const levels = 64;

/** Asks for ancestors at some levels, the highest first, so that a very deep chain does not fill the call stack. */
function askFromTheRoot(study: Study, node: number, ask: (study: Study, node: number) => unknown): void {
  const { parent, depth } = rigOf(study);
  const waiting: number[] = [];
  for (let at = parent[node]; at >= 0; at = parent[at]) if (depth[at] % levels === 0) waiting.push(at);
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) ask(study, at);
}

function everySample(study: Study, local: LocalSeries): Float64Array {
  if (!local.still) return local.values;
  const width = local.values.length;
  const series = floats(width * gridOf(study).count);
  series.set(local.values);
  repeatFirst(series, width);
  return series;
}

/** Whether a node is turned as its parent is, throughout. */
function isNoTurn({ still, values: q }: LocalSeries): boolean {
  return still && q[0] === 0 && q[1] === 0 && q[2] === 0 && q[3] === 1;
}

/** Copies the first `width` numbers over the whole of a series. */
function repeatFirst(series: Float64Array, width: number): void {
  for (let filled = width; filled < series.length; filled *= 2) series.copyWithin(filled, 0, filled);
}

function changedTurn(a: WorldTurn, b: WorldTurn): Stretch | null {
  if (a.still !== b.still) return everywhere;
  return bothStretches(
    changedSamples(a.orientation, b.orientation, 4),
    changedSamples(a.linear, b.linear, 9),
  );
}

function changedWorld(a: World, b: World): Stretch | null {
  if (a.still !== b.still) return everywhere;
  return bothStretches(
    bothStretches(changedSamples(a.position, b.position, 3), changedSamples(a.orientation, b.orientation, 4)),
    changedSamples(a.linear, b.linear, 9),
  );
}

function sameWorld(a: World, b: World): boolean {
  const alike = (one: Float64Array, other: Float64Array, width: number) =>
    one.length === other.length && sameNumbers(one.subarray(-width), other.subarray(-width));
  return alike(a.orientation, b.orientation, 4) && alike(a.position, b.position, 3);
}
