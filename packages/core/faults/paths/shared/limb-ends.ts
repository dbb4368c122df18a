import { type Study, shotMeasure } from "../../../base/study.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { chordOf } from "../../../motion/path/path.ts";
import { carrierOf, figureOfNode, figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";

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
 * `length` (metres).
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
  return root === node || chordOf(worldOf(study, root).position, from, to).chord >= share * length;
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
