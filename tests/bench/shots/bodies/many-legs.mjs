// @ts-check
/**
 * Bodies with six legs (a beetle of a creature's size) and eight (a spider's build). The unit of length is the body's
 * length. Legs have two long bones or three, and a small foot that stands flat.
 * @import { Body, Random } from "../types.d.ts"
 */
import { bodyOf, bothSides } from "./build.mjs";

/**
 * Where legs leave the trunk and where they point: offset ahead, and degrees from straight out to the side (forward
 * above 0). By eye, from views from above.
 */
const roots = {
  six: [
    { joint: "fore", ahead: 0.04, way: 38, reach: 0.96 },
    { joint: "thorax", ahead: 0.01, way: -2, reach: 0.94 },
    { joint: "thorax", ahead: -0.09, way: -40, reach: 1.06 },
  ],
  eight: [
    { joint: "thorax", ahead: 0.13, way: 56, reach: 1.08 },
    { joint: "thorax", ahead: 0.06, way: 20, reach: 0.98 },
    { joint: "thorax", ahead: -0.02, way: -18, reach: 0.96 },
    { joint: "thorax", ahead: -0.1, way: -54, reach: 1.1 },
  ],
};

/**
 * @param {"six" | "eight"} count
 * @param {Random} random
 * @param {string} [prefix]
 * @returns {Body}
 */
export function manyLegs(count, random, prefix = "") {
  const vary = (/** @type {number} */ value) => value * random.between(0.92, 1.08);
  const size = count === "six" ? random.between(0.35, 0.9) : random.between(0.3, 0.7);
  const long = random.chance(0.5);
  const height = vary(count === "six" ? 0.2 : 0.24);
  const knee = vary(long ? 0.2 : 0.15);
  const broad = vary(count === "six" ? 1 : 1.15);
  const six = count === "six";
  /** @type {[string, string | null, number[], string?][]} */
  const joints = [
    ["thorax", null, [0, height, 0], "yxz"],
    ...(six ? /** @type {[string, string, number[]][]} */ ([["fore", "thorax", [0, 0.005, 0.16]]]) : []),
    ["abdomen_a", "thorax", [0, 0.01, six ? -0.13 : -0.17]],
    ["abdomen_b", "abdomen_a", [0, 0.01, -0.16]],
    ["head", six ? "fore" : "thorax", six ? [0, 0.005, 0.11] : [0, 0.01, 0.17]],
    ...bothSides((_, s, sign) => feeler(s, sign, six)).flat(),
  ];
  const limbs = [];
  const chain = long ? ["femur", "tibia", "tarsus", "foot"] : ["femur", "tibia", "foot"];
  for (const [n, root] of roots[count].entries()) {
    for (const [side, s, sign] of bothSides((side, s, sign) => /** @type {const} */ ([side, s, sign]))) {
      const way = (root.way * Math.PI) / 180;
      const out = (/** @type {number} */ far, /** @type {number} */ up) => [
        sign * far * broad * root.reach * Math.cos(way),
        up,
        far * broad * root.reach * Math.sin(way),
      ];
      const top = [sign * 0.06, -0.015, root.ahead];
      const down = height + (root.joint === "fore" ? 0.005 : 0) - 0.015 + knee - 0.014;
      const bones = long
        ? [out(0.13, knee), out(0.17, -0.45 * down), out(0.06, -0.55 * down)]
        : [out(0.21, knee), out(0.2, -down)];
      const ids = chain.map((part) => `${part}_${s}${n + 1}`);
      ids.forEach((id, k) => {
        joints.push([id, k === 0 ? root.joint : ids[k - 1], k === 0 ? top : bones[k - 1], "yzx"]);
      });
      const foot = ids[ids.length - 1];
      const tip = [0, -0.014, 0];
      limbs.push({
        kind: "leg",
        side,
        joints: ids,
        girdle: root.joint,
        sole: { foot, heel: tip, tip: foot, toe: tip },
      });
    }
  }
  const feelers = bothSides((side, s) => ({
    kind: "loose",
    side,
    joints: [`feeler_${s}_a`, `feeler_${s}_b`, `feeler_${s}_c`],
    girdle: "head",
  }));
  // From memory of dissected beetles and spiders: the abdomen is about half, all legs together a sixth.
  const legs = roots[count].length * 2;
  return bodyOf({
    plan: count === "six" ? "six legs" : "eight legs",
    build: `${count} legs of ${long ? "three" : "two"} bones`,
    prefix,
    size,
    joints,
    trunk: six ? ["thorax", "fore"] : ["thorax"],
    head: "head",
    limbs: [
      ...limbs,
      { kind: "tail", side: "middle", joints: ["abdomen_a", "abdomen_b"], girdle: "thorax" },
      ...feelers,
    ],
    stature: size,
    mass: 160 * size ** 3 * vary(1),
    masses: {
      thorax: six ? 16 : 27,
      ...(six ? { fore: 12 } : {}),
      abdomen_a: 30,
      abdomen_b: 18,
      head: 6,
      ...Object.fromEntries(
        joints
          .filter(([id]) => /^(femur|tibia|tarsus|foot)_/.test(id))
          .map(([id]) => [
            id,
            (16 / legs) *
              (id[0] === "f" && id[1] === "e" ? 0.5 : id[0] === "t" ? (long ? 0.23 : 0.46) : 0.04),
          ]),
      ),
      feeler_l_a: 0.2,
      feeler_r_a: 0.2,
    },
  });
}

/** Feelers of six legs, palps of eight. @param {"l" | "r"} s @param {1 | -1} sign @param {boolean} six
 * @returns {[string, string, number[]][]} */
function feeler(s, sign, six) {
  const far = six ? 1 : 0.55;
  return [
    [`feeler_${s}_a`, "head", [sign * 0.035, 0.02, 0.05]],
    [`feeler_${s}_b`, `feeler_${s}_a`, [sign * 0.05 * far, 0.07 * far, 0.1 * far]],
    [`feeler_${s}_c`, `feeler_${s}_b`, [sign * 0.05 * far, six ? 0.03 : -0.05, 0.12 * far]],
  ];
}
