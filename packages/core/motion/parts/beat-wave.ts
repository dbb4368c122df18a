import { medianOf } from "../../base/median.ts";
import { rotateVector } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import type { Study } from "../../base/study.ts";
import { figuresOf } from "../../rig/body.ts";
import { localMotionOf } from "../../rig/local.ts";
import { worldOf } from "../../rig/pose.ts";
import { isAbove, rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { beatsOf } from "../body/beat.ts";
import { leastBeat, propulsorsOf } from "../body/propulsors.ts";
import { buoyedAt } from "../ground/medium.ts";
import { bestLag } from "./lag.ts";

/** How the bend of a beating chain gets from one of its joints to the next. */
export interface WaveStep extends Span {
  readonly node: number;
  /** The joint before it, which beats as well. */
  readonly before: number;
  /** Samples by which it bends behind that; negative where it is ahead. */
  readonly lag: number;
  /** Samples that a beat takes. */
  readonly period: number;
  /** Half of the angle between its extremes, radians. */
  readonly amplitude: number;
}

/** Fewest beats of which a lag is told: in one alone it may be the move that is meant. */
const fewestBeats = 2;
/** Correlation from which on two joints beat in one wave: beats that quicken are never all alike (our choice). */
const oneWave = 0.9;
/** Axes of two joints that lie within 45° of each other bend the chain in one plane. */
const onePlane = Math.SQRT1_2;

/** A chain that beats, and when it does. */
export interface BeatingChain extends Span {
  /** Joints, the inmost first. */
  readonly joints: readonly number[];
}

/**
 * Chains that beat: what hangs on each propulsor, from its first beat to its last, and of a body that water carries the chain
 * from its root to the end that lies farthest from its head.
 */
export function beatingChainsOf(study: Study, figure: number): readonly BeatingChain[] {
  const { rate, count } = gridOf(study);
  const swims = 2 * buoyedAt(study, figure).reduce((sum, one) => sum + one, 0) >= count;
  const tail = swims ? swimmingChain(study, figure) : [];
  const found: BeatingChain[] = tail.length > 1 ? [{ joints: tail, from: 0, to: count - 1 }] : [];
  for (const { node, series } of propulsorsOf(study, figure)) {
    const joints = chainFrom(study, node);
    const beats = beatsOf(series, rate, leastBeat);
    if (joints.length < 2 || beats.length < fewestBeats) continue;
    if (found.some((chain) => chain.joints.includes(node))) continue;
    found.push({ joints, from: beats[0].from, to: beats[beats.length - 1].to });
  }
  return found;
}

/** A joint and what hangs on it, by the longest way down, without the end. */
function chainFrom(study: Study, from: number): number[] {
  const { children, subtreeSize } = rigOf(study);
  const chain: number[] = [];
  for (let node = from; children[node].length > 0; ) {
    chain.push(node);
    node = children[node].reduce((a, b) => (subtreeSize[b] > subtreeSize[a] ? b : a));
  }
  return chain;
}

/**
 * From the root of a body to the end that is farthest from its head, without that end. Where no head is known, to the
 * farthest end that the root leaves behind it as it swims; empty where there is none.
 */
function swimmingChain(study: Study, figure: number): number[] {
  const { children, parent } = rigOf(study);
  const { root, nodes, parts } = figuresOf(study)[figure];
  const [head = root] = parts.get("head") ?? [];
  const isHeadKnown = parts.has("head");
  const ends = nodes.filter(
    (node) => children[node].length === 0 && (isHeadKnown || trails(study, root, node)),
  );
  if (ends.length === 0) return [];
  const from = worldOf(study, head).position;
  const far = (node: number) => {
    const at = worldOf(study, node).position;
    return Math.hypot(at[0] - from[0], at[1] - from[1], at[2] - from[2]);
  };
  let end = ends.reduce((a, b) => (far(b) > far(a) ? b : a));
  const chain: number[] = [];
  while (end !== root && !(isHeadKnown && isAbove(rigOf(study), end, head))) {
    end = parent[end];
    if (end < 0) return [];
    chain.unshift(end);
  }
  return chain;
}

/** Whether a node is behind the root on the whole of its way: whether the root goes away from where it is. */
function trails(study: Study, root: number, node: number): boolean {
  const [ahead, behind] = [root, node].map((one) => worldOf(study, one).position);
  let along = 0;
  for (let k = 3; k < ahead.length; k++) along += (ahead[k] - ahead[k - 3]) * (ahead[k] - behind[k]);
  return along > 0;
}

/** Steps of the wave along a chain, from each joint that beats to the next one that does. */
export function waveStepsOf(study: Study, { joints, from: first, to: last }: BeatingChain): WaveStep[] {
  const { rate } = gridOf(study);
  const steps: WaveStep[] = [];
  let before: { node: number; bend: Bend } | null = null;
  for (const node of joints) {
    const bend = bendOf(study, node, first, last, before?.bend.axis ?? null);
    const beats = bend === null ? [] : beatsOf(bend.series, rate, leastBeat);
    if (bend === null || beats.length < fewestBeats) continue;
    if (before !== null && bend.along >= onePlane) {
      const [from, to] = [beats[0].from, beats[beats.length - 1].to];
      const period = medianOf(beats.map((beat) => beat.to - beat.from));
      const { lag, correlation } = bestLag(
        before.bend.speed.subarray(from, to),
        bend.speed.subarray(from, to),
        Math.floor(period / 2),
      );
      const amplitude = medianOf(beats.map((beat) => beat.amplitude));
      if (correlation >= oneWave)
        steps.push({ node, before: before.node, from: first + from, to: first + to, lag, period, amplitude });
    }
    before = { node, bend };
  }
  return steps;
}

/** How a joint bends its chain. */
interface Bend {
  /** Radians about the axis about which it turns most, a number for each sample of the chain's beats. */
  readonly series: Float64Array;
  /** How much it turns from each of them to the next. */
  readonly speed: Float64Array;
  /** That axis, in the world half way through: the joints are unfolded then. */
  readonly axis: Float64Array;
  /** Cosine between it and that of the joint before; 1 where there is none. */
  readonly along: number;
}

/** How a joint bends its chain, to the side to which the joint before bends it; null where it is still. */
function bendOf(
  study: Study,
  node: number,
  first: number,
  last: number,
  before: Float64Array | null,
): Bend | null {
  const { turn } = localMotionOf(study, node);
  if (turn.still) return null;
  const q = turn.values.subarray(4 * first, 4 * last + 4);
  const count = last - first;
  const turns = floats(3 * count);
  const spread = new Float64Array(9);
  // Of steps, not of poses: a wing unfolds once, and beats again and again.
  for (let i = 0; i < count; i++) {
    turnFrom(q, i, turns);
    for (let a = 0; a < 3; a++)
      for (let b = 0; b < 3; b++) spread[3 * a + b] += turns[3 * i + a] * turns[3 * i + b];
  }
  const own = mainAxis(spread);
  const axis = new Float64Array(3);
  rotateVector(worldOf(study, node).orientation, 4 * ((first + last) >> 1), own, 0, axis, 0);
  let along = before === null ? 1 : axis[0] * before[0] + axis[1] * before[1] + axis[2] * before[2];
  if (along < 0) {
    along = -along;
    for (let k = 0; k < 3; k++) [own[k], axis[k]] = [-own[k], -axis[k]];
  }
  const speed = floats(count);
  const series = floats(count + 1);
  for (let i = 0; i < count; i++) {
    speed[i] = turns[3 * i] * own[0] + turns[3 * i + 1] * own[1] + turns[3 * i + 2] * own[2];
    series[i + 1] = series[i] + speed[i];
  }
  return { series, speed, axis, along };
}

/** Rotation vector from a sample to the next one. @param q 4 numbers per sample @param out 3 numbers per sample */
function turnFrom(q: Float64Array, i: number, out: Float64Array): void {
  const k = 4 * i;
  const [ax, ay, az, aw] = [-q[k], -q[k + 1], -q[k + 2], q[k + 3]];
  const [bx, by, bz, bw] = [q[k + 4], q[k + 5], q[k + 6], q[k + 7]];
  const x = aw * bx + ax * bw + ay * bz - az * by;
  const y = aw * by - ax * bz + ay * bw + az * bx;
  const z = aw * bz + ax * by - ay * bx + az * bw;
  const w = aw * bw - ax * bx - ay * by - az * bz;
  const sine = Math.hypot(x, y, z);
  const factor = sine === 0 ? 0 : (2 * Math.atan2(w < 0 ? -sine : sine, Math.abs(w))) / sine;
  out[3 * i] = factor * x;
  out[3 * i + 1] = factor * y;
  out[3 * i + 2] = factor * z;
}

/** Rounds of the power method: axes of a beat differ so much that a few would do. */
const rounds = 20;

/** Unit vector along which a symmetric 3 × 3 matrix is largest. */
function mainAxis(matrix: Float64Array): Float64Array {
  // Begins at the row that is longest.
  let row = 0;
  const long = (r: number) => Math.hypot(matrix[3 * r], matrix[3 * r + 1], matrix[3 * r + 2]);
  for (let r = 1; r < 3; r++) if (long(r) > long(row)) row = r;
  const axis = Float64Array.from(matrix.subarray(3 * row, 3 * row + 3));
  const next = new Float64Array(3);
  for (let round = 0; round < rounds; round++) {
    for (let r = 0; r < 3; r++)
      next[r] = matrix[3 * r] * axis[0] + matrix[3 * r + 1] * axis[1] + matrix[3 * r + 2] * axis[2];
    const length = Math.hypot(next[0], next[1], next[2]);
    if (!(length > 0)) return axis;
    for (let r = 0; r < 3; r++) axis[r] = next[r] / length;
  }
  return axis;
}
