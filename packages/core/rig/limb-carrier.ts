import { measure, type Study } from "../base/study.ts";
import type { BodyPart } from "../document/schema.ts";
import { figureOfNode, figuresOf } from "./body.ts";
import { type Rig, rigOf } from "./rig.ts";

/** Which part a limb starts with, for all that belong to one. */
const firstParts: Partial<Record<BodyPart, BodyPart>> = {
  leftForearm: "leftUpperArm",
  rightForearm: "rightUpperArm",
  leftHand: "leftUpperArm",
  rightHand: "rightUpperArm",
  leftShin: "leftThigh",
  rightShin: "rightThigh",
  leftFoot: "leftThigh",
  rightFoot: "rightThigh",
  leftWing: "leftWing",
  rightWing: "rightWing",
  tail: "tail",
};

/**
 * What carries a limb: the node above its first joint, such as the chest or the pelvis. Where no part of the body is
 * known, a limb is a chain without a branch.
 * @param node rig index of a node of the limb
 * @returns rig index; −1 for a node of no limb and for a limb's first joint
 */
export const limbCarrierOf = measure("limb carrier", (study: Study, node: number): number => {
  const rig = rigOf(study);
  const index = figureOfNode(study, node);
  if (index < 0) return -1;
  const { parts, partOf } = figuresOf(study)[index];
  const part = partOf.get(node);
  const first = part === undefined ? branchAbove(rig, node) : parts.get(firstParts[part] ?? part)?.[0];
  if (first === undefined || first < 0 || first === node) return -1;
  if (part !== undefined && firstParts[part] === undefined) return -1;
  return rig.parent[first];
});

/** First node of the chain without a branch in which a node is. */
function branchAbove(rig: Rig, node: number): number {
  let at = node;
  while (rig.parent[at] >= 0 && rig.subtreeSize[rig.parent[at]] === rig.subtreeSize[at] + 1)
    at = rig.parent[at];
  return at;
}
