import { conjugate, rotated } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { cross, minus, pointAt, scaled, type Vector, vectorLength } from "../../../base/vector.ts";
import { figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { restOrientation } from "../../../rig/rest-turn.ts";
import { restPositionsOf, rigOf } from "../../../rig/rig.ts";
import { upIndexOf } from "../../../rig/up.ts";

/** Where a face points. */
export interface Face {
  /** Unit vector in the world at a sample. */
  at(sample: number): Vector;
}

/**
 * Where a figure's face points: with its head, as the body faces in the rest pose, from right to left and up telling it.
 * @returns null where the rest pose tells no left and right
 */
export function faceOf(study: Study, figure: number): Face | null {
  const { parts } = figuresOf(study)[figure];
  const head = parts.get("head")?.[0];
  const pair = (["Thigh", "UpperArm"] as const)
    .map((name) => [parts.get(`left${name}`)?.[0], parts.get(`right${name}`)?.[0]])
    .find(([left, right]) => left !== undefined && right !== undefined);
  if (head === undefined || pair === undefined) return null;
  const rest = restPositionsOf(study);
  const [left, right] = pair.map((node) => pointAt(rest, node as number));
  const up = [0, 1, 2].map((axis) => Number(axis === upIndexOf(study))) as unknown as Vector;
  const ahead = cross(minus(left, right), up);
  const length = vectorLength(ahead);
  if (!(length > 0)) return null;
  const own = rotated(conjugate(restOrientation(study, head), 0), scaled(ahead, 1 / length));
  const { orientation } = worldOf(study, head);
  return { at: (sample) => rotated(orientation, own, 4 * sample) };
}

/**
 * Where a head goes on from its joint that has no node beyond it: along the bone that leads to it in the rest pose, turned
 * with the head.
 * @returns null where no bone leads to it
 */
export function beyondHead(study: Study, head: number): Face | null {
  const above = rigOf(study).parent[head];
  if (above < 0) return null;
  const rest = restPositionsOf(study);
  const bone = minus(pointAt(rest, head), pointAt(rest, above));
  const length = vectorLength(bone);
  if (!(length > 0)) return null;
  const own = rotated(conjugate(restOrientation(study, head), 0), scaled(bone, 1 / length));
  const { orientation } = worldOf(study, head);
  return { at: (sample) => rotated(orientation, own, 4 * sample) };
}
