// @ts-check
/**
 * Puppets: marionettes of many joints, a segmented trunk, fingers, ribbons that hang, and one with a single arm. Built on the
 * proportions of people (wooden limbs: their masses follow the same table).
 */
import { twoLegBody } from "./two-legs.mjs";

/** @import { Body, Joint, Limb, Random, Vector } from "../types.d.ts" @import { Rig } from "./two-legs.mjs" */

/**
 * @param {object} how
 * @param {string} [how.prefix]
 * @param {number} how.stature metres
 * @param {number} how.ribbons how many loose chains hang from shoulders, belt, hat and hem
 * @param {number} how.links joints of each
 * @param {"l" | "r" | null} [how.without] the arm that it does not have
 * @returns {Rig} 90 to 120 joints with 5 fingers and 5 or 6 ribbons of 5 links
 */
export function puppetBody({ prefix = "", stature, ribbons, links, without = null }) {
  const plain = twoLegBody({
    prefix,
    build: without === null ? "marionette" : "one-armed marionette",
    stature,
    mass: 14 * stature ** 2.5,
    headShare: 0.17,
    hipShare: 0.49,
    spine: 6,
    necks: 2,
    fingers: 5,
    toes: true,
  });
  const rig = without === null ? plain : withoutArm(plain, without);
  return withRibbons(rig, prefix, ribbons, links);
}

/** @param {Random} random @param {string} [prefix] */
export function puppet(random, prefix = "") {
  return puppetBody({
    prefix,
    stature: random.between(0.55, 1),
    ribbons: random.integer(5, 8),
    links: random.integer(5, 6),
    without: random.chance(0.3) ? random.pick(/** @type {const} */ (["l", "r"])) : null,
  });
}

/** Takes an arm away, from the upper arm on; the others' shares of the mass grow. @param {Rig} rig @param {"l" | "r"} side */
function withoutArm(rig, side) {
  const { upper, fore, hand, fingers } = rig.sides[side];
  const gone = new Set([upper, fore, hand, ...fingers.flat()]);
  const kept = Object.entries(rig.body.masses).filter(([id]) => !gone.has(id));
  const total = kept.reduce((sum, [, share]) => sum + share, 0);
  const arm = rig.sides[side].arm;
  const after = (/** @type {number} */ limb) => (limb > arm ? limb - 1 : limb);
  const body = {
    ...rig.body,
    joints: rig.body.joints.filter(({ id }) => !gone.has(id)),
    limbs: rig.body.limbs.filter((_, n) => n !== arm),
    masses: Object.fromEntries(kept.map(([id, share]) => [id, share / total])),
    massAt: Object.fromEntries(Object.entries(rig.body.massAt ?? {}).filter(([id]) => !gone.has(id))),
  };
  const { l, r } = rig.sides;
  const moved = (/** @type {typeof l} */ part) => ({ ...part, leg: after(part.leg), arm: after(part.arm) });
  return {
    ...rig,
    body,
    sides: { l: moved(l), r: moved(r), [side]: { ...moved(rig.sides[side]), fingers: [], arm: -1 } },
  };
}

/** Hangs ribbons on shoulders, belt, hat and back. @param {Rig} rig @param {string} prefix @param {number} count
 * @param {number} links @returns {Rig} */
function withRibbons(rig, prefix, count, links) {
  const H = rig.body.stature;
  const known = new Set(rig.body.joints.map(({ id }) => id));
  const chest = rig.spine[rig.spine.length - 1];
  /** @type {[name: string, carrier: string, at: number[], link: number][]} */
  const places = [
    ["hat", rig.head, [0.05 * H, 0.15 * H, -0.03 * H], 0.04],
    ["shoulder_l", rig.sides.l.clavicle, [0.09 * H, 0.01 * H, -0.02 * H], 0.035],
    ["shoulder_r", rig.sides.r.clavicle, [-0.09 * H, 0.01 * H, -0.02 * H], 0.035],
    ["belt_l", rig.hips, [0.085 * H, 0.02 * H, 0.03 * H], 0.045],
    ["belt_r", rig.hips, [-0.085 * H, 0.02 * H, 0.03 * H], 0.045],
    ["back_l", chest, [0.05 * H, 0.03 * H, -0.07 * H], 0.05],
    ["back_r", chest, [-0.05 * H, 0.03 * H, -0.07 * H], 0.05],
    ["hem", rig.hips, [0, 0, -0.08 * H], 0.05],
  ];
  const fit = places.filter(([, carrier]) => known.has(carrier)).slice(0, count);
  /** @type {Joint[]} */
  const joints = [...rig.body.joints];
  /** @type {Limb[]} */
  const limbs = [...rig.body.limbs];
  const loose = [...rig.loose];
  for (const [name, carrier, at, link] of fit) {
    /** @type {string[]} */
    const ids = [];
    for (let n = 0; n < links; n++) {
      const id = `${prefix}ribbon_${name}_${n + 1}`;
      const place = n === 0 ? at : [0, -link * H, 0];
      joints.push({ id, parent: ids[n - 1] ?? carrier, at: /** @type {Vector} */ (place), order: "xzy" });
      ids.push(id);
    }
    limbs.push({ kind: "loose", side: "middle", joints: ids, girdle: carrier });
    // Ribbon is light: air stops its swing soon (common practice).
    loose.push({ joints: ids, carrier, at, tip: link * H, stiffness: 1.5, damping: 0.9 });
  }
  /** @type {Body} */
  const body = {
    ...rig.body,
    plan: "puppet",
    joints,
    limbs,
    masses: {
      ...rig.body.masses,
      ...Object.fromEntries(joints.filter(({ id }) => !(id in rig.body.masses)).map(({ id }) => [id, 0])),
    },
  };
  return { ...rig, body, loose };
}
