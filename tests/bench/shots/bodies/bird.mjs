// @ts-check
/**
 * Birds with two legs, two wings of three joints and a tip, a neck and a tail that fans. The unit of length is that of the
 * body from bill to tail. Spread level at rest.
 * @import { Body, Random } from "../types.d.ts"
 */
import { bodyOf, bothSides } from "./build.mjs";

/** Masses (kg), spans (m), areas of both wings (m²), lengths (m): from memory of handbooks, of the order of the species. */
const builds = {
  heron: { mass: 1.5, span: 1.75, area: 0.37, length: 0.92, legs: 1.25, neck: 1.35 },
  stork: { mass: 3.4, span: 1.95, area: 0.53, length: 1.05, legs: 1.3, neck: 1.2 },
  eagle: { mass: 4.3, span: 2.1, area: 0.6, length: 0.85, legs: 0.8, neck: 0.75 },
  pelican: { mass: 8, span: 2.75, area: 1, length: 1.4, legs: 0.7, neck: 1.1 },
};

/**
 * Beats per second in cruising flight: Pennycuick 1996, J. Exp. Biol. 199:1613, in SI units, without a factor (47
 * species; 0.81 to 1.05 of it are found, Pennycuick 2001).
 * @param {{ mass: number, span: number, area: number }} bird
 */
export const cruisingBeats = ({ mass, span, area }) =>
  mass ** (3 / 8) * Math.sqrt(9.80665) * span ** (-23 / 24) * area ** (-1 / 3) * 1.225 ** (-3 / 8);

/**
 * @param {Random} random @param {string} [prefix]
 * @param {boolean} [light] only birds that leap into the air from a stand
 * @returns {{ body: Body, beats: number }} with its beats per second in cruising flight
 */
export function bird(random, prefix = "", light = false) {
  /** @type {(keyof typeof builds)[]} */
  const names = light ? ["heron", "stork", "eagle"] : ["heron", "stork", "eagle", "pelican"];
  const build = random.pick(names);
  const shape = builds[build];
  const scale = random.between(0.92, 1.08);
  const [mass, span, area] = [shape.mass * scale ** 3, shape.span * scale, shape.area * scale ** 2];
  const size = shape.length * scale;
  const half = span / size / 2 - 0.05;
  const [leg, neck] = [shape.legs * random.between(0.95, 1.05), shape.neck * random.between(0.95, 1.05)];
  const height = 0.03 + 0.35 * leg + 0.015;
  const body = bodyOf({
    plan: "bird",
    build,
    prefix,
    size,
    joints: [
      ["body", null, [0, height, 0], "yxz"],
      ["chest", "body", [0, 0.015, 0.12]],
      ["neck_a", "chest", [0, 0.03, 0.07]],
      ["neck_b", "neck_a", [0, 0.09 * neck, 0.03 * neck]],
      ["head", "neck_b", [0, 0.09 * neck, 0.05 * neck]],
      ["bill", "head", [0, -0.005, 0.1]],
      ["tail", "body", [0, 0, -0.15]],
      ["tail_tip", "tail", [0, 0, -0.15]],
      ...bothSides(
        (_, s, sign) =>
          /** @type {[string, string, number[]]} */ ([`fan_${s}`, "tail", [sign * 0.02, 0, -0.01]]),
      ),
      ...bothSides(
        (_, s, sign) =>
          /** @type {[string, string, number[]]} */ ([`fan_${s}_tip`, `fan_${s}`, [sign * 0.03, 0, -0.13]]),
      ),
      ...bothSides((_, s, sign) => wing(s, sign, half)).flat(),
      ...bothSides((_, s, sign) => leggy(s, sign, leg)).flat(),
    ],
    trunk: ["body", "chest"],
    head: "head",
    limbs: [
      ...bothSides((side, s) => ({
        kind: "leg",
        side,
        joints: [`thigh_${s}`, `shin_${s}`, `shank_${s}`, `foot_${s}`],
        girdle: "body",
        sole: { foot: `foot_${s}`, heel: [0, -0.015, -0.035], tip: `foot_${s}`, toe: [0, -0.015, 0.06] },
      })),
      ...bothSides((side, s) => ({
        kind: "wing",
        side,
        joints: [`arm_${s}`, `forearm_${s}`, `hand_${s}`, `feathers_${s}`],
        girdle: "chest",
      })),
      { kind: "neck", side: "middle", joints: ["neck_a", "neck_b", "head"], girdle: "chest" },
      { kind: "tail", side: "middle", joints: ["tail", "tail_tip"], girdle: "body" },
    ],
    stature: size,
    mass,
    // From memory of dissected birds: wings together about a sixth, half of it in the upper arm; legs a twelfth.
    masses: {
      body: 34,
      chest: 32,
      neck_a: 3,
      neck_b: 2.4,
      head: 3.4,
      bill: 0.6,
      tail: 1.2,
      ...Object.fromEntries(
        bothSides((_, s) => [
          [`arm_${s}`, 4],
          [`forearm_${s}`, 2.4],
          [`hand_${s}`, 1.2],
          [`thigh_${s}`, 2.2],
          [`shin_${s}`, 1.4],
          [`shank_${s}`, 0.4],
          [`foot_${s}`, 0.3],
        ]).flat(),
      ),
    },
  });
  return { body, beats: cruisingBeats({ mass, span, area }) };
}

/** @param {"l" | "r"} s @param {1 | -1} sign @param {number} half @returns {[string, string, number[], string][]} */
const wing = (s, sign, half) => [
  [`arm_${s}`, "chest", [sign * 0.05, 0.03, 0.01], "yzx"],
  [`forearm_${s}`, `arm_${s}`, [sign * 0.27 * half, 0, 0], "yzx"],
  [`hand_${s}`, `forearm_${s}`, [sign * 0.31 * half, 0, 0], "yzx"],
  [`feathers_${s}`, `hand_${s}`, [sign * 0.42 * half, 0, 0], "yzx"],
];

/** @param {"l" | "r"} s @param {1 | -1} sign @param {number} leg @returns {[string, string, number[], string][]} */
const leggy = (s, sign, leg) => [
  [`thigh_${s}`, "body", [sign * 0.05, -0.03, 0], "xzy"],
  [`shin_${s}`, `thigh_${s}`, [0, -0.07 * leg, 0.08 * leg], "xzy"],
  [`shank_${s}`, `shin_${s}`, [0, -0.13 * leg, -0.11 * leg], "xzy"],
  [`foot_${s}`, `shank_${s}`, [0, -0.15 * leg, 0.05 * leg], "xzy"],
];
