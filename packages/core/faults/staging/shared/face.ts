import { conjugate, rotated } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { cross, minus, plus, pointAt, scaled, type Vector, vectorLength } from "../../../base/vector.ts";
import { figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { restOrientation } from "../../../rig/rest-turn.ts";
import { isAbove, restPositionsOf, rigOf } from "../../../rig/rig.ts";
import { upIndexOf } from "../../../rig/up.ts";

/** Where a face points. */
export interface Face {
  /** Unit vector in the world at a sample. */
  at(sample: number): Vector;
}

/**
 * Where a figure's face points: with its head, as the body faces in the rest pose. From right to left and up tell it; of a
 * body without two thighs or two upper arms, as a fish or a spider, the way on which its head is ahead of what carries it.
 * @returns null where the rest pose tells neither
 */
export function faceOf(study: Study, figure: number): Face | null {
  const head = figuresOf(study)[figure].parts.get("head")?.[0];
  const ahead = head === undefined ? null : (aheadOfSides(study, figure) ?? aheadOfHead(study, figure, head));
  if (head === undefined || ahead === null) return null;
  const own = rotated(conjugate(restOrientation(study, head), 0), ahead);
  const { orientation } = worldOf(study, head);
  return { at: (sample) => rotated(orientation, own, 4 * sample) };
}

function aheadOfSides(study: Study, figure: number): Vector | null {
  const { parts } = figuresOf(study)[figure];
  const pair = (["Thigh", "UpperArm"] as const)
    .map((name) => [parts.get(`left${name}`)?.[0], parts.get(`right${name}`)?.[0]])
    .find(([left, right]) => left !== undefined && right !== undefined);
  if (pair === undefined) return null;
  const rest = restPositionsOf(study);
  const [left, right] = pair.map((node) => pointAt(rest, node as number));
  const ahead = cross(minus(left, right), upOf(study));
  const length = vectorLength(ahead);
  return length > 0 ? scaled(ahead, 1 / length) : null;
}

/** Sine of 45°: what rises more steeply tells how the head stands on the body, not where the face is. */
const steepest = Math.SQRT1_2;

/**
 * The first that is no steeper than that, without its rise: the way from a head's joint to its end, the bone that leads to
 * it, and the way to the middle of all that hangs on it but hair and ears, as a snout; null where all are steep.
 */
function aheadOfHead(study: Study, figure: number, head: number): Vector | null {
  const { nodes, partOf } = figuresOf(study)[figure];
  const rig = rigOf(study);
  const rest = restPositionsOf(study);
  const at = pointAt(rest, head);
  const below = nodes.filter((node) => node !== head && isAbove(rig, head, node));
  const end = below.findLast((node) => partOf.get(node) === "head");
  const hanging = below.filter((node) => partOf.get(node) === undefined);
  const above = rig.parent[head];
  const ways = [
    ...(end === undefined ? [] : [minus(pointAt(rest, end), at)]),
    ...(above < 0 ? [] : [minus(at, pointAt(rest, above))]),
    hanging.reduce<Vector>((sum, node) => plus(sum, minus(pointAt(rest, node), at)), [0, 0, 0]),
  ];
  const up = upOf(study);
  for (const way of ways) {
    const rise = way[0] * up[0] + way[1] * up[1] + way[2] * up[2];
    const level = minus(way, scaled(up, rise));
    const length = vectorLength(level);
    if (length > 0 && Math.abs(rise) <= steepest * vectorLength(way)) return scaled(level, 1 / length);
  }
  return null;
}

function upOf(study: Study): Vector {
  return [0, 1, 2].map((axis) => Number(axis === upIndexOf(study))) as unknown as Vector;
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
