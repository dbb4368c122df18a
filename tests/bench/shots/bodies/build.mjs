// @ts-check
/**
 * Makes a body of a list of joints, in metres, with shares of the mass that add up to 1.
 * @import { Body, Joint, Limb, Vector } from "../types.d.ts"
 */

/**
 * @param {object} plan
 * @param {Body["plan"]} plan.plan @param {string} plan.build
 * @param {string} plan.prefix before every id
 * @param {number} plan.size metres that one unit of `joints` is long
 * @param {[id: string, parent: string | null, at: number[], order?: string][]} plan.joints parents first, rest places in units
 * @param {string[]} plan.trunk @param {string | null} plan.head
 * @param {{ kind: string, side: string, joints: string[], girdle: string,
 *   sole?: { foot: string, heel: number[], tip: string, toe: number[] } }[]} plan.limbs points in units
 * @param {number} plan.stature metres @param {number} plan.mass kilograms
 * @param {Record<string, number>} plan.masses parts of the mass, of any sum; joints that are not named weigh nothing
 * @returns {Body}
 */
export function bodyOf({ plan, build, prefix, size, joints, trunk, head, limbs, stature, mass, masses }) {
  const named = (/** @type {string} */ id) => `${prefix}${id}`;
  const sized = (/** @type {number[]} */ at) => /** @type {Vector} */ (at.map((value) => value * size));
  const total = Object.values(masses).reduce((sum, share) => sum + share, 0);
  for (const id of Object.keys(masses)) {
    if (!joints.some(([joint]) => joint === id))
      throw new Error(`Masses name no joint of the ${build}: "${id}".`);
  }
  return {
    plan,
    build,
    joints: joints.map(([id, parent, at, order = "zxy"]) => ({
      id: named(id),
      parent: parent === null ? null : named(parent),
      at: sized(at),
      order: /** @type {Joint["order"]} */ (order),
    })),
    root: named(joints[0][0]),
    trunk: trunk.map(named),
    head: head === null ? null : named(head),
    limbs: limbs.map((limb) => ({
      kind: /** @type {Limb["kind"]} */ (limb.kind),
      side: /** @type {Limb["side"]} */ (limb.side),
      joints: limb.joints.map(named),
      girdle: named(limb.girdle),
      ...(limb.sole === undefined
        ? {}
        : {
            sole: {
              foot: named(limb.sole.foot),
              heel: sized(limb.sole.heel),
              tip: named(limb.sole.tip),
              toe: sized(limb.sole.toe),
            },
          }),
    })),
    stature,
    mass,
    masses: Object.fromEntries(joints.map(([id]) => [named(id), (masses[id] ?? 0) / total])),
  };
}

/** Left and right of something. @template T @param {(side: "left" | "right", letter: "l" | "r", sign: 1 | -1) => T} make */
export const bothSides = (make) => [make("left", "l", 1), make("right", "r", -1)];
