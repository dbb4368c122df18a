import { floats } from "../base/room.ts";
import { measure, type Study } from "../base/study.ts";
import { distanceBetween } from "../base/vector.ts";
import type { BodyPart } from "../document/schema.ts";
import { figuresOf } from "./body.ts";
import { worldOf } from "./pose.ts";
import { boneLengthOf } from "./reach.ts";

/** A limb of two bones. */
export interface Limb {
  readonly side: "left" | "right";
  readonly kind: "leg" | "arm";
  /** Hip or shoulder joint, knee or elbow, ankle or wrist. */
  readonly root: number;
  readonly middle: number;
  readonly end: number;
  /** Ball of the foot; -1 where the rig has none, and for arms. */
  readonly ball: number;
  /** Length of each bone in the first judged frame, metres. */
  readonly upper: number;
  readonly lower: number;
}

/** Legs and arms of a figure that have all three joints, left before right. */
export const limbsOf = measure(
  "limbs",
  (study, figure: number): readonly Limb[] => {
    const { parts } = figuresOf(study)[figure];
    const limbs: Limb[] = [];
    for (const kind of ["leg", "arm"] as const) {
      for (const side of ["left", "right"] as const) {
        const names = kind === "leg" ? ["Thigh", "Shin", "Foot"] : ["UpperArm", "Forearm", "Hand"];
        const [root, middle, end] = names.map((name) => parts.get(`${side}${name}` as BodyPart)?.[0]);
        if (root === undefined || middle === undefined || end === undefined) continue;
        const ball = kind === "leg" ? (parts.get(`${side}Toes`)?.[0] ?? -1) : -1;
        const upper = boneLengthOf(study, root, middle);
        const lower = boneLengthOf(study, middle, end);
        if (upper > 0 && lower > 0) limbs.push({ side, kind, root, middle, end, ball, upper, lower });
      }
    }
    return limbs;
  },
  (a, b) => a.length === b.length && a.every((limb, i) => sameLimb(limb, b[i])),
);

function sameLimb(a: Limb, b: Limb): boolean {
  return (
    a.root === b.root &&
    a.middle === b.middle &&
    a.end === b.end &&
    a.ball === b.ball &&
    a.upper === b.upper &&
    a.lower === b.lower
  );
}

/** Distance between two nodes at each sample, metres: the length of a limb from its root joint to its end. */
export function limbReachOf(study: Study, root: number, end: number): Float64Array {
  const a = worldOf(study, root).position;
  const b = worldOf(study, end).position;
  const reach = floats(a.length / 3);
  for (let i = 0; i < reach.length; i++) reach[i] = distanceBetween(a, i, b, i);
  return reach;
}

/** {@link limbReachOf} at one sample. */
export function limbReachAt(study: Study, root: number, end: number, sample: number): number {
  return distanceBetween(worldOf(study, root).position, sample, worldOf(study, end).position, sample);
}

/** How far a limb is stretched at each sample: the distance of its ends over the length of its bones, up to 1. */
export function stretchOf(reach: Float64Array, { upper, lower }: Limb): Float64Array {
  return reach.map((length) => Math.min(1, length / (upper + lower)));
}

/** Bend of a limb's middle joint at each sample, radians: 0 straight; by the law of cosines. */
export function bendOf(reach: Float64Array, { upper, lower }: Limb): Float64Array {
  const across = 2 * upper * lower;
  const squares = upper * upper + lower * lower;
  return reach.map((length) => {
    const cosine = (length * length - squares) / across;
    return Math.acos(Math.max(-1, Math.min(1, cosine)));
  });
}
