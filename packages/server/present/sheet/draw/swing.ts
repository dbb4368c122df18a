import { type Study, worldOf } from "@keyside/core";
import type { Path } from "./path-of.ts";
import type { Span } from "./view.ts";

type Vector = readonly [number, number, number];

/** Turns smaller than this, in radians, have no axis to speak of: 2°. */
const leastTurn = 0.035;
/** Part of its distance by which an end has to swing about the axis for the turn to show there. */
const shows = 0.35;

/**
 * An arm on which a node's turn shows: square to the axis about which it turns most over some frames, in the node's
 * own axes, metres. Null where the turn shows at the node's end by itself, or there is none.
 */
export function swingArm(
  study: Study,
  node: number,
  end: number,
  { from, to }: Span,
  length: number,
): Vector | null {
  const { orientation, position } = worldOf(study, node);
  let most = 0;
  let axis: Vector = [0, 0, 0];
  for (let i = from + 1; i <= to; i++) {
    const [x, y, z, w] = turnBetween(orientation, 4 * from, 4 * i);
    const size = Math.hypot(x, y, z);
    const angle = 2 * Math.atan2(size, Math.abs(w));
    if (angle <= most || size === 0) continue;
    most = angle;
    axis = [x / size, y / size, z / size];
  }
  if (most < leastTurn) return null;
  const tip = worldOf(study, end).position;
  const bone = turned(
    inverse(orientation, 4 * from),
    [0, 1, 2].map((k) => tip[3 * from + k] - position[3 * from + k]),
  );
  const reach = Math.hypot(...bone);
  if (reach > 0 && Math.hypot(...square(bone, axis)) > shows * reach) return null;
  // Of the node's own axes the one that lies most square to the axis of turning.
  const arms = [
    [0, 0, 1],
    [1, 0, 0],
    [0, 1, 0],
  ].map((own) => square(own, axis));
  const sizes = arms.map((arm) => Math.hypot(...arm));
  // The first in this order that is square enough; only one of three can lie along the axis.
  const chosen = sizes.findIndex((one) => one > 0.8);
  const [arm, size] = [arms[chosen], sizes[chosen]];
  return [(arm[0] / size) * length, (arm[1] / size) * length, (arm[2] / size) * length];
}

/** Path of a point that is fixed to a node, away from it. */
export function armPath(study: Study, node: number, arm: Vector): Path {
  const { orientation, position } = worldOf(study, node);
  const path = new Float64Array(position.length);
  for (let i = 0; i < position.length / 3; i++) {
    const away = turned([...orientation.subarray(4 * i, 4 * i + 4)], arm);
    for (let k = 0; k < 3; k++) path[3 * i + k] = position[3 * i + k] + away[k];
  }
  return path;
}

/** The part of a vector that is square to an axis. */
function square(vector: readonly number[], axis: Vector): Vector {
  const along = vector[0] * axis[0] + vector[1] * axis[1] + vector[2] * axis[2];
  return [vector[0] - along * axis[0], vector[1] - along * axis[1], vector[2] - along * axis[2]];
}

function inverse(q: Float64Array, at: number): readonly number[] {
  return [-q[at], -q[at + 1], -q[at + 2], q[at + 3]];
}

/** The turn from one orientation of a series to another, in the axes of the first: q1⁻¹ q2. */
function turnBetween(q: Float64Array, one: number, two: number): readonly number[] {
  const [ax, ay, az, aw] = inverse(q, one);
  const [bx, by, bz, bw] = q.subarray(two, two + 4);
  return [
    aw * bx + ax * bw + ay * bz - az * by,
    aw * by - ax * bz + ay * bw + az * bx,
    aw * bz + ax * by - ay * bx + az * bw,
    aw * bw - ax * bx - ay * by - az * bz,
  ];
}

function turned([x, y, z, w]: readonly number[], [vx, vy, vz]: readonly number[]): Vector {
  const tx = 2 * (y * vz - z * vy);
  const ty = 2 * (z * vx - x * vz);
  const tz = 2 * (x * vy - y * vx);
  return [vx + w * tx + y * tz - z * ty, vy + w * ty + z * tx - x * tz, vz + w * tz + x * ty - y * tx];
}
