// @ts-check
/**
 * Dogs, cats and horses. Limbs stand on their paws: [thigh, shin, hock, paw] behind, [upper arm, forearm, hand, paw] in
 * front below a shoulder blade that glides on the chest. The unit of length is the height of the withers.
 * @import { Body, Random } from "../types.d.ts"
 */
import { bodyOf, bothSides } from "./build.mjs";

/**
 * Builds. Heights and masses are those of common breeds (common knowledge: shepherd dog, house cat, saddle horse).
 * Lengths of parts are relative to the dog's, judged by eye from side views.
 */
const builds = {
  dog: {
    height: [0.5, 0.66],
    density: 135,
    trunk: 1,
    neck: 1,
    head: 1,
    tail: 1,
    droop: 0.75,
    ear: 1,
    stance: 1,
  },
  cat: {
    height: [0.24, 0.3],
    density: 230,
    trunk: 1.12,
    neck: 0.72,
    head: 0.95,
    tail: 1.45,
    droop: 0.5,
    ear: 0.9,
    stance: 0.9,
  },
  horse: {
    height: [1.45, 1.68],
    density: 138,
    trunk: 0.98,
    neck: 1.45,
    head: 1.25,
    tail: 1.15,
    droop: 1.5,
    ear: 0.5,
    stance: 0.9,
  },
};

/**
 * Shares of the mass, both sides of a limb together. Horse: three Thoroughbreds (abstract of a Japanese study, id
 * 104024621): head 4.4, neck 7.0, trunk 59.5, shoulder and upper arm 9.2, forearm 1.8, cannon 0.5, digit 0.5, thigh 13.8,
 * shank 2.0, hind cannon 0.8, hind digit 0.6, tail 0.1; shares hold over 38 horses below 600 kg (Nauwelaerts et al. 2011).
 * Dog and cat: from memory, thinner legs' ends being heavier than a horse's (paw of a shepherd dog 0.72 % each: Jones,
 * Raschke and Riches 2018, PLOS ONE 13:e0206037).
 */
const shares = {
  horse: {
    head: 4.4,
    neck: 7,
    trunk: 59.5,
    blade: 4.6,
    arm: 4.6,
    forearm: 1.8,
    hand: 0.5,
    paw: 0.5,
    thigh: 13.8,
    shin: 2,
    hock: 0.8,
    hindPaw: 0.6,
    tail: 0.1,
  },
  dog: {
    head: 7,
    neck: 7,
    trunk: 56,
    blade: 4,
    arm: 4.4,
    forearm: 2.4,
    hand: 0.9,
    paw: 0.6,
    thigh: 11,
    shin: 3.2,
    hock: 1.1,
    hindPaw: 0.7,
    tail: 1,
  },
};

/**
 * A body with four legs, of its own proportions for every seed.
 * @param {"dog" | "cat" | "horse"} build
 * @param {Random} random
 * @param {string} [prefix] before every joint's id
 * @returns {Body}
 */
export function fourLegs(build, random, prefix = "") {
  const shape = builds[build];
  const vary = (/** @type {number} */ value) => value * random.between(0.94, 1.06);
  const height = random.between(shape.height[0], shape.height[1]);
  const trunk = vary(shape.trunk);
  const neck = vary(shape.neck);
  const head = vary(shape.head);
  const tail = vary(shape.tail);
  const broad = vary(shape.stance);
  const [down, back] = [Math.sin(shape.droop) * 0.085 * tail, -Math.cos(shape.droop) * 0.085 * tail];
  const tails = [1, 2, 3, 4, 5];
  /** @type {[string, string | null, number[], string?][]} */
  const joints = [
    ["pelvis", null, [0, 0.92, 0], "yxz"],
    ["spine_a", "pelvis", [0, 0.01, 0.14 * trunk]],
    ["spine_b", "spine_a", [0, 0.012, 0.16 * trunk]],
    ["spine_c", "spine_b", [0, 0.004, 0.16 * trunk]],
    ["chest", "spine_c", [0, -0.006, 0.16 * trunk]],
    ["neck_a", "chest", [0, 0.07, 0.15]],
    ["neck_b", "neck_a", [0, 0.14 * neck, 0.11 * neck]],
    ["head", "neck_b", [0, 0.14 * neck, 0.11 * neck]],
    ["jaw", "head", [0, -0.03 * head, 0.05 * head]],
    ...bothSides(
      (_, s, sign) =>
        /** @type {[string, string, number[]]} */ ([
          `ear_${s}`,
          "head",
          [sign * 0.045 * head, 0.07 * head, -0.01],
        ]),
    ),
    ...bothSides(
      (_, s, sign) =>
        /** @type {[string, string, number[]]} */ ([
          `ear_${s}_tip`,
          `ear_${s}`,
          [sign * 0.02, 0.055 * shape.ear, -0.01],
        ]),
    ),
    ...tails.map(
      (n) =>
        /** @type {[string, string, number[]]} */ ([
          `tail_${n}`,
          n === 1 ? "pelvis" : `tail_${n - 1}`,
          n === 1 ? [0, 0.03, -0.13] : [0, -down * (n === 2 ? 0.7 : 1), back],
        ]),
    ),
    ...bothSides((_, s, sign) => hind(s, sign, broad)).flat(),
    ...bothSides((_, s, sign) => fore(s, sign, broad)).flat(),
  ];
  const m = shares[build === "horse" ? "horse" : "dog"];
  const trunkShares = { pelvis: 0.2, spine_a: 0.16, spine_b: 0.18, spine_c: 0.21, chest: 0.25 };
  return bodyOf({
    plan: "four legs",
    build,
    prefix,
    size: height,
    joints,
    trunk: ["pelvis", "spine_a", "spine_b", "spine_c", "chest"],
    head: "head",
    limbs: [
      ...bothSides((side, s) => ({
        kind: "leg",
        side,
        joints: [`thigh_${s}`, `shin_${s}`, `hock_${s}`, `hind_paw_${s}`],
        girdle: "pelvis",
        sole: { foot: `hind_paw_${s}`, heel: [0, -0.06, -0.03], tip: `hind_paw_${s}`, toe: [0, -0.06, 0.08] },
      })),
      ...bothSides((side, s) => ({
        kind: "leg",
        side,
        joints: [`upper_arm_${s}`, `forearm_${s}`, `hand_${s}`, `fore_paw_${s}`],
        girdle: "chest",
        sole: {
          foot: `fore_paw_${s}`,
          heel: [0, -0.06, -0.03],
          tip: `fore_paw_${s}`,
          toe: [0, -0.06, 0.085],
        },
      })),
      { kind: "neck", side: "middle", joints: ["neck_a", "neck_b", "head"], girdle: "chest" },
      { kind: "tail", side: "middle", joints: tails.map((n) => `tail_${n}`), girdle: "pelvis" },
      ...bothSides((side, s) => ({
        kind: "loose",
        side,
        joints: [`ear_${s}`, `ear_${s}_tip`],
        girdle: "head",
      })),
    ],
    stature: height,
    mass: shape.density * height ** 3 * vary(1),
    masses: {
      ...Object.fromEntries(Object.entries(trunkShares).map(([id, share]) => [id, share * m.trunk])),
      neck_a: m.neck * 0.55,
      neck_b: m.neck * 0.45,
      head: m.head * 0.84,
      jaw: m.head * 0.12,
      ear_l: m.head * 0.01,
      ear_r: m.head * 0.01,
      ear_l_tip: m.head * 0.01,
      ear_r_tip: m.head * 0.01,
      ...Object.fromEntries(tails.map((n) => [`tail_${n}`, (m.tail * (6 - n)) / 15])),
      ...Object.fromEntries(
        bothSides((_, s) => [
          [`thigh_${s}`, m.thigh / 2],
          [`shin_${s}`, m.shin / 2],
          [`hock_${s}`, m.hock / 2],
          [`hind_paw_${s}`, m.hindPaw / 2],
          [`shoulder_${s}`, m.blade / 2],
          [`upper_arm_${s}`, m.arm / 2],
          [`forearm_${s}`, m.forearm / 2],
          [`hand_${s}`, m.hand / 2],
          [`fore_paw_${s}`, m.paw / 2],
        ]).flat(),
      ),
    },
  });
}

/** @param {"l" | "r"} s @param {1 | -1} sign @param {number} broad @returns {[string, string, number[], string][]} */
const hind = (s, sign, broad) => [
  [`thigh_${s}`, "pelvis", [sign * 0.085 * broad, -0.1, -0.02], "xzy"],
  [`shin_${s}`, `thigh_${s}`, [0, -0.28, 0.13], "xzy"],
  [`hock_${s}`, `shin_${s}`, [0, -0.27, -0.24], "xyz"],
  [`hind_paw_${s}`, `hock_${s}`, [0, -0.21, 0.03], "xzy"],
];

/** @param {"l" | "r"} s @param {1 | -1} sign @param {number} broad @returns {[string, string, number[], string][]} */
const fore = (s, sign, broad) => [
  [`shoulder_${s}`, "chest", [sign * 0.075 * broad, 0.05, 0.02], "xzy"],
  [`upper_arm_${s}`, `shoulder_${s}`, [sign * 0.01, -0.23, 0.16], "xzy"],
  [`forearm_${s}`, `upper_arm_${s}`, [0, -0.2, -0.21], "xzy"],
  [`hand_${s}`, `forearm_${s}`, [0, -0.335, 0.045], "xzy"],
  [`fore_paw_${s}`, `hand_${s}`, [0, -0.155, 0.025], "xzy"],
];
