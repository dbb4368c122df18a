// @ts-check
/**
 * A swimmer: a stiff head, a chain to the tail fin, two pectoral fins. The unit of length is its length.
 * @import { Body, Random } from "../types.d.ts"
 */
import { bodyOf, bothSides } from "./build.mjs";

/** Joints of the chain behind the root; the root lies a third of the length behind the nose. */
export const fishLinks = 7;
export const rootAt = 0.33;

/** Lengths in metres, height and width as shares of it (common knowledge). */
const builds = {
  trout: { length: [0.3, 0.6], high: 0.2, wide: 0.11 },
  carp: { length: [0.4, 0.8], high: 0.3, wide: 0.17 },
  shark: { length: [1.4, 2.6], high: 0.15, wide: 0.14 },
};

/**
 * @param {Random} random @param {string} [prefix]
 * @returns {Body}
 */
export function fish(random, prefix = "") {
  const build = random.pick(/** @type {const} */ (["trout", "carp", "shark"]));
  const shape = builds[build];
  const size = random.between(shape.length[0], shape.length[1]);
  const [high, wide] = [shape.high * random.between(0.93, 1.07), shape.wide * random.between(0.93, 1.07)];
  const link = (0.88 - rootAt) / fishLinks;
  const numbers = Array.from({ length: fishLinks }, (_, n) => n + 1);
  // A spindle: widest at 35 % of the length. A segment's share is its length times its height times its width.
  const thick = (/** @type {number} */ x) =>
    Math.max(0.12, x < 0.35 ? Math.sqrt(x / 0.35) : 1 - ((x - 0.35) / 0.6) ** 1.5);
  return bodyOf({
    plan: "fish",
    build,
    prefix,
    size,
    joints: [
      ["body", null, [0, 0, 0], "yxz"],
      ["head", "body", [0, 0, 0.14], "yxz"],
      ["jaw", "head", [0, -0.02, 0.06], "yxz"],
      ...numbers.map(
        (n) =>
          /** @type {[string, string, number[], string]} */ ([
            n === fishLinks ? "tail_fin" : `spine_${n}`,
            n === 1 ? "body" : `spine_${n - 1}`,
            [0, 0, -link],
            "yxz",
          ]),
      ),
      ["tail_fin_tip", "tail_fin", [0, 0, -0.12], "yxz"],
      ...bothSides((_, s, sign) => [
        /** @type {[string, string, number[], string]} */ ([
          `fin_${s}`,
          "body",
          [sign * wide * 0.42, -0.3 * high, 0.05],
          "yzx",
        ]),
        /** @type {[string, string, number[], string]} */ ([
          `fin_${s}_tip`,
          `fin_${s}`,
          [sign * 0.09, -0.02, -0.06],
          "yzx",
        ]),
      ]).flat(),
      ["back_fin", "spine_1", [0, 0.42 * high, 0], "yxz"],
      ["back_fin_tip", "back_fin", [0, 0.06, -0.06], "yxz"],
    ],
    trunk: ["body"],
    head: "head",
    limbs: [
      {
        kind: "tail",
        side: "middle",
        joints: [...numbers.slice(0, -1).map((n) => `spine_${n}`), "tail_fin", "tail_fin_tip"],
        girdle: "body",
      },
      ...bothSides((side, s) => ({
        kind: "fin",
        side,
        joints: [`fin_${s}`, `fin_${s}_tip`],
        girdle: "body",
      })),
      { kind: "loose", side: "middle", joints: ["back_fin", "back_fin_tip"], girdle: "spine_1" },
    ],
    stature: size,
    mass: 1000 * 0.52 * high * wide * size ** 3,
    masses: {
      body: 0.19 * thick(0.3) ** 2,
      head: 0.19 * thick(0.1) ** 2,
      jaw: 0.004,
      ...Object.fromEntries(
        numbers.map((n) => [
          n === fishLinks ? "tail_fin" : `spine_${n}`,
          link * thick(rootAt + (n + 0.5) * link) ** 2 * (n === fishLinks ? 0.4 : 1),
        ]),
      ),
      fin_l: 0.002,
      fin_r: 0.002,
      back_fin: 0.002,
    },
  });
}
