// @ts-check
/** Bodies on two legs: grown people, children, giants, small stylised figures. All face z, arms hanging. */
import { looseChains } from "./loose.mjs";
import { atAge, massAlong, massShares, proportionsOf } from "./proportions.mjs";

/** @import { Body, Joint, Limb, Vector } from "../types.d.ts" */

/**
 * What a body's own families need beyond the contract: the names of its parts and their sizes.
 * @typedef {object} Side
 * @property {string} clavicle @property {string} upper @property {string} fore @property {string} hand
 * @property {string[][]} fingers
 * @property {string} thigh @property {string} shin @property {string} foot @property {string | null} toe
 * @property {number} leg index into the limbs @property {number} arm index into the limbs
 *
 * @typedef {object} Loose a chain that hangs
 * @property {string[]} joints @property {string} carrier @property {number[]} at its first joint in the carrier's space
 * @property {number} tip length of the last link, metres
 * @property {number} stiffness Hz @property {number} damping share of critical
 *
 * @typedef {object} Rig
 * @property {Body} body
 * @property {string} hips @property {string[]} spine above the hips, the chest is the last
 * @property {string[]} necks @property {string} head
 * @property {boolean} twists whether every joint of the spine twists; else the first and the last alone
 * @property {Record<"l" | "r", Side>} sides
 * @property {Loose[]} loose
 * @property {number} upperArm @property {number} forearm @property {number} palm from the wrist to the grip
 * @property {number} thigh @property {number} shank
 * @property {number} hipDrop how far the hip joints lie below the root
 * @property {number} ankle height of the ankle over the sole
 * @property {number[]} heel @property {number[]} ball @property {number[]} toeTip from the ankle; the ball is the toe joint if there is one
 * @property {number} hipHalf half the distance of the hip joints
 * @property {number} shoulderHalf
 */

export const sides = /** @type {const} */ (["l", "r"]);

/**
 * @typedef {object} BodyOptions
 * @property {string} [prefix] before every id
 * @property {string} build for the report's rows
 * @property {"man" | "woman"} [sex] whose mass table
 * @property {number} [age] years, for a child
 * @property {number} [stature] metres @property {number} [mass] kilograms
 * @property {number} [headShare] @property {number} [hipShare]
 * @property {number} [spine] joints above the hips, the chest among them: 1 to 6
 * @property {boolean} [twistFree] the middle joints of the spine do not twist
 * @property {number} [necks] 0 to 2
 * @property {number} [fingers] per hand: 0 to 5
 * @property {boolean} [toes]
 * @property {("hair" | "strap" | "coat")[]} [loose]
 */

/** @param {BodyOptions} options @returns {Rig} */
export function twoLegBody(options) {
  const { prefix = "", build, sex = "man", age, spine: spineCount = 3, necks: neckCount = 1 } = options;
  const child = age === undefined ? undefined : atAge(age);
  const H = options.stature ?? child?.stature ?? (sex === "man" ? 1.759 : 1.618);
  const mass = options.mass ?? child?.mass ?? (sex === "man" ? 23.5 : 22.5) * H * H;
  const part = proportionsOf({ age, head: options.headShare, hip: options.hipShare });
  const shares = massShares(
    sex,
    options.headShare === undefined ? child?.headMass : headMassFor(options.headShare),
  );
  const along = massAlong[sex];
  const id = (/** @type {string} */ name) => `${prefix}${name}`;

  /** @type {Joint[]} */
  const joints = [];
  /** @type {Record<string, number>} */
  const masses = {};
  /** @type {Record<string, Vector>} */
  const massAt = {};
  /** @type {(name: string, parent: string | null, at: number[], order: Joint["order"], share?: number, point?: number[]) => string} */
  const joint = (name, parent, at, order, share = 0, point) => {
    joints.push({ id: id(name), parent, at: /** @type {Vector} */ (at), order });
    masses[id(name)] = share;
    if (point !== undefined) massAt[id(name)] = /** @type {Vector} */ (point);
    return id(name);
  };

  // Trunk: the hip joints lie a little below the root; the spine goes from there to the base of the neck.
  const hipDrop = 0.02 * H;
  const neckBase = part.shoulder * H + 0.012 * H;
  const spineLength = neckBase - part.hip * H - hipDrop;
  const lowest = 0.1 * spineLength;
  const chestLength = spineCount === 1 ? spineLength * 0.78 : spineLength * 0.48;
  const link = (spineLength - lowest - chestLength) / Math.max(1, spineCount - 1);
  const trunkMass = (/** @type {number} */ n) => {
    const middle = shares.middle / Math.max(1, spineCount - 1);
    return n < spineCount - 1 ? middle : shares.upper + (spineCount === 1 ? shares.middle : 0);
  };
  const hips = joint("hips", null, [0, part.hip * H + hipDrop, 0], "yxz", shares.lower, [0, 0.015 * H, 0]);
  /** @type {string[]} */
  const spine = [];
  for (let n = 0; n < spineCount; n++) {
    const last = n === spineCount - 1;
    const name = last ? "chest" : spineCount === 2 ? "spine" : `spine_${n + 1}`;
    const first = spineCount === 1 ? spineLength - chestLength : lowest;
    const at = [0, n === 0 ? first : link, n === 0 ? -0.006 * H : 0];
    const half = last ? chestLength * 0.45 : link * 0.5;
    spine.push(joint(name, n === 0 ? hips : spine[n - 1], at, "yxz", trunkMass(n), [0, half, 0.004 * H]));
  }
  const chest = spine[spine.length - 1];
  const neckLength = 0.04 * H * Math.min(1, 0.13 / part.head) + 0.012 * H;
  /** @type {string[]} */
  const necks = [];
  for (let n = 0; n < neckCount; n++) {
    const at = n === 0 ? [0, chestLength, -0.008 * H] : [0, neckLength / neckCount, 0.004 * H];
    necks.push(joint(neckCount === 1 ? "neck" : `neck_${n + 1}`, n === 0 ? chest : necks[n - 1], at, "yxz"));
  }
  const head = joint(
    "head",
    necks[neckCount - 1] ?? chest,
    neckCount === 0 ? [0, chestLength + neckLength, 0] : [0, neckLength / neckCount, 0.006 * H],
    "yxz",
    shares.head,
    [0, 0.42 * part.head * H, 0.008 * H],
  );

  // Limbs.
  const [upperArm, forearm] = [part.upperArm * H, part.forearm * H];
  const palm = 0.45 * part.hand * H;
  const leg = part.hip * H - part.ankle * H;
  const [thigh, shank] = [leg * 0.499, leg * 0.501];
  const foot = part.foot * H;
  const ankle = part.ankle * H;
  const toes = options.toes ?? true;
  const shoulderHalf = 0.44 * part.shoulderWidth * H;
  // Hip joints lie nearer together than the hips are broad: 18 cm apart in a grown man (from memory).
  const hipHalf = 0.27 * part.hipWidth * H;
  const heel = [0, -ankle, -0.25 * foot];
  const toeHeight = 0.08 * foot;
  const ball = toes ? [0, -ankle + toeHeight, 0.47 * foot] : [0, -ankle, 0.62 * foot];
  const toeTip = [0, -ankle, (toes ? 0.74 : 0.62) * foot];
  /** @type {Limb[]} */
  const limbs = [];
  /** @type {Record<string, Side>} */
  const rigSides = {};
  for (const side of sides) {
    const out = side === "l" ? 1 : -1;
    const own = (/** @type {string} */ name) => `${name}_${side}`;
    const whole = side === "l" ? "left" : "right";
    const clavicle = joint(
      own("clavicle"),
      chest,
      [out * 0.02 * H, chestLength - 0.025 * H, 0.01 * H],
      "yzx",
    );
    const upper = joint(
      own("upper_arm"),
      clavicle,
      [out * (shoulderHalf - 0.02 * H), 0, -0.012 * H],
      "xzy",
      shares.upperArm,
      [0, -along.upperArm * upperArm, 0],
    );
    const fore = joint(own("forearm"), upper, [0, -upperArm, 0], "xyz", shares.forearm, [
      0,
      -along.forearm * forearm,
      0,
    ]);
    const hand = joint(own("hand"), fore, [0, -forearm, 0], "xzy", shares.hand, [
      0,
      -along.hand * part.hand * H,
      0,
    ]);
    /** @type {string[][]} */
    const fingers = [];
    const fingerNames =
      options.fingers === undefined || options.fingers === 0
        ? []
        : ["thumb", "index", "middle", "ring", "little"].slice(0, options.fingers);
    fingerNames.forEach((name, n) => {
      const thumb = name === "thumb";
      const across = thumb ? 0 : (n - 2.5) * 0.011 * H;
      const root = thumb
        ? [-out * 0.006 * H, -0.016 * H, 0.014 * H]
        : [0, -(0.055 - 0.002 * Math.abs(n - 2)) * H, -across];
      const links = thumb ? [0.02, 0.016] : [0.024, 0.015, 0.012];
      /** @type {string[]} */
      const chain = [];
      for (let k = 0; k < (thumb ? 2 : 3); k++) {
        const at = k === 0 ? root : [0, -links[k - 1] * H, 0];
        chain.push(joint(own(`${name}_${k + 1}`), chain[k - 1] ?? hand, at, "zxy", 0));
      }
      fingers.push(chain);
    });
    const thighId = joint(own("thigh"), hips, [out * hipHalf, -hipDrop, 0], "xzy", shares.thigh, [
      0,
      -along.thigh * thigh,
      0,
    ]);
    const shin = joint(own("shin"), thighId, [0, -thigh, 0], "xyz", shares.shank, [
      0,
      -along.shank * shank,
      0,
    ]);
    const footId = joint(own("foot"), shin, [0, -shank, 0], "yxz", shares.foot, [
      0,
      -0.6 * ankle,
      0.19 * foot,
    ]);
    const toe = toes ? joint(own("toe"), footId, ball, "xyz", 0) : null;
    rigSides[side] = {
      clavicle,
      upper,
      fore,
      hand,
      fingers,
      thigh: thighId,
      shin,
      foot: footId,
      toe,
      leg: limbs.length,
      arm: limbs.length + 1,
    };
    limbs.push({
      kind: "leg",
      side: whole,
      joints: toe === null ? [thighId, shin, footId] : [thighId, shin, footId, toe],
      girdle: hips,
      sole: {
        foot: footId,
        heel: /** @type {Vector} */ (heel),
        tip: toe ?? footId,
        toe: /** @type {Vector} */ (toe === null ? toeTip : toeTip.map((value, axis) => value - ball[axis])),
      },
    });
    limbs.push({
      kind: "arm",
      side: whole,
      joints: [upper, fore, hand],
      girdle: chest,
      ...(fingers.length > 0 ? { fingers } : {}),
    });
  }
  const loose = looseChains(options.loose ?? [], { H, joint, head, hips, chest, headHeight: part.head * H });
  for (const chain of loose) {
    limbs.push({ kind: "loose", side: "middle", joints: chain.joints, girdle: chain.carrier });
  }
  /** @type {Body} */
  const body = {
    plan: "two legs",
    build,
    joints,
    root: hips,
    trunk: [hips, ...spine],
    head,
    limbs,
    stature: H,
    mass,
    masses,
    massAt,
  };
  return {
    body,
    hips,
    spine,
    necks,
    head,
    twists: !(options.twistFree ?? false),
    sides: /** @type {Rig["sides"]} */ (rigSides),
    loose,
    upperArm,
    forearm,
    palm,
    thigh,
    shank,
    hipDrop,
    ankle,
    heel,
    ball,
    toeTip,
    hipHalf,
    shoulderHalf,
  };
}

/** A head's share of the mass by its share of the height; its volume grows with the cube. @param {number} share */
const headMassFor = (share) => Math.min(0.45, 0.0694 * (share / 0.13) ** 2);
