import { measure, type Study } from "../base/study.ts";
import type { BodyPart } from "../document/schema.ts";
import { figureOfNode, figuresOf } from "./body.ts";
import { chainTopsOf, isAbove, rigOf } from "./rig.ts";

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

/** The same for what hangs on a limb's last joint: it has no carrier of its own. */
const limbOfEnd: Partial<Record<BodyPart, BodyPart>> = {
  leftToes: "leftThigh",
  rightToes: "rightThigh",
  leftFingers: "leftUpperArm",
  rightFingers: "rightUpperArm",
};

/** The neck and the trunk, which are carried as limbs are: the head by the chest, the chest by the root. */
const carriedParts: Partial<Record<BodyPart, BodyPart>> = {
  ...firstParts,
  neck: "neck",
  head: "neck",
  spine: "spine",
  chest: "spine",
};

/**
 * What carries a limb: the node above its first joint, such as the chest or the pelvis. Neck and head, and the trunk,
 * are carried alike. Where no part of the body is known, a limb is a chain without a branch.
 * @param node rig index of a node of the limb
 * @returns rig index; −1 for a node of no limb and for a limb's first joint
 */
export const limbCarrierOf = measure("limb carrier", (study: Study, node: number): number => {
  const rig = rigOf(study);
  const index = figureOfNode(study, node);
  if (index < 0) return -1;
  const { parts, partOf } = figuresOf(study)[index];
  const part = partOf.get(node);
  const first = part === undefined ? chainTopsOf(study)[node] : parts.get(carriedParts[part] ?? part)?.[0];
  if (first === undefined || first < 0 || first === node) return -1;
  if (part !== undefined && carriedParts[part] === undefined) return -1;
  return rig.parent[first];
});

/**
 * What carries the trunk at whose end a tail begins, as a fish's does: trunk and tail swing as one, and the tail's own
 * carrier swings along.
 * @param node rig index of a node of the tail
 * @returns rig index; −1 for a node of no such tail
 */
export const trunkCarrierOf = measure("trunk carrier", (study: Study, node: number): number => {
  const index = figureOfNode(study, node);
  if (index < 0) return -1;
  const { parts, partOf } = figuresOf(study)[index];
  const first = partOf.get(node) === "tail" ? parts.get("tail")?.[0] : undefined;
  const above = first === undefined ? -1 : rigOf(study).parent[first];
  return above >= 0 && isTrunk(partOf.get(above)) ? limbCarrierOf(study, above) : -1;
});

function isTrunk(part: BodyPart | undefined): boolean {
  return part === "spine" || part === "chest";
}

/**
 * Whether a node is a joint of the limb on which another one hangs: from the limb's first joint (the hip or shoulder
 * joint), however many follow, down to that one.
 * @param node rig index of the node
 * @param end rig index of what hangs on the limb, such as its foot
 */
export function isOnLimbTo(study: Study, node: number, end: number): boolean {
  const rig = rigOf(study);
  const index = figureOfNode(study, end);
  if (index < 0 || !isAbove(rig, node, end)) return false;
  const { parts, partOf } = figuresOf(study)[index];
  for (let at = end; at >= 0; at = rig.parent[at]) {
    const part = partOf.get(at);
    if (part === undefined) continue;
    const top = firstParts[part] ?? limbOfEnd[part];
    const first = top === undefined ? undefined : parts.get(top)?.[0];
    return first !== undefined && isAbove(rig, first, node);
  }
  return false;
}
