import { angleBetween } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { footPointsOf } from "../../../motion/ground/feet.ts";
import { carriedPath, carriedTurns } from "../../../motion/path/carried.ts";
import { figuresOf } from "../../../rig/body.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { limbCarrierOf } from "../../../rig/limb-carrier.ts";
import { worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { type Stay, stayAt } from "./shown.ts";

/** A hand or a head with what carries it; whether it is its turn that tells, and how near is the same pose. */
export interface Part {
  readonly node: number;
  readonly carrier: number;
  readonly turns: boolean;
  readonly near: number;
}

/** How far a part is apart at two samples: metres, or radians of a head. */
export type Apart = (i: number, k: number) => number;

/**
 * Hands and head of a figure that move, but for hands on which it walks.
 * @param same radians within which a part is in one pose; of a hand over the length of its arm
 */
export function partsOf(study: Study, figure: number, same: number): Part[] {
  const head = figuresOf(study)[figure].parts.get("head")?.[0];
  const feet = footPointsOf(study, figure);
  const isWalkedOn = (root: number) => feet.some(({ node }) => isAbove(rigOf(study), root, node));
  const hands = limbsOf(study, figure).filter(({ kind, root }) => kind === "arm" && !isWalkedOn(root));
  const part = (node: number, turns: boolean, near: number): Part => {
    const carrier = limbCarrierOf(study, node);
    return { node, turns, near, carrier: carrier < 0 ? rigOf(study).parent[node] : carrier };
  };
  return [
    ...hands.map(({ end, upper, lower }) => part(end, false, same * (upper + lower))),
    ...(head === undefined ? [] : [part(head, true, same)]),
  ].filter(({ node, carrier }) => carrier >= 0 && !worldOf(study, node).still);
}

/** How far a part is apart against what carries it, in a series that begins at the grid's `lo`. */
export function apartIn(study: Study, { carrier, turns }: Part, series: Float64Array, lo = 0): Apart {
  const world = worldOf(study, carrier);
  const seen = turns ? carriedTurns(series, world.orientation, lo) : carriedPath(series, world, lo);
  return turns
    ? (i, k) => angleBetween(seen, 4 * i, seen, 4 * k)
    : (i, k) => distanceBetween(seen, i, seen, k);
}

/** How far a part is apart in the world. */
export function apartInWorld(study: Study, { node, turns }: Part): Apart {
  const { position, orientation } = worldOf(study, node);
  return turns
    ? (i, k) => angleBetween(orientation, 4 * i, orientation, 4 * k)
    : (i, k) => distanceBetween(position, i, position, k);
}

/** The longer of the two stays around the slowest step, which leads to a sample. */
export function stayAround(apart: Apart, at: number, count: number, near: number): Stay {
  const [a, b] = [at - 1, at].map((own) => stayAt((i) => apart(own, i), own, count, near));
  return a.to - a.from >= b.to - b.from ? a : b;
}

/** Samples at which a part is seen in its pose. */
export const framesIn = ({ from, to }: Stay): number => Math.floor(to) - Math.ceil(from) + 1;
