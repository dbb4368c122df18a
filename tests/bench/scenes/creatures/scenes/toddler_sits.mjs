// @ts-check
// A toddler waddles and sits down hard.
import { masses, names, person } from "../kit/bodies.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { bump, curvesOf, drop } from "../kit/edits.mjs";
import { strike } from "../kit/people.mjs";
import { footAt } from "../kit/steps.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "toddler_sits";
export const about =
  "A toddler waddles five steps with its arms up for balance, totters, and drops on its bottom. It bounces, wobbles and looks up.";

const END = 108;
const rig = person(0.82, { legs: 0.4, head: 0.22, mass: 11, wide: 1.25 });
const n = names(
  {
    L: "g",
    R: "d",
    hips: "bassin",
    waist: "ventre",
    chest: "torse",
    neck: "nuque",
    head: "tete",
    crown: "sommet",
    "thigh*": "cuisse_*",
    "shin*": "tibia_*",
    "foot*": "cheville_*",
    "ball*": "avantpied_*",
    "toe*": "orteil_*",
    "clav*": "clavicule_*",
    "arm*": "bras_*",
    "fore*": "avantbras_*",
    "hand*": "main_*",
    "tip*": "doigts_*",
  },
  "bebe_",
);
const HIP = 0.325;

/** @param {boolean} bad */
function build(bad) {
  const plants = {
    L: [
      { from: -9, to: 10, at: [0.075, 0, 0.05], yaw: 16 },
      { from: 17, to: 28, at: [0.085, 0, 0.2], yaw: 18 },
      { from: 35, to: 46, at: [0.08, 0, 0.38], yaw: 14 },
      { from: 53, to: 999, at: [0.09, 0, 0.5], yaw: 20 },
    ],
    R: [
      { from: -9, to: 1, at: [-0.075, 0, -0.03], yaw: -14 },
      { from: 8, to: 19, at: [-0.08, 0, 0.12], yaw: -16 },
      { from: 26, to: 37, at: [-0.085, 0, 0.29], yaw: -18 },
      { from: 44, to: 999, at: [-0.085, 0, 0.47], yaw: -16 },
    ],
  };
  const z = (/** @type {number} */ f) =>
    val(f, [
      [1, -0.02],
      [10, 0.045],
      [19, 0.13],
      [28, 0.21],
      [37, 0.3],
      [46, 0.385],
      [53, 0.43],
      [58, 0.445],
      [62, 0.41],
      [66, 0.425],
      [69, 0.37],
      [75, 0.25],
      [78, 0.242],
      [90, 0.245],
    ]);
  const side = (/** @type {number} */ f) =>
    (bad ? 0.1 : 1) *
    val(f, [
      [1, 0.7],
      [4, 1],
      [13, -1],
      [22, 1],
      [31, -1],
      [40, 1],
      [49, -0.9],
      [57, 0.25],
      [62, -0.25],
      [68, 0],
    ]);
  const drop = (/** @type {number} */ f) => (f <= 67 ? 0 : bad ? Math.min(1, (f - 67) / 24) : fallen(f));
  /** Falls faster and faster, lands, bounces a little. @param {number} f */
  function fallen(f) {
    const u = (f - 67) / 8;
    if (u <= 1) return u * u;
    return val(f, [
      [75, 1],
      [76, 1.02],
      [79, 0.93],
      [82, 1.01],
      [85, 1],
    ]);
  }
  const give = (/** @type {number} */ f) =>
    bad
      ? 0
      : val(f, [
          [72, 0],
          [76, 1],
          [80, -0.35],
          [85, 0.12],
          [90, 0],
        ]);
  const totter = (/** @type {number} */ f) =>
    val(f, [
      [50, 0],
      [57, 1],
      [62, -0.8],
      [66, 0.5],
      [72, -0.4],
      [78, 0],
    ]);
  const take = perform(rig, [1, END], (p, f) => {
    const w = side(f);
    const d = drop(f);
    const bounce =
      Math.cos(((f - 4) / 4.5) * Math.PI) *
      val(f, [
        [44, 1],
        [54, 0],
      ]);
    const wave = (/** @type {number} */ t, /** @type {number} */ q) =>
      Math.sin(((t + q) / 9) * Math.PI) *
      val(t, [
        [44, 1],
        [54, 0.4],
        [66, 0.2],
        [76, 0],
      ]);
    const foot = (/** @type {'L' | 'R'} */ s) => {
      const g = footAt(plants[s], f, 0.055, 0.85);
      return {
        at: g.at,
        yaw: g.yaw,
        pitch:
          (g.stand ? 0 : 14 * g.up) -
          34 *
            val(f, [
              [68, 0],
              [77, 1],
              [80, 0.86],
              [84, 0.92],
            ]),
        out: 14,
      };
    };
    const up = val(f, [
      [82, 0],
      [86, -0.15],
      [94, 1.05],
      [100, 1],
    ]);
    const fr = val(f, [
      [60, 0],
      [70, 1],
      [77, 0.2],
      [84, 0],
    ]);
    strike(p, {
      hips: [
        0.055 * w,
        HIP -
          0.006 +
          0.006 * bounce -
          (HIP - 0.105) * d -
          0.012 *
            val(f, [
              [54, 0],
              [60, 1],
              [67, 1],
              [69, 0],
            ]),
        z(f),
      ],
      hipsR: [-6 * totter(f) - 10 * Math.min(1, d) * (1 - up * 0.4), 7 * wave(f, -3), -5 * w],
      waist: [5 + 8 * totter(f - 1) + 15 * fr + 12 * give(f), -6 * wave(f, -3), 2 * w],
      chest: [4 + 6 * totter(f - 2) + 10 * fr + 13 * give(f - 1), -6 * wave(f, -2), 5 * side(f - 1)],
      neck: [-2 + 9 * give(f - 3) - 6 * up, 0, 2 * side(f - 3)],
      head: [
        2 - 5 * totter(f - 3) + 15 * give(f - 3) - 24 * up,
        3 * wave(f, -5) + 9 * up,
        4 * side(f - 4) + 8 * up,
      ],
      clavL: [0, 8],
      clavR: [0, 8],
      armL: [
        24 + 9 * wave(f, 1) - 14 * totter(f - 2) + 34 * fr - 9 * give(f - 2),
        0,
        74 -
          9 * side(f - 3) +
          14 * totter(f - 1) -
          44 *
            val(f, [
              [76, 0],
              [90, 1],
            ]),
        62 + 9 * wave(f, -2) - 24 * fr,
      ],
      armR: [
        28 - 9 * wave(f, 2) - 22 * totter(f - 1) + 30 * fr - 11 * give(f - 3),
        0,
        66 +
          9 * side(f - 4) +
          18 * totter(f) -
          36 *
            val(f, [
              [77, 0],
              [92, 1],
            ]),
        70 - 9 * wave(f, -1) - 30 * fr,
      ],
      handL: [10 + 10 * totter(f - 4) - 16 * give(f - 4), 0, 0],
      handR: [-6 - 12 * totter(f - 3) - 18 * give(f - 5), 0, 0],
      footL: foot("L"),
      footR: foot("R"),
    });
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    up: "z",
    bodies: [{ rig, name: n, curves: keyed(take, { how: "smooth", turn: 0.25, place: 0.0012 }) }],
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  drop(curvesOf(doc, ["handL", "handR", "foreL", "foreR"].map(n)), [2, 107]);
  drop(curvesOf(doc, ["thighR", "shinR", "footR"].map(n)), [28, 36]);
  bump(doc, n("head"), "rotation.z", 98, -6);
  return doc;
}
export const flaws = [
  {
    what: "It sinks to the floor for a whole second at one speed, as if let down on a rope, no fall.",
    kind: "floaty fall",
    size: "strong",
    nodes: [n("hips")],
    frames: [67, 91],
    order: 1,
  },
  {
    what: "The body goes straight ahead, it never comes over the leg that stands; a waddle is all side to side.",
    kind: "weight not over feet",
    size: "ordinary",
    nodes: [n("hips")],
    frames: [1, 53],
    order: 2,
  },
  {
    what: "Nothing gives when the bottom hits the floor, back and head take no shock.",
    kind: "landing without give",
    size: "ordinary",
    nodes: ["waist", "chest", "neck", "head"].map(n),
    frames: [72, 92],
    order: 3,
  },
  {
    what: "Right foot swims on its plant from 28 to 36, keys are missing there.",
    kind: "foot slides",
    size: "ordinary",
    nodes: ["thighR", "shinR", "footR"].map(n),
    frames: [27, 37],
    order: 4,
  },
  {
    what: "Elbows and wrists do not move at all, arms of a doll.",
    kind: "arms dead",
    size: "ordinary",
    nodes: ["handL", "handR", "foreL", "foreR"].map(n),
    frames: [1, 108],
    order: 5,
  },
  {
    what: "The head ticks at 98.",
    kind: "pop",
    size: "barely",
    nodes: [n("head")],
    frames: [96, 101],
    order: 6,
  },
];
export const truth = {
  plants: [
    ["L", 1, 10],
    ["L", 17, 28],
    ["L", 35, 46],
    ["L", 53, 67],
    ["R", 8, 19],
    ["R", 26, 37],
    ["R", 44, 67],
  ].map(([s, a, b]) => ({ node: n(`ball${s}`), frames: [a, b] })),
  ground: { nodes: ["ballL", "ballR", "footL", "footR", "toeL"].map(n), height: 0 },
  masses: masses(rig, n),
};
