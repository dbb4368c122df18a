// @ts-check
// A beetle on six legs stops at something and backs off.

import { masses } from "../kit/bodies.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { bump, curvesOf, hold } from "../kit/edits.mjs";
import { bothSides, makeRig } from "../kit/rig.mjs";
import { footAt } from "../kit/steps.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "beetle_log";
export const about =
  "A thumb-sized beetle walks with three legs at a time, stops short, feels ahead with its antennae, and takes a step back.";

const END = 100;
const H = 0.017;
const row = { f: 0.017, m: 0.002, h: -0.013 };
const out = { f: 0.021, m: 0.027, h: 0.023 };
const fore = { f: 0.034, m: 0.004, h: -0.03 };
const rig = makeRig(
  /** @type {any} */ ([
    ["thorax", null, [0, H, 0], 0.002, "yxz"],
    ["abdomen", "thorax", [0, 0.001, -0.014], 0.003, "yxz"],
    ["abdomenEnd", "abdomen", [0, -0.002, -0.028], 0],
    ["head", "thorax", [0, 0, 0.022], 0.0008, "yxz"],
    ["jaw", "head", [0, -0.002, 0.009], 0],
    ...bothSides([
      ["feeler*", "head", [0.003, 0.002, 0.007], 0.00005, "yxz"],
      ["feelerMid*", "feeler*", [0.004, 0.004, 0.01], 0.00002, "yxz"],
      ["feelerEnd*", "feelerMid*", [0.004, -0.001, 0.013], 0],
      ...Object.keys(row).flatMap((k) => [
        [`${k}1*`, "thorax", [0.008, -0.003, row[/** @type {'f'} */ (k)]], 0.0002, "yzx"],
        [`${k}2*`, `${k}1*`, [0.019, 0, 0], 0.0001, "yzx"],
        [`${k}3*`, `${k}2*`, [0.022, 0, 0], 0, "yzx"],
      ]),
    ]),
  ]),
);
const n = (/** @type {string} */ r) => {
  const m = r.match(/^([fmh])([123])([LR])$/);
  if (m) return `zampa_${m[3] === "L" ? "sx" : "dx"}_${{ f: "ant", m: "med", h: "post" }[m[1]]}_${m[2]}`;
  return r
    .replace(/L$/, "_sx")
    .replace(/R$/, "_dx")
    .replace("feeler", "antenna")
    .replace("thorax", "torace")
    .replace("abdomen", "addome")
    .replace("head", "capo")
    .replace("jaw", "mandibola");
};
const T = 14;
const _STEP = 0.024;

/** @param {boolean} bad */
function build(bad) {
  const z = (/** @type {number} */ f) =>
    val(f, [
      [1, 0],
      [8, 0.012],
      [22, 0.036],
      [36, 0.06],
      [43, 0.068],
      [47, 0.0685],
      [63, 0.0685],
      [66, 0.07],
      [78, 0.05],
      [84, 0.0505],
    ]);
  /** @type {Record<string, import('../kit/steps.mjs').Plant[]>} */ const plants = {};
  for (const k of ["f", "m", "h"]) {
    for (const s of ["L", "R"]) {
      // Fore and hind of one side go with the middle of the other.
      const second = (k === "m") === (s === "L");
      const times = second
        ? [
            [-6, 1],
            [8, 15],
            [22, 29],
            [36, 68],
            [74, 999],
          ]
        : [
            [-13, -6],
            [1, 8],
            [15, 22],
            [29, 36],
            [43, 75],
            [81, 999],
          ];
      if (bad && k === "h" && s === "R") times.splice(2, 1);
      plants[k + s] = times.map(([a, b]) => {
        const mid = b > 900 ? z(90) : a < 44 && b > 60 ? z(55) : z((a + b) / 2);
        return {
          from: a,
          to: b,
          at: [(s === "L" ? 1 : -1) * out[/** @type {'f'} */ (k)], 0, mid + fore[/** @type {'f'} */ (k)]],
        };
      });
    }
  }
  const feel = (/** @type {number} */ f, /** @type {number} */ late) =>
    Math.sin((f - late) / 5) *
    val(f - late, [
      [40, 0.25],
      [48, 1],
      [60, 1],
      [68, 0.3],
    ]);
  const take = perform(rig, [1, END], (p, f) => {
    const sway =
      Math.sin(((f - 1) / T) * 2 * Math.PI) *
      val(f, [
        [36, 1],
        [44, 0],
        [66, 0],
        [71, 0.8],
        [77, 0.8],
        [83, 0],
      ]);
    p.move(
      "thorax",
      0.0012 * sway,
      H +
        0.0005 * Math.cos(((f - 4) / 7) * 2 * Math.PI) * Math.abs(sway) -
        0.003 *
          val(f, [
            [42, 0],
            [48, 1],
            [60, 1],
            [67, -0.5],
            [82, 0],
          ]),
      z(f),
    );
    p.rot(
      "thorax",
      val(f, [
        [38, 0],
        [45, 5],
        [52, -3],
        [60, -4],
        [67, -13],
        [84, -4],
      ]),
      2.5 * sway,
      1.5 * sway,
    );
    p.rot(
      "abdomen",
      -2 +
        val(f - 3, [
          [38, 0],
          [45, -7],
          [52, 1],
          [60, 2],
          [67, 8],
          [84, 1],
        ]),
      -2.5 * sway,
      0,
    );
    p.rot(
      "head",
      val(f, [
        [44, 4],
        [52, 12],
        [62, 13],
        [66, -12],
        [84, -4],
      ]),
      10 *
        val(f, [
          [46, 0],
          [51, 1],
          [54, 1],
          [59, -0.9],
          [62, -0.9],
          [67, 0],
        ]),
      0,
    );
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      const other = s === "L" || bad ? 0 : 6;
      p.rot(
        `feeler${s}`,
        16 * feel(f, other) +
          val(f, [
            [60, 0],
            [66, -30],
            [84, -8],
          ]),
        k * (8 + 9 * feel(f, other + 3)),
        0,
      );
      p.rot(
        `feelerMid${s}`,
        14 * feel(f, other + 3) +
          val(f - 2, [
            [60, 0],
            [66, -24],
            [84, -4],
          ]),
        0,
        0,
      );
      for (const g of ["f", "m", "h"]) {
        const t = footAt(plants[g + s], f, 0.006);
        p.reach(`${g}1${s}`, `${g}2${s}`, `${g}3${s}`, t.at, [k * 0.3, 1, 0], [0, 0, 1]);
      }
    }
  });
  return makeDocument({
    name,
    fps: 30,
    range: [1, END],
    unit: 0.001,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "smooth", turn: 0.6, place: 0.00006 }) }],
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  hold(
    curvesOf(
      doc,
      [1, 2].flatMap((i) => [n(`f${i}L`)]),
    ),
    [23, 29],
  );
  const go = curvesOf(doc, [n("thorax")], "translation.z")[0];
  go.keys = go.keys.filter((/** @type {any} */ k) => k[0] < 63 || k[0] > 84);
  go.keys.push([66, 68.5, { interpolation: "linear" }], [70, 50.5, { interpolation: "linear" }]);
  go.keys.sort((/** @type {any} */ a, /** @type {any} */ b) => a[0] - b[0]);
  bump(doc, n("abdomen"), "rotation.x", 91, 5);
  return doc;
}
export const flaws = [
  {
    what: "The start back comes and stops at full speed, four frames in a straight line, the feet slide along with it.",
    kind: "start and stop too hard",
    size: "strong",
    nodes: [n("thorax")],
    frames: [65, 71],
    order: 1,
  },
  {
    what: "Right hind leg misses a step in the walk, it is dragged along far too long and then reaches all at once.",
    kind: "step missing",
    size: "ordinary",
    nodes: [1, 2, 3].map((i) => n(`h${i}R`)),
    frames: [8, 29],
    order: 2,
  },
  {
    what: "Left foreleg is stuck to the body from 23 to 29, its foot is carried over the ground in the air and snaps.",
    kind: "freeze of a part",
    size: "ordinary",
    nodes: [n("f1L"), n("f2L"), n("f3L")],
    frames: [23, 30],
    order: 3,
  },
  {
    what: "Both antennae do the very same thing at the same time.",
    kind: "twinning",
    size: "ordinary",
    nodes: ["feelerL", "feelerR", "feelerMidL", "feelerMidR"].map(n),
    frames: [1, 100],
    order: 4,
  },
  {
    what: "The abdomen twitches once in the last hold.",
    kind: "pop",
    size: "barely",
    nodes: [n("abdomen")],
    frames: [90, 92],
    order: 5,
  },
];
const stands = (/** @type {boolean} */ second) =>
  second
    ? [
        [8, 15],
        [22, 29],
        [36, 68],
        [74, END],
      ]
    : [
        [1, 8],
        [15, 22],
        [29, 36],
        [43, 75],
        [81, END],
      ];
export const truth = {
  plants: ["f", "m", "h"].flatMap((k) =>
    ["L", "R"].flatMap((s) =>
      stands((k === "m") === (s === "L")).map((fr) => ({ node: n(`${k}3${s}`), frames: fr, limit: 0.0012 })),
    ),
  ),
  ground: {
    nodes: ["f", "m", "h"].flatMap((k) => ["L", "R"].map((s) => n(`${k}3${s}`))),
    height: 0,
    under: 0.001,
  },
  masses: masses(rig, n),
};
