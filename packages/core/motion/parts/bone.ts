import { floats } from "../../base/room.ts";
import type { Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";

/**
 * Turning of a bone's direction. A bone that only rolls about its own length does not turn here, whatever the node at
 * its start does: an arm that hangs while the body turns does not swing, and neither does hair.
 */

/** Tells the angle in radians, 0 to π, between the directions from a node to another one at two samples. */
export function boneAngles(study: Study, node: number, end: number): (from: number, to: number) => number {
  const a = worldOf(study, node).position;
  const b = worldOf(study, end).position;
  return (from, to) => angleOf(b, a, 3 * from, b, a, 3 * to);
}

/**
 * Angle in radians by which the direction from a node to another one turns from the sample before to each sample; the
 * first entry is 0.
 */
export function boneTurns(study: Study, node: number, end: number): Float64Array {
  return bonesTurn(worldOf(study, node).position, worldOf(study, end).position);
}

/** The same from the paths of a bone's two ends, 3 numbers per sample. */
export function bonesTurn(start: Float64Array, end: Float64Array): Float64Array {
  const turns = floats(start.length / 3);
  for (let i = 1; i < turns.length; i++) turns[i] = angleOf(end, start, 3 * (i - 1), end, start, 3 * i);
  return turns;
}

/**
 * Angle in radians by which the direction from a node to another one turns against the node's parent, from the sample
 * before to each sample; the first entry is 0. Against the world where the node has no parent.
 */
export function boneTurnsInParent(study: Study, node: number, end: number): Float64Array {
  const parent = rigOf(study).parent[node];
  if (parent < 0) return boneTurns(study, node, end);
  const a = worldOf(study, node).position;
  const b = worldOf(study, end).position;
  const { orientation } = worldOf(study, parent);
  const turns = floats(a.length / 3);
  let before: number[] = [];
  for (let i = 0; i < turns.length; i++) {
    const k = 3 * i;
    const here = turned(orientation, 4 * i, [b[k] - a[k], b[k + 1] - a[k + 1], b[k + 2] - a[k + 2]], -1);
    if (i > 0) turns[i] = angleOf(before, none, 0, here, none, 0);
    before = here;
  }
  return turns;
}

/**
 * The turns that {@link boneTurns} would give if the bone were fixed to the node's parent as it stands at one sample.
 * @param at sample whose pose counts
 */
export function carriedTurns(study: Study, node: number, end: number, at: number): Float64Array {
  const parent = rigOf(study).parent[node];
  const a = worldOf(study, node).position;
  const turns = floats(a.length / 3);
  if (parent < 0) return turns;
  const b = worldOf(study, end).position;
  const { orientation } = worldOf(study, parent);
  const bone = [b[3 * at] - a[3 * at], b[3 * at + 1] - a[3 * at + 1], b[3 * at + 2] - a[3 * at + 2]];
  const local = turned(orientation, 4 * at, bone, -1);
  let before = bone;
  for (let i = 0; i < turns.length; i++) {
    const here = turned(orientation, 4 * i, local, 1);
    if (i > 0) turns[i] = angleOf(before, none, 0, here, none, 0);
    before = here;
  }
  return turns;
}

const none = [0, 0, 0];

/** A vector turned by a quaternion at an offset (`way` 1), or back (−1). */
function turned(q: Float64Array, at: number, v: readonly number[], way: 1 | -1): number[] {
  const x = way * q[at];
  const y = way * q[at + 1];
  const z = way * q[at + 2];
  const w = q[at + 3];
  const tx = 2 * (y * v[2] - z * v[1]);
  const ty = 2 * (z * v[0] - x * v[2]);
  const tz = 2 * (x * v[1] - y * v[0]);
  return [v[0] + w * tx + y * tz - z * ty, v[1] + w * ty + z * tx - x * tz, v[2] + w * tz + x * ty - y * tx];
}

/** Angle between b − a at one offset and d − c at another, by the arc tangent, which keeps small angles' digits. */
function angleOf(
  b: ArrayLike<number>,
  a: ArrayLike<number>,
  m: number,
  d: ArrayLike<number>,
  c: ArrayLike<number>,
  n: number,
): number {
  const ux = b[m] - a[m];
  const uy = b[m + 1] - a[m + 1];
  const uz = b[m + 2] - a[m + 2];
  const vx = d[n] - c[n];
  const vy = d[n + 1] - c[n + 1];
  const vz = d[n + 2] - c[n + 2];
  const cross = lengthOf(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
  return Math.atan2(cross, ux * vx + uy * vy + uz * vz);
}
