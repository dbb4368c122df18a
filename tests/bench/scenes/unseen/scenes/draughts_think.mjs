// @ts-check

import { track } from "../../people/kit/curve.mjs";
import { figure, versions } from "../../people/kit/declare.mjs";
import { ONE } from "../../people/kit/math.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { keyAt, pop } from "../../slips.mjs";
import { names, toEnd, without } from "../kit-A/write.mjs";

export const name = "draughts_think";
export const about =
  "A man sits over a board and thinks. His hand goes to a piece, hovers; he looks up at his opponent and takes the hand back. He sits up, breathes out, bends to the board again and makes the move after all.";

const LAST = 150;
const TOP = 0.72;
const FROM = [-0.1, TOP + 0.085, 0.59];
const TO = [-0.03, TOP + 0.085, 0.65];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "oyuncu",
    stature: 1.72,
    spines: 2,
    words: names(
      "kalca bel/gogus boyun kafa tepe kopru ustkol onkol el parmak uyluk baldir ayak ayakucu ayakucu_son",
    ),
    side: (w, s) => `${w}_${s === "L" ? "sol" : "sag"}`,
    orders: { root: "yxz", spine: "yxz", neck: "yxz", arm: "zyx" },
  });
  const sit = 0.555 - 0.54 * 1.72;
  const path = /** @type {any} */ ({
    1: [-0.21, TOP + 0.025, 0.37],
    34: [-0.21, TOP + 0.025, 0.37],
    44: [-0.175, TOP + 0.15, 0.47],
    54: [-0.115, TOP + 0.14, 0.575],
    62: [-0.108, TOP + 0.13, 0.582],
    72: [-0.115, TOP + 0.145, 0.565],
    81: [-0.17, TOP + 0.1, 0.46],
    91: [-0.21, TOP + 0.025, 0.37],
    108: [-0.21, TOP + 0.025, 0.37],
    115: [-0.17, TOP + 0.115, 0.47],
    122: FROM,
    125: FROM,
    129: [-0.068, TOP + 0.115, 0.62],
    133: TO,
    136: TO,
    143: [-0.1, TOP + 0.14, 0.53],
    [LAST]: [-0.18, TOP + 0.05, 0.42],
  });
  if (bad) {
    // The hover was left out: there and back in one swing.
    without(path, 45, 80);
    path[60] = [-0.108, TOP + 0.13, 0.582];
  }
  const spot = track(path);
  const perf = /** @type {any} */ ({
    hips: {
      1: [0, sit, 0],
      78: [0, sit, 0],
      94: [0, sit + 0.004, -0.006],
      120: [0, sit, 0.002],
      [LAST]: [0, sit, 0],
    },
    hipsRot: {
      1: [5, 2, 1],
      30: [6, 1, 1],
      52: [10, 4, 0],
      68: [9, 4, 0],
      95: [-2, 0, -1],
      102: [-2, 0, -1],
      121: [11, 4, 0],
      136: [11, 4, 0],
      [LAST]: [6, 2, 0],
    },
    spine: {
      1: [8, 2, 1],
      32: [9, 0, 1],
      54: [12, 5, 0],
      72: [10, 4, 0],
      97: [1, 0, -1],
      104: [1, 0, -1],
      123: [13, 5, 0],
      138: [13, 5, 0],
      [LAST]: [9, 3, 0],
    },
    chest: {
      1: [8, 2, 1],
      34: [9, -1, 2],
      56: [10, 7, 0],
      75: [8, 5, 0],
      92: [-2, 0, -1],
      99: [-4, 0, -1],
      107: [2, 0, -1],
      125: [11, 7, 0],
      140: [11, 7, 0],
      [LAST]: [9, 3, 0],
    },
    neck: { 1: [2, 0, 0], 36: [3, 0, 2], 60: [0, 0, 0], 98: [-3, 0, 0], 126: [4, 0, 0], [LAST]: [2, 0, 0] },
    head: {
      1: [2, 0, 4],
      18: [3, 0, 5],
      38: [3, 0, -5],
      62: [0, 0, -2],
      82: [0, 0, 3],
      100: [-2, 0, 2],
      126: [4, 0, -2],
      [LAST]: [0, 0, 3],
    },
    footL: { 1: [0.14, 0, 0.4, 10] },
    footR: { 1: [-0.13, 0, 0.3, -12] },
    rollR: { 1: 0 },
    kneeL: { 1: 8 },
    kneeR: { 1: 10 },
    clavL: { 1: [6, 4], 56: [7, 6], 96: [0, 0], 104: [0, 0], 124: [7, 6], [LAST]: [6, 4] },
    clavR: {
      1: [3, 2],
      36: [3, 2],
      56: [2, 10],
      72: [2, 8],
      90: [4, -2],
      97: [6, -2],
      106: [-2, 0],
      123: [2, 10],
      138: [2, 10],
      [LAST]: [2, 4],
    },
    armL: { 1: [30, 16, 0, 60] },
    armR: { 1: [26, 14, 0, 60] },
    fingL: { 1: 16, 24: 16, 28: 30, 32: 14, 38: 28, 42: 16, 90: 24, 110: 16 },
    fingR: {
      1: 20,
      40: 16,
      55: 30,
      64: 36,
      74: 18,
      92: 34,
      104: 22,
      114: 14,
      124: 42,
      133: 42,
      139: 16,
      [LAST]: 22,
    },
    handR: {
      w: { 1: 1 },
      pole: [-0.9, -0.45, -0.2],
      at: spot,
      rot: (/** @type {number} */ f) => {
        const t = track({ 1: 0, 34: 0, 54: 1, 76: 1, 90: 0, 108: 0, 122: 1, 136: 1, 150: 0.3 })(f);
        return handTurn("R", [0.35 - 0.1 * t, -0.08 - 0.38 * t, 0.95], [0.25 * t, -1, -0.1]);
      },
    },
    handL: {
      w: { 1: 1 },
      pole: [0.8, -0.7, -0.1],
      at: () => [0.15, TOP + 0.025, 0.39],
      rot: () => handTurn("L", [-0.6, -0.08, 0.8], [0, -1, 0]),
    },
    look: {
      w: { 1: 1 },
      at: track({
        1: [0.1, TOP, 0.62],
        22: [0.1, TOP, 0.62],
        32: [-0.1, TOP, 0.62],
        62: [-0.1, TOP, 0.62],
        70: [0.02, 1.12, 1.3],
        90: [0.02, 1.12, 1.3],
        101: [0, TOP, 0.7],
        110: [-0.08, TOP, 0.63],
        135: [-0.02, TOP, 0.68],
        145: [0.02, 1.0, 1.3],
      }),
    },
    leans: () => true,
    opts: { kind: "bezier" },
  });
  if (bad) {
    // The looks up to the opponent were not keyed.
    perf.look.at = track({
      1: [0.1, TOP, 0.62],
      22: [0.1, TOP, 0.62],
      32: [-0.1, TOP, 0.62],
      110: [-0.08, TOP, 0.63],
      135: [-0.02, TOP, 0.68],
    });
    const by = track({ 1: 0, 78: 0, 94: 0.06, 104: 0.06, 120: 0 });
    perf.handL.at = (/** @type {number} */ f) => [0.15, TOP + 0.025, 0.39 - by(f)];
    perf.hips[94] = [0, sit + 0.05, -0.006];
    perf.hips[102] = [0, sit + 0.05, -0.006];
  }
  toEnd(perf, LAST);
  // It lies on the board, and goes with the fingers between.
  const piece = (/** @type {number} */ f) => spot(Math.max(125, Math.min(133, bad ? f - 4 : f)));
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.01,
    shot: { stage: "polish" },
    items: [
      {
        id: "masa",
        still: [0, TOP - 0.02, 0.63],
        shapes: [{ kind: "box", size: [0.9, 0.04, 0.7] }],
        colour: "#806040",
      },
      {
        id: "tabure",
        still: [0, 0.44, -0.03],
        shapes: [{ kind: "box", size: [0.36, 0.04, 0.34] }],
        colour: "#604830",
      },
      {
        id: "tas",
        pose: (/** @type {number} */ f) => {
          const p = piece(f);
          return { p: [p[0] + 0.012, p[1] - 0.077, p[2] + 0.04], q: ONE };
        },
        must: bad ? [129, 133, 137] : [125, 129, 133],
        tol: 0.0006,
        shapes: [{ kind: "capsule", radius: 0.012, from: [-0.006, 0, 0], to: [0.006, 0, 0] }],
        colour: "#f0e8d0",
      },
      { skel: sk, perf, body: true },
    ],
    cameras: [{ id: "kamera", eye: [1.3, 1.35, 2.4], at: [0, 0.8, 0.2], fov: 34 }],
  });
  if (bad) {
    pop(b.doc, "el_sag", "rotation.x", 97, 10);
    // The first second is one pose.
    for (const c of b.doc.curves) {
      if (c.node === "tas" || c.keys.length < 2) continue;
      const k = keyAt(c, 30);
      c.keys = [[1, k[1], { out: [1, 0] }], ...c.keys.filter((/** @type {any} */ q) => q[0] >= 30)];
      k[2] = { ...k[2], in: [-1, 0] };
    }
  }
  b.doc.figures = [figure(sk)];
  b.doc.surfaces = [{ id: "zemin", normal: [0, 1, 0], height: 0 }];
  b.doc.contacts = [
    { node: "el_sol", with: "masa", frames: [1, LAST] },
    { node: "kalca", with: "tabure", frames: [1, LAST] },
  ];
  b.doc.props = [
    { node: "tas", mass: 0.02, heldBy: [{ node: "el_sag", frames: [125, 133] }] },
    { node: "masa" },
    { node: "tabure" },
  ];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "He never looks up: the glance at the other player, for which he takes the hand back, is not there, and nor is the one at the end.",
    kind: "look left out",
    size: "strong",
    nodes: ["kafa", "boyun"],
    frames: [62, 110],
    order: 1,
  },
  {
    what: "The piece goes four frames behind his fingers, and slides on when they have stopped.",
    kind: "prop behind the hand",
    size: "strong",
    nodes: ["tas", "el_sag"],
    frames: [125, 138],
    order: 2,
  },
  {
    what: "The hand goes to the piece and back in one swing; without a wait over it there is no doubt to see.",
    kind: "no hold",
    size: "ordinary",
    nodes: ["el_sag", "onkol_sag", "ustkol_sag"],
    frames: [40, 84],
    order: 3,
  },
  {
    what: "As he sits up his seat comes off the stool and hangs over it.",
    kind: "off the seat",
    size: "ordinary",
    nodes: ["kalca"],
    frames: [80, 120],
    order: 4,
  },
  {
    what: "The first second is one dead pose: no breath, no eye, then he starts.",
    kind: "freeze",
    size: "ordinary",
    nodes: ["kalca", "bel", "gogus", "boyun", "kafa", "ustkol_sag", "ustkol_sol"],
    frames: [1, 30],
    order: 5,
  },
  {
    what: "The left hand, which lies on the table, is drawn back over it when he sits up.",
    kind: "hand-slide",
    size: "ordinary",
    nodes: ["el_sol", "parmak_sol"],
    frames: [80, 120],
    order: 6,
  },
  {
    what: "The right wrist jumps for one frame at 97.",
    kind: "pop",
    size: "barely",
    nodes: ["el_sag"],
    frames: [96, 98],
    order: 7,
  },
];
