import type { Study } from "../../base/study.ts";
import { figuresOf } from "../../rig/body.ts";
import { limbsOf } from "../../rig/limb.ts";
import { boneLengthOf } from "../../rig/reach.ts";
import { isAbove, rigOf } from "../../rig/rig.ts";
import { footPointsOf } from "./feet.ts";

/** A limb as it is posed: what turns about its root, bends in its middle, and stands or holds with its end. */
export interface PosedLimb {
  readonly kind: "leg" | "arm";
  readonly root: number;
  readonly middle: number;
  readonly end: number;
  /** Rig index of the ball of a foot; -1 where there is none. */
  readonly ball: number;
}

/**
 * All limbs of a figure that can be posed by their ends: arms and legs by name, and the two bones over each foot that none
 * of these carries, as bodies on six and eight legs have them.
 */
export function allLimbsOf(study: Study, figure: number): PosedLimb[] {
  const rig = rigOf(study);
  const { root: trunk } = figuresOf(study)[figure];
  const limbs: PosedLimb[] = [...limbsOf(study, figure)];
  for (const { foot: end } of footPointsOf(study, figure)) {
    if (limbs.some((limb) => isAbove(rig, limb.root, end))) continue;
    const middle = rig.parent[end];
    const root = middle < 0 ? -1 : rig.parent[middle];
    if (root < 0 || root === trunk || !isAbove(rig, trunk, root)) continue;
    if (!(boneLengthOf(study, root, middle) > 0) || !(boneLengthOf(study, middle, end) > 0)) continue;
    limbs.push({ kind: "leg", root, middle, end, ball: -1 });
  }
  return limbs;
}

/** The limb that a foot, a ball, or toes belong to; null where none can be posed by its end. */
export function limbOfFoot(study: Study, figure: number, node: number): PosedLimb | null {
  const rig = rigOf(study);
  return allLimbsOf(study, figure).find(({ end }) => isAbove(rig, end, node)) ?? null;
}
