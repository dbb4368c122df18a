// @ts-check

import { full, versions } from "../../people/kit/declare.mjs";
import { conj, norm, qmul } from "../../people/kit/math.mjs";
import { follow, makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { pop, stopDead } from "../../slips.mjs";
import { change, wordsOf } from "../kit/help.mjs";

export const name = "heave_line";
export const about =
  "A deckhand swings a coil of mooring rope back and forth, steps into it, heaves it underarm to the pier, and watches it go.";

const LAST = 116;
const OUT = 58;

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "matros",
    stature: 1.84,
    spines: 2,
    words: wordsOf(
      "panvica kriz/hrudnik krk hlava temeno kluc rameno predlaktie ruka prsty stehno holen noha spicka konec",
    ),
    side: (w, s) => `${w}${s === "L" ? "_l" : "_p"}`,
    orders: { root: "yxz", spine: "yxz", leg: "xzy", neck: "yxz", arm: "xzy" },
    armRest: 20,
  });
  const perf = /** @type {any} */ ({
    hips: {
      1: [-0.01, -0.02, 0],
      10: [0.0, -0.05, 0.02],
      18: [0.01, -0.03, 0.05],
      28: [-0.03, -0.05, -0.02],
      38: [-0.055, -0.08, -0.05],
      46: { v: [-0.045, -0.12, -0.02], s: [0.002, -0.003, 0.012] },
      54: { v: [0.0, -0.12, 0.19], s: [0.006, 0.002, 0.024] },
      62: { v: [0.045, -0.08, 0.33], s: [0.003, 0.002, 0.008] },
      70: [0.066, -0.075, 0.365],
      84: [0.055, -0.075, 0.345],
      [LAST]: [0.055, -0.073, 0.345],
    },
    hipsRot: {
      1: [2, 0, 0],
      10: [5, -3, 0],
      19: [1, 6, 0],
      30: [6, -14, 1],
      40: [10, -30, 2],
      46: [11, -31, 2],
      57: [6, 10, 0],
      66: [2, 22, -1],
      86: [4, 15, 0],
      [LAST]: [4, 14, 0],
    },
    spine: {
      1: [3, 0, 0],
      11: [7, -3, 0],
      20: [2, 5, 0],
      31: [8, -10, 1],
      41: [13, -16, 2],
      48: [13, -15, 2],
      59: [4, 8, -1],
      68: [-4, 13, -2],
      88: [3, 8, 0],
      [LAST]: [3, 7, 0],
    },
    chest: {
      1: [4, 0, 0],
      12: [9, -4, 0],
      21: [2, 7, 0],
      32: [10, -13, 1],
      42: [16, -20, 3],
      50: [15, -17, 3],
      61: [1, 12, -2],
      70: [-8, 17, -4],
      90: [2, 9, 0],
      [LAST]: [2, 8, 0],
    },
    neck: {
      1: [-2, 0, 0],
      20: [-4, -4, 0],
      42: [-12, 24, 0],
      52: [-12, 18, 0],
      64: [-2, -12, 0],
      90: [-3, -8, 0],
      [LAST]: [-3, -8, 0],
    },
    head: {
      1: [-4, 0, 0],
      8: [10, -8, 0],
      17: [-4, -8, 0],
      42: [-12, 34, -2],
      52: [-12, 26, -2],
      66: [-8, -20, 3],
      92: [-6, -13, 2],
      [LAST]: [-6, -12, 2],
    },
    footL: {
      1: [0.12, 0, 0.06, 10],
      39: { v: [0.12, 0, 0.06, 10], s: [0, 0, 0, 0] },
      46: { v: [0.11, 0.09, 0.27, 8], s: [0, 0, 0.042, 0] },
      53: { v: [0.1, 0, 0.5, 6], in: [0, -0.012, 0.008, 0], out: [0, 0, 0, 0] },
      [LAST]: [0.1, 0, 0.5, 6],
    },
    rollL: { 1: 0, 35: 0, 39: 16, 43: 22, 50: -6, 53: -13, 57: 0, [LAST]: 0 },
    footR: { 1: [-0.12, 0, -0.1, -20], [LAST]: [-0.12, 0, -0.1, -20] },
    rollR: { 1: 0, 48: 0, 56: 26, 66: 44, 78: 42, [LAST]: 41 },
    kneeL: { 1: 8 },
    kneeR: { 1: 8, 46: 8, 62: -8, [LAST]: -8 },
    clavR: {
      1: [-3, 2],
      18: [0, 6],
      40: [-2, -9],
      48: [-3, -8],
      60: [4, 10],
      70: [10, 12],
      90: [0, 2],
      [LAST]: [0, 2],
    },
    clavL: { 1: [0, 0], 40: [2, 8], 62: [0, -5], 84: [0, 0], [LAST]: [0, 0] },
    armR: {
      1: [4, 9, 0, 14],
      8: [-14, 12, 0, 12],
      18: [34, 10, 0, 20],
      29: [-28, 16, 0, 8],
      36: [-46, 20, 0, 10],
      41: [-58, 24, 0, 16],
      46: { v: [-58, 24, 0, 14], s: [2.2, 0, 0, -0.6] },
      52: { v: [-10, 12, 0, 6], s: [12, -1, 0, 0] },
      [OUT]: { v: [74, 8, 0, 12], s: [12, 0, 0, 1.6] },
      64: { v: [122, 14, 0, 30], s: [3.4, 0.5, 0, 2.4] },
      70: [130, 18, 0, 44],
      80: [70, 16, 0, 52],
      92: [10, 10, 0, 26],
      98: [2, 9, 0, 16],
      [LAST]: [4, 9, 0, 17],
    },
    wristR: {
      1: [2, 0, 0],
      12: [2, 10, 0],
      22: [2, -12, 0],
      34: [2, 10, 0],
      47: [2, 24, 0],
      52: [2, 26, 0],
      60: [2, -22, 0],
      68: [2, -12, 0],
      80: [12, 16, 0],
      96: [6, -6, 0],
      106: [4, 2, 0],
      [LAST]: [4, 0, 0],
    },
    fingR: { 1: 74, 56: 74, 60: 8, 72: 4, 90: 24, [LAST]: 24 },
    armL: {
      1: [4, 11, 0, 20],
      12: [10, 14, 0, 26],
      22: [-8, 14, 0, 24],
      34: [24, 26, 0, 34],
      44: [46, 34, 0, 26],
      52: [34, 34, 0, 26],
      62: [-18, 28, 0, 40],
      72: [-26, 24, 0, 38],
      88: [-6, 14, 0, 26],
      98: [3, 11, 0, 22],
      [LAST]: [3, 11, 0, 22],
    },
    wristL: {
      1: [5, 0, 0],
      16: [10, 0, 0],
      26: [-4, 0, 0],
      40: [12, 0, 0],
      54: [-12, 0, 0],
      66: [14, 0, 0],
      80: [-4, 0, 0],
      94: [8, 0, 0],
      [LAST]: [5, 0, 0],
    },
    fingL: { 1: 26, 44: 8, 64: 24, 90: 30 },
    leans: (/** @type {number} */ f) => f > 38 && f < 76,
    opts: { kind: "bezier" },
  });
  if (bad) {
    // All of the body stands still until the arm comes through.
    for (const [k, at] of [
      ["hipsRot", 30],
      ["spine", 31],
      ["chest", 32],
    ]) {
      const t = perf[k];
      for (const f of Object.keys(t).map(Number)) if (f >= Number(at) && f < 56) delete t[f];
      t[50] = k === "hipsRot" ? [5, 4, 0] : [6, 4, 0];
    }
    // The last swing back was left out.
    change(perf, {
      armR: {
        29: null,
        36: null,
        41: [16, 10, 0, 16],
        46: { v: [14, 10, 0, 14], s: [1.2, 0, 0, -0.4] },
        52: { v: [34, 10, 0, 8], s: [6, -0.4, 0, 0] },
      },
    });
    // The rear foot goes along with the hips.
    change(perf, { footR: { 50: [-0.12, 0, -0.1, -20], 66: [-0.12, 0, -0.035, -20] } });
    perf.footR[LAST] = [-0.12, 0, -0.035, -20];
  }
  const free = (/** @type {number} */ f, /** @type {any} */ env) => {
    const [a, b] = [OUT - 1, OUT].map((t) => env.palm("matros", "R", t));
    const t = f - OUT;
    const [vx, vy, vz] = [0, 1, 2].map((i) => b.p[i] - a.p[i]);
    const d = qmul(b.q, conj(a.q));
    const half = Math.acos(Math.min(1, d[3])) * t * 0.6;
    const axis = norm([d[0], d[1], d[2]]);
    const q = qmul([...axis.map((v) => v * Math.sin(half)), Math.cos(half)], b.q);
    // The flawed coil falls a quarter as fast.
    const g = bad ? 1.3 : 4.905;
    return { p: [b.p[0] + vx * t, b.p[1] + vy * t - (g * t * t) / 576, b.p[2] + vz * t], q };
  };
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.01,
    items: [
      { skel: sk, perf, body: true },
      {
        id: "lano",
        must: [OUT],
        pose: follow(
          [{ fig: "matros", s: "R", from: 1, to: OUT, grip: { p: [0, -0.02, 0], q: [0, 0, 0, 1] } }],
          free,
        ),
        shapes: [
          { kind: "capsule", radius: 0.025, from: [0, -0.02, -0.09], to: [0, -0.26, -0.07] },
          { kind: "capsule", radius: 0.025, from: [0, -0.02, 0.09], to: [0, -0.26, 0.07] },
          { kind: "capsule", radius: 0.025, from: [0, -0.28, -0.06], to: [0, -0.28, 0.06] },
        ],
      },
    ],
  });
  if (bad) {
    stopDead(b.doc, ["rameno_p", "predlaktie_p", "ruka_p"], "rotation", 62, 65, 76);
    pop(b.doc, "hlava", "rotation.y", 27, 6);
  }
  b.doc.nodes.find((/** @type {any} */ n) => n.id === "lano").visible = [[1, 82]];
  b.doc.props = [{ node: "lano", mass: 3, heldBy: [{ node: "ruka_p", frames: [1, OUT] }] }];
  return full(b, { props: b.doc.props });
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "No swing back: the heavy coil hangs before his thigh and flies off from there, nothing has been wound up.",
    kind: "no anticipation",
    size: "strong",
    nodes: ["rameno_p", "predlaktie_p", "ruka_p", "lano"],
    frames: [24, 54],
    order: 1,
  },
  {
    what: "The coil sails: it hangs over the water as if it were paper.",
    kind: "wrong gravity",
    size: "strong",
    nodes: ["lano"],
    frames: [59, 82],
    order: 2,
  },
  {
    what: "The heave comes out of the shoulder alone, hips and back do not turn into it.",
    kind: "arm-alone",
    size: "ordinary",
    nodes: ["panvica", "kriz", "hrudnik"],
    frames: [30, 60],
    order: 3,
  },
  {
    what: "The throwing arm stops dead above the shoulder, it ought to swing through.",
    kind: "hard-stop",
    size: "ordinary",
    nodes: ["rameno_p", "predlaktie_p", "ruka_p"],
    frames: [61, 76],
    order: 4,
  },
  {
    what: "The toes of the rear foot are dragged on six centimetres by the hips.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["noha_p", "spicka_p"],
    frames: [50, 67],
    order: 5,
  },
  {
    what: "On 27 the head jerks aside for a frame, hardly to be seen.",
    kind: "pop",
    size: "barely",
    nodes: ["hlava"],
    frames: [26, 28],
    order: 6,
  },
];
