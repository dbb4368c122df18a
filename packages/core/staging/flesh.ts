import { measure } from "../base/study.ts";
import type { BodyPart } from "../document/schema.ts";
import { type Figure, figuresOf, statureOf } from "../rig/body.ts";
import { lengthShare } from "../rig/proportions.ts";
import { rigOf } from "../rig/rig.ts";

/** A capsule along a bone of a figure. */
export interface Bone {
  /** Nodes (rig indices) of its ends; the same where it is a ball about a joint. */
  readonly from: number;
  readonly to: number;
  /** Metres. */
  readonly radius: number;
  /** The part that starts at `from`. */
  readonly part: BodyPart | undefined;
}

/** Thickness of a hand from its middle on, in body heights. */
export const handThickness = 0.016;
/** Thickness of a part in body heights; common practice in drawing, not measured on anyone. */
const thickness: Readonly<Partial<Record<BodyPart, number>>> = {
  root: 0.055,
  spine: 0.06,
  chest: 0.05,
  neck: 0.026,
  head: 0.045,
  jaw: 0.02,
  leftShoulder: 0.032,
  leftUpperArm: 0.027,
  leftForearm: 0.022,
  leftHand: handThickness,
  leftThigh: 0.043,
  leftShin: 0.031,
  leftFoot: 0.022,
  leftToes: 0.018,
  leftWing: 0.02,
  tail: 0.016,
  ears: 0.01,
  hair: 0.016,
  prop: 0.02,
};
/** Of whatever is no part. */
const otherwise = 0.014;
/** Winged bodies stand on thin legs and carry a thin neck. */
const winged: Readonly<Partial<Record<BodyPart, number>>> = {
  root: 0.075,
  spine: 0.075,
  chest: 0.06,
  neck: 0.022,
  head: 0.026,
  leftThigh: 0.024,
  leftShin: 0.011,
  leftFoot: 0.009,
  leftToes: 0.008,
};
/** Balls about parts whose joint ends the chain, in body heights: half of their length. */
const ends: Readonly<Partial<Record<BodyPart, number>>> = {
  head: lengthShare.head / 2,
  leftHand: lengthShare.hand / 2,
};

/** The capsules of a figure: one for each bone, and a ball where a head or a hand has no bone beyond its joint. */
export const bonesOf = measure(
  "bones",
  (study, index: number): readonly Bone[] => {
    const figure = figuresOf(study)[index];
    const stature = statureOf(study, index);
    const rig = rigOf(study);
    const inside = new Set(figure.nodes);
    const bones: Bone[] = [];
    for (const node of figure.nodes) {
      const own = figure.partOf.get(node);
      const ball = own === undefined ? undefined : ends[leftOf(own)];
      if (
        ball !== undefined &&
        rig.children[node].length === 0 &&
        figure.parts.get(own as BodyPart)?.[0] === node
      )
        bones.push({ from: node, to: node, radius: ball * stature, part: own });
      const above = rig.parent[node];
      if (above < 0 || !inside.has(above)) continue;
      const part = figure.partOf.get(above);
      // Single fingers are too small to be drawn; the bones that lead to them are the hand.
      if (part === "leftFingers" || part === "rightFingers") continue;
      bones.push({ from: above, to: node, radius: radiusOf(figure, part) * stature, part });
    }
    return bones;
  },
  (a, b) => a.length === b.length && a.every((bone, i) => sameBone(bone, b[i])),
);

function sameBone(a: Bone, b: Bone): boolean {
  return a.from === b.from && a.to === b.to && a.radius === b.radius && a.part === b.part;
}

function leftOf(part: BodyPart): BodyPart {
  return part.replace(/^right/, "left") as BodyPart;
}

function radiusOf({ kind }: Figure, part: BodyPart | undefined): number {
  if (part === undefined || kind === "other") return otherwise;
  const left = leftOf(part);
  return (kind === "winged" ? winged[left] : undefined) ?? thickness[left] ?? otherwise;
}
