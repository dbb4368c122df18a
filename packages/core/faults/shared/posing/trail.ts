import { radiansPerDegree } from "../../../base/constants.ts";
import { conjugate, logBetween, multiplyQuaternions, turnedBy } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { vectorLength } from "../../../base/vector.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { outerWorldOf, worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { ramp } from "../keying/courses.ts";
import { type TurnLaying, turnedNode } from "./node-turns.ts";
import type { Samples } from "./offsets.ts";

/** How a node trails what carries it. */
export interface Trail {
  readonly node: number;
  /** The node whose turning it trails. */
  readonly carrier: number;
  /** Judged frames by which it is late; with a fraction. */
  readonly lag: number;
  /** Share of the carrier's turn within the lag that it stays behind. */
  readonly share: number;
  /** Most that it stays behind, radians. */
  readonly most: number;
}

/**
 * World turns by which a node stays behind its carrier: what the carrier turned within the lag, taken back. Where the
 * carrier holds nothing is left of it a lag later, so that the node arrives late and settles.
 * @returns 4 numbers per sample from lo to hi
 */
export function trailingTurns(study: Study, trail: Trail, { lo, hi }: Samples): Float64Array {
  const { orientation } = worldOf(study, trail.carrier);
  const count = hi - lo + 1;
  const turns = new Float64Array(4 * count);
  const then = new Float64Array(4);
  const identity = Float64Array.of(0, 0, 0, 1);
  for (let n = 0; n < count; n++) {
    const i = lo + n;
    orientationAt(orientation, i - trail.lag, then);
    // In the world's axes: then · now⁻¹ is exp of what the carrier has to be turned by to be where it was.
    const back = new Float64Array(4);
    multiplyQuaternions(then, 0, conjugate(orientation, 4 * i), 0, back, 0);
    const way = logBetween(identity, back);
    const size = vectorLength(way);
    // A loose part gives easily at first and ever less: never more than the most.
    const kept = size > 0 ? (trail.most * Math.tanh((trail.share * size) / trail.most)) / size : 0;
    const fade = fadeAt(study, i, { lo, hi });
    for (let k = 0; k < 3; k++) way[k] *= kept * fade;
    turnedBy(identity, way, turns.subarray(4 * n, 4 * n + 4));
  }
  return turns;
}

/** A change fades in and out over this many judged frames where the samples do not start or end with the range. */
const fadeFrames = 3;

function fadeAt(study: Study, i: number, { lo, hi }: Samples): number {
  const last = gridOf(study).count - 1;
  const start = lo === 0 ? 1 : ramp(i, lo, lo + fadeFrames);
  const end = hi === last ? 1 : 1 - ramp(i, hi - fadeFrames, hi);
  return start * end;
}

function orientationAt(orientation: Float64Array, at: number, out: Float64Array): void {
  const last = orientation.length / 4 - 1;
  const clamped = Math.min(last, Math.max(0, at));
  const i = Math.min(Math.floor(clamped), Math.max(0, last - 1));
  const a = orientation.subarray(4 * i, 4 * i + 4);
  if (last === 0) {
    out.set(a);
    return;
  }
  const way = logBetween(a, orientation.subarray(4 * i + 4, 4 * i + 8));
  const share = clamped - i;
  for (let k = 0; k < 3; k++) way[k] *= share;
  turnedBy(a, way, out);
}

/** A node that is to be turned in the world, on top of what it does. */
export interface TurnedNode {
  readonly node: number;
  /** 4 numbers per sample, in the world's axes. */
  readonly turns: Float64Array;
}

/** Turns that nobody keyed need no more keys than it takes to be read. */
const sketched: TurnLaying = { newFrom: radiansPerDegree, loose: 10 };

/**
 * Edits that turn nodes in the world. Each keeps the turn that it is given, whatever those above it in the list do;
 * nodes below it that are not in the list go along.
 * @param nodes parents before children
 */
export function turnedInWorld(
  study: Study,
  nodes: readonly TurnedNode[],
  samples: Samples,
  laying: TurnLaying = sketched,
): KeyEdit[] {
  const rig = rigOf(study);
  const { lo, hi } = samples;
  const count = hi - lo + 1;
  const given = new Map(nodes.map(({ node, turns }) => [node, turns]));
  const outerTurn = new Float64Array(4);
  const world = new Float64Array(4);
  return nodes.flatMap(({ node, turns }) => {
    const up = rig.parent[node];
    const above = up < 0 ? outerWorldOf(study, undefined) : worldOf(study, up);
    const { orientation } = worldOf(study, node);
    // What the parent is turned by: its own turn if it has one, else that of the nearest node above that has.
    let carried: Float64Array | undefined;
    for (let at = up; at >= 0 && carried === undefined; at = rig.parent[at]) carried = given.get(at);
    const local = new Float64Array(4 * count);
    for (let n = 0; n < count; n++) {
      if (carried === undefined) outerTurn.set(above.orientation.subarray(4 * (lo + n), 4 * (lo + n) + 4));
      else multiplyQuaternions(carried, 4 * n, above.orientation, 4 * (lo + n), outerTurn, 0);
      multiplyQuaternions(turns, 4 * n, orientation, 4 * (lo + n), world, 0);
      multiplyQuaternions(conjugate(outerTurn, 0), 0, world, 0, local, 4 * n);
    }
    return turnedNode(study, node, samples, local, laying);
  });
}
