import { conjugateInto, rotateVector } from "../../../base/quaternion.ts";
import { type Study, shotMeasure } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { chordOf } from "../../../motion/path/path.ts";
import { carrierOf, figureOfNode, figuresOf } from "../../../rig/body.ts";
import { type World, worldOf } from "../../../rig/pose.ts";

/** Parts whose first joint is the end of a limb, and parts whose last node is. */
const firstJoints = ["leftHand", "rightHand", "leftFoot", "rightFoot"] as const;
const lastNodes = ["leftWing", "rightWing", "tail"] as const;

/**
 * The ends of all figures' limbs, with the part that each ends: the nodes that swing about a body and whose paths a
 * viewer follows. Heads are none: they ride on the spine, which bends to and fro as one.
 */
export const limbEndsOf = shotMeasure<ReadonlyMap<number, BodyPart>>(
  "limb ends",
  (study) => {
    const ends = new Map<number, BodyPart>();
    for (const { parts } of figuresOf(study)) {
      for (const part of firstJoints) {
        const node = parts.get(part)?.[0];
        if (node !== undefined) ends.set(node, part);
      }
      for (const part of lastNodes) {
        const node = parts.get(part)?.at(-1);
        if (node !== undefined) ends.set(node, part);
      }
    }
    return ends;
  },
  (a, b) => a.size === b.size && [...a].every(([node, part]) => b.get(node) === part),
);

/**
 * Whether a limb is carried rather than swung between two samples: the root of its body travels at least `share` of
 * `length` (metres), or, since it also turns, leaves the limb no more than the rest of the way against it.
 */
export function isCarried(
  study: Study,
  node: number,
  from: number,
  to: number,
  length: number,
  share: number,
): boolean {
  const root = carrierOf(figuresOf(study)[figureOfNode(study, node)]);
  if (root === node) return true;
  const body = worldOf(study, root);
  if (chordOf(body.position, from, to).chord >= share * length) return true;
  const path = worldOf(study, node).position;
  placeIn(body, path, from, start);
  placeIn(body, path, to, end);
  return distanceBetween(start, 0, end, 0) <= (1 - share) * length;
}

const start = new Float64Array(3);
const end = new Float64Array(3);
const offset = new Float64Array(3);
const back = new Float64Array(4);

/** Place of a path's sample in the axes of a body at that moment. */
function placeIn({ position, orientation }: World, path: Float64Array, at: number, out: Float64Array): void {
  for (let axis = 0; axis < 3; axis++) offset[axis] = path[3 * at + axis] - position[3 * at + axis];
  conjugateInto(orientation, 4 * at, back, 0);
  rotateVector(back, 0, offset, 0, out, 0);
}

/** Setting of how far a body may travel before its limbs count as carried. */
export const carriedSetting = {
  default: 0.5,
  unit: "share",
  what: "share of the way that the whole body makes too, from which on the limb is carried and not swung",
  source:
    "common practice: where the body goes half of the way too, the path is the body's more than the limb's, and no arc of the limb is drawn",
  min: 0,
} as const;
