// @ts-check
/**
 * What is around the bones of a body, as far as its outline goes: balls and capsules, as thick as people draw them.
 * @import { Body, Limb, Poses } from "../types.d.ts"
 * @import { Seen } from "./lens.mjs"
 */
import { endOf } from "../faults/tools/limbs.mjs";

/** Thickness in statures, half of the breadth of a grown person's part (from memory): trunk 30 cm, thigh 16, shin and neck 11,
 * upper arm 10, forearm 8 cm, head 16 cm broad. */
const halfBreadth = { trunk: 0.075, thigh: 0.045, shin: 0.032, upper: 0.028, fore: 0.022, head: 0.05 };
/** A hand is 0.108 statures long (Drillis and Contini 1966, from memory); half of that about its middle. */
export const handRadius = 0.054;

/** @typedef {{ from: string, to: string, radius: number, limb: number }} Bone radius in metres; limb -1 for the trunk */

/** The bones of a body that its outline is made of. @param {Body} body @returns {Bone[]} */
export function bonesOf({ joints, limbs, trunk, head, root, stature }) {
  const bones = [];
  const parents = new Map(joints.map(({ id, parent }) => [id, parent]));
  const column = [root, ...trunk, ...(head === null ? [] : [head])];
  for (const joint of column) {
    const parent = parents.get(joint);
    if (parent == null) continue;
    const radius = halfBreadth[joint === head ? "head" : "trunk"] * stature;
    bones.push({ from: parent, to: joint, radius: joint === head ? radius / 2 : radius, limb: -1 });
  }
  if (head !== null) bones.push({ from: head, to: head, radius: halfBreadth.head * stature, limb: -1 });
  limbs.forEach((limb, n) => {
    const last = limb.joints.indexOf(endOf(limb));
    for (let k = 1; k <= last; k++) {
      const thick = limb.kind === "leg" ? ["thigh", "shin"] : ["upper", "fore"];
      const radius = halfBreadth[/** @type {"thigh"} */ (thick[Math.min(1, k - 1)])] * stature;
      bones.push({ from: limb.joints[k - 1], to: limb.joints[k], radius, limb: n });
    }
  });
  return bones;
}

/** Points spread over a hand's disc, as shares of its radius. @type {readonly (readonly [number, number])[]} */
const spread = [
  [0, 0],
  ...[0, 1, 2, 3, 4, 5].map((n) => turned(n / 6, 0.5)),
  ...[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11].map((n) => turned(n / 12, 0.9)),
];
/** @param {number} share @param {number} radius @returns {readonly [number, number]} */
function turned(share, radius) {
  return [radius * Math.cos(2 * Math.PI * share), radius * Math.sin(2 * Math.PI * share)];
}

/** The middle of a hand: as far beyond its joint as half a hand is long, along the forearm. @param {Poses} poses @param {Limb} limb
 * @param {number} frame @param {number} stature */
export function handAt(poses, limb, frame, stature) {
  const end = limb.joints.indexOf(endOf(limb));
  const [elbow, wrist] = [limb.joints[end - 1], limb.joints[end]].map((id) => poses.position(id, frame));
  const way = wrist.map((value, k) => value - elbow[k]);
  const length = Math.hypot(...way) || 1;
  return wrist.map((value, k) => value + (way[k] / length) * handRadius * stature);
}

/**
 * The share of a hand's disc over which no other bone of its body lies in the picture, its own forearm left out.
 * @param {Poses} poses @param {Body} body @param {number} limb @param {number} frame
 * @param {(point: readonly number[]) => Seen} picture
 */
export function shareOfHandOutside(poses, body, limb, frame, picture) {
  const own = body.limbs[limb];
  const hand = picture(handAt(poses, own, frame, body.stature));
  const end = endOf(own);
  const others = bonesOf(body).filter(({ to }) => to !== end);
  const drawn = others.map(({ from, to, radius }) => ({
    a: picture(poses.position(from, frame)),
    b: picture(poses.position(to, frame)),
    radius,
  }));
  const size = handRadius * body.stature * hand.scale;
  const free = spread.filter(([dx, dy]) => {
    const [x, y] = [hand.x + dx * size, hand.y + dy * size];
    return drawn.every(({ a, b, radius }) => awayFrom(x, y, a, b) > radius * a.scale);
  });
  return free.length / spread.length;
}

/** Distance of a place from a line between two. @param {number} x @param {number} y @param {Seen} a @param {Seen} b */
function awayFrom(x, y, a, b) {
  const [ux, uy] = [b.x - a.x, b.y - a.y];
  const along = ux * ux + uy * uy;
  const t = along === 0 ? 0 : Math.max(0, Math.min(1, ((x - a.x) * ux + (y - a.y) * uy) / along));
  return Math.hypot(x - a.x - t * ux, y - a.y - t * uy);
}
