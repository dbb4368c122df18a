import { conjugate, logBetween, rotated } from "../base/quaternion.ts";
import type { Study } from "../base/study.ts";
import { type Vector, vectorLength } from "../base/vector.ts";
import { curveOf } from "../document/inputs.ts";
import { curveNamesOfNode, worldOf } from "../rig/pose.ts";
import { rigOf } from "../rig/rig.ts";

const channels = ["rotation.x", "rotation.y", "rotation.z", "rotation"] as const;

/**
 * The axis on which a node lacks an answer, where it has no curve of rotation at all: of its own axes, the one nearest to
 * that about which another node turns in the world, from a sample to where it has turned farthest.
 * @param mover rig index of what the node should answer to
 * @returns 0 to 2 for x to z; 3 where the other only travels, so that no axis is told; −1 where its rotation has a curve
 */
export function unkeyedAxisOf(study: Study, node: number, mover: number, from: number, to: number): number {
  const { parent, fixedRotation } = rigOf(study);
  if (curveNamesOfNode(study, node).some((name) => curveOf(study, name)?.channel.startsWith("rotation")))
    return -1;
  const { orientation } = worldOf(study, mover);
  const start = orientation.subarray(4 * from);
  let turn: Vector = [0, 0, 0];
  for (let i = from + 1; i <= to; i++) {
    const here = logBetween(start, orientation.subarray(4 * i));
    if (vectorLength(here) > vectorLength(turn)) turn = here;
  }
  if (vectorLength(turn) === 0) return 3;
  let own = rotated(start, turn);
  if (parent[node] >= 0) own = rotated(conjugate(worldOf(study, parent[node]).orientation, 4 * from), own);
  const sizes = rotated(conjugate(fixedRotation, 4 * node), own).map(Math.abs);
  return sizes.indexOf(Math.max(...sizes));
}

/** ", with keys on its rotation.z, which has none"; nothing where the axis is −1. */
export function onUnkeyed(axis: number, whose: string): string {
  return axis < 0 ? "" : `, with keys on ${whose} ${channels[axis]}, which has none`;
}
