// @ts-check
/**
 * Bodies without legs that walk: a snake, a caterpillar that inches, and a hopper that stands on one foot in the middle.
 * Masses go with the volume of each segment (length times the square of its width), which is geometry.
 * @import { Body, Random } from "../types.d.ts"
 */
import { bodyOf, bothSides } from "./build.mjs";

/**
 * A snake: the root is the foremost joint of the body, the head before it, the chain behind it. The unit is its length.
 * @param {Random} random @param {string} [prefix]
 * @returns {Body}
 */
export function snake(random, prefix = "") {
  const count = random.integer(13, 19);
  const size = random.between(0.9, 2.4);
  const link = 0.93 / count;
  const thick = random.between(0.014, 0.02);
  const width = (/** @type {number} */ n) => thick * Math.sin(Math.PI * (0.22 + 0.72 * (n / count)));
  const ids = Array.from({ length: count }, (_, n) => `body_${n + 1}`);
  return bodyOf({
    plan: "no legs",
    build: "snake",
    prefix,
    size,
    joints: [
      ["body_1", null, [0, width(0), 0], "yxz"],
      ["head", "body_1", [0, 0.004, 0.035], "yxz"],
      ["jaw", "head", [0, -0.004, 0.008], "yxz"],
      ...ids
        .slice(1)
        .map(
          (id, n) => /** @type {[string, string, number[], string]} */ ([id, ids[n], [0, 0, -link], "yxz"]),
        ),
    ],
    trunk: ids.slice(0, count - 6),
    head: "head",
    limbs: [
      { kind: "neck", side: "middle", joints: ["body_1", "head"], girdle: "body_1" },
      { kind: "tail", side: "middle", joints: ids.slice(count - 6), girdle: ids[count - 7] },
    ],
    stature: size,
    mass: 3500 * size * (2 * thick * size) ** 2 * random.between(0.9, 1.1) * 0.3,
    masses: {
      ...Object.fromEntries(ids.map((id, n) => [id, link * width(n) ** 2])),
      head: 0.03 * (0.8 * thick) ** 2,
      jaw: 0.01 * (0.6 * thick) ** 2,
    },
  });
}

/** Links on each side of a caterpillar's middle; the last of each side stands. */
export const inchLinks = 6;

/**
 * A caterpillar that inches: the root is the middle, one chain goes to the front, one to the rear. The unit is its length.
 * @param {Random} random @param {string} [prefix]
 * @returns {Body}
 */
export function caterpillar(random, prefix = "") {
  const size = random.between(0.25, 0.8);
  const link = 1 / (2 * inchLinks + 2);
  const thick = random.between(0.03, 0.042);
  const numbers = Array.from({ length: inchLinks }, (_, n) => n + 1);
  const chain = (/** @type {string} */ name, /** @type {1 | -1} */ sign) =>
    numbers.map(
      (n) =>
        /** @type {[string, string, number[], string]} */ ([
          `${name}_${n}`,
          n === 1 ? "middle" : `${name}_${n - 1}`,
          [0, 0, sign * link],
          "yxz",
        ]),
    );
  const [front, rear] = [`front_${inchLinks}`, `rear_${inchLinks}`];
  return bodyOf({
    plan: "no legs",
    build: "caterpillar",
    prefix,
    size,
    joints: [
      ["middle", null, [0, thick, 0], "yxz"],
      ...chain("front", 1),
      ...chain("rear", -1),
      ["head", front, [0, 0.006, link], "yxz"],
      ...bothSides(
        (_, s, sign) =>
          /** @type {[string, string, number[]]} */ ([`horn_${s}`, "head", [sign * 0.02, 0.025, 0.02]]),
      ),
      ...bothSides(
        (_, s, sign) =>
          /** @type {[string, string, number[]]} */ ([
            `horn_${s}_tip`,
            `horn_${s}`,
            [sign * 0.015, 0.05, 0.02],
          ]),
      ),
    ],
    trunk: ["middle"],
    head: "head",
    limbs: [
      {
        kind: "leg",
        side: "middle",
        joints: numbers.map((n) => `front_${n}`),
        girdle: "middle",
        sole: { foot: front, heel: [0, -thick, 0], tip: front, toe: [0, -thick, 0.8 * link] },
      },
      {
        kind: "leg",
        side: "middle",
        joints: numbers.map((n) => `rear_${n}`),
        girdle: "middle",
        sole: { foot: rear, heel: [0, -thick, -0.8 * link], tip: rear, toe: [0, -thick, 0] },
      },
      ...bothSides((side, s) => ({
        kind: "loose",
        side,
        joints: [`horn_${s}`, `horn_${s}_tip`],
        girdle: "head",
      })),
    ],
    stature: size,
    mass: 1000 * Math.PI * (thick * size) ** 2 * size,
    masses: {
      middle: 2,
      ...Object.fromEntries(
        numbers.flatMap((n) => [
          [`front_${n}`, 1],
          [`rear_${n}`, 1],
        ]),
      ),
      head: 0.9,
      horn_l: 0.02,
      horn_r: 0.02,
    },
  });
}

/**
 * A hopper: a round body over one springy leg with a broad foot, a crest and a tail that drag. The unit is its height.
 * @param {Random} random @param {string} [prefix]
 * @returns {Body}
 */
export function hopper(random, prefix = "") {
  const size = random.between(0.55, 1.4);
  const bone = random.between(0.25, 0.28);
  return bodyOf({
    plan: "no legs",
    build: "hopper",
    prefix,
    size,
    joints: [
      ["seat", null, [0, 0.5, 0], "yxz"],
      ["belly", "seat", [0, 0.1, 0.01], "zxy"],
      ["head", "belly", [0, 0.2, 0.02], "zxy"],
      ["thigh", "seat", [0, -0.04, 0], "xzy"],
      ["shin", "thigh", [0, -0.19, bone * 0.62], "xzy"],
      ["foot", "shin", [0, -0.19, -bone * 0.62], "xzy"],
      ["crest_a", "head", [0, 0.17, 0.02], "zxy"],
      ["crest_b", "crest_a", [0, 0.07, -0.03], "zxy"],
      ["crest_c", "crest_b", [0, 0.05, -0.06], "zxy"],
      ["tail_a", "seat", [0, 0.02, -0.12], "zxy"],
      ["tail_b", "tail_a", [0, 0.01, -0.1], "zxy"],
      ["tail_c", "tail_b", [0, 0.03, -0.09], "zxy"],
    ],
    trunk: ["seat", "belly"],
    head: "head",
    limbs: [
      {
        kind: "leg",
        side: "middle",
        joints: ["thigh", "shin", "foot"],
        girdle: "seat",
        sole: { foot: "foot", heel: [0, -0.08, -0.07], tip: "foot", toe: [0, -0.08, 0.14] },
      },
      { kind: "loose", side: "middle", joints: ["crest_a", "crest_b", "crest_c"], girdle: "head" },
      { kind: "tail", side: "middle", joints: ["tail_a", "tail_b", "tail_c"], girdle: "seat" },
    ],
    stature: size,
    mass: 60 * size ** 3,
    masses: {
      seat: 26,
      belly: 34,
      head: 22,
      thigh: 6,
      shin: 4,
      foot: 5,
      crest_a: 0.5,
      crest_b: 0.3,
      tail_a: 1.2,
      tail_b: 0.8,
      tail_c: 0.2,
    },
  });
}
