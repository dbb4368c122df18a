import {
  minus,
  pointAt,
  rotated,
  type Study,
  scaled,
  type Vector,
  vectorLength,
  worldOf,
} from "@keyside/core";
import { across, conjugate, multiplyQuaternions, rotationVectorOf } from "@keyside/core/internal";
import type { Path } from "./path-of.ts";
import type { Span } from "./view.ts";

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
  const back = conjugate(orientation, 4 * from);
  const turn = new Float64Array(4);
  let most = 0;
  let axis: Vector = [0, 0, 0];
  for (let i = from + 1; i <= to; i++) {
    multiplyQuaternions(back, 0, orientation, 4 * i, turn, 0);
    const way = rotationVectorOf(turn, 0);
    const angle = vectorLength(way);
    if (angle <= most) continue;
    most = angle;
    axis = scaled(way, 1 / angle);
  }
  if (most < leastTurn) return null;
  const tip = worldOf(study, end).position;
  const bone = rotated(back, minus(pointAt(tip, from), pointAt(position, from)));
  const reach = vectorLength(bone);
  if (reach > 0 && vectorLength(across(bone, axis)) > shows * reach) return null;
  // Of the node's own axes the one that lies most square to the axis of turning.
  const own: readonly Vector[] = [
    [0, 0, 1],
    [1, 0, 0],
    [0, 1, 0],
  ];
  const arms = own.map((one) => across(one, axis));
  const sizes = arms.map(vectorLength);
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
    const away = rotated(orientation, arm, 4 * i);
    for (let k = 0; k < 3; k++) path[3 * i + k] = position[3 * i + k] + away[k];
  }
  return path;
}
