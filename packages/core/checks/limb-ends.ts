import type { BodyPart } from "../document/schema.ts";
import { figuresOf } from "../rig/body.ts";
import { shotMeasure } from "../study/study.ts";

/** Parts whose first joint is the end of a limb, and parts whose last node is. */
const firstJoints = ["leftHand", "rightHand", "leftFoot", "rightFoot", "head"] as const;
const lastNodes = ["leftWing", "rightWing", "tail"] as const;

/** The ends of all figures' limbs: the nodes whose paths a viewer follows, with the part that each ends. */
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
