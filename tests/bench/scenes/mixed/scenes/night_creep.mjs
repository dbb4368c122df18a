// @ts-check

import { change, without, wordsOf } from "../../mixed/kit/help.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { pop } from "../../slips.mjs";

export const name = "night_creep";
export const about =
  "A burglar creeps along a hall on his toes, hears something, freezes with one foot in the air, looks back at the lamp, waits, and sets the foot down.";

const LAST = 150;
const LAMP = [2.2, 1.75, -0.7];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "hirsiz",
    stature: 1.78,
    spines: 3,
    words: wordsOf(
      "kalca bel/sirt/gogus boyun kafa tepe kopru kol dirsek el parmak uyluk baldir ayak taban uc",
    ),
    side: (w, s) => `${s === "L" ? "sol" : "sag"}_${w}`,
    orders: { root: "yxz", spine: "yxz", neck: "yxz", arm: "xzy" },
  });
  const perf = /** @type {any} */ ({
    hips: {
      1: [0.0, -0.11, -0.13],
      8: [0.035, -0.105, -0.06],
      17: [0.058, -0.075, 0.03],
      25: [0.045, -0.11, 0.12],
      32: [-0.005, -0.13, 0.2],
      38: [-0.045, -0.105, 0.29],
      46: [-0.058, -0.075, 0.36],
      54: [-0.045, -0.11, 0.455],
      61: [0.01, -0.13, 0.545],
      67: [0.05, -0.1, 0.64],
      72: [0.064, -0.07, 0.688],
      77: [0.062, -0.08, 0.683],
      112: [0.064, -0.085, 0.685],
      118: [0.062, -0.1, 0.7],
      126: [0.045, -0.125, 0.77],
      136: [0.0, -0.13, 0.86],
      150: [0.0, -0.128, 0.862],
    },
    hipsRot: {
      1: [10, 6, 0],
      17: [9, 0, 2],
      32: [11, -7, 0],
      46: [9, 0, -2],
      61: [11, 7, 0],
      71: [6, 2, 2],
      77: [7, 4, 2],
      90: [7, 10, 2],
      108: [7, 9, 2],
      118: [9, 3, 2],
      136: [11, -5, 0],
      150: [11, -5, 0],
    },
    spine: {
      1: [12, -3, 0],
      17: [11, 0, -2],
      32: [13, 4, 0],
      46: [11, 0, 2],
      61: [13, -4, 0],
      72: [5, 0, -2],
      79: [7, 0, -2],
      92: [6, 12, -2],
      108: [6, 11, -2],
      120: [10, 2, -1],
      138: [13, 3, 0],
      150: [13, 3, 0],
    },
    chest: {
      1: [13, -5, 0],
      18: [12, 0, -2],
      33: [14, 6, 0],
      47: [12, 0, 2],
      62: [14, -6, 0],
      73: [2, 0, -2],
      80: [5, 2, -2],
      94: [4, 24, -3],
      109: [4, 23, -3],
      122: [10, 4, 0],
      140: [14, 5, 0],
      150: [14, 5, 0],
    },
    neck: {
      1: [-14, 2, 0],
      33: [-16, -3, 0],
      62: [-16, 3, 0],
      72: [-4, -2, 0],
      80: [-6, 10, 0],
      88: [-8, 30, 0],
      108: [-8, 30, 0],
      118: [-8, 6, 0],
      128: [-15, -2, 0],
      150: [-15, -2, 0],
    },
    head: {
      1: [-16, 4, 0],
      16: [-14, 16, 2],
      26: [-16, 4, 0],
      40: [-15, -18, -2],
      54: [-18, 0, 0],
      66: [-17, 3, 0],
      71: [-4, -3, 0],
      78: [-7, 18, 0],
      87: [-10, 44, 3],
      108: [-10, 44, 3],
      117: [-8, 6, 0],
      128: [-17, -4, 0],
      150: [-17, -3, 0],
    },
    footL: {
      1: [0.085, 0, 0.06, 6],
      32: { v: [0.085, 0, 0.06, 6], s: [0, 0, 0, 0] },
      43: { v: [0.09, 0.14, 0.32, 4], s: [0, 0.002, 0.042, 0] },
      54: { v: [0.08, 0, 0.73, 6], in: [0, -0.007, 0.004, 0], out: [0, 0, 0, 0] },
      150: [0.08, 0, 0.73, 6],
    },
    rollL: { 1: 0, 24: 0, 32: 30, 36: 36, 45: 8, 54: 14, 60: 0, 112: 0, 126: 4, 136: 16, 150: 16 },
    footR: {
      1: [-0.085, 0, -0.26, -6],
      5: { v: [-0.085, 0, -0.26, -6], s: [0, 0, 0, 0] },
      15: { v: [-0.09, 0.14, 0.03, -4], s: [0, 0.002, 0.04, 0] },
      26: { v: [-0.08, 0, 0.4, -6], in: [0, -0.007, 0.004, 0], out: [0, 0, 0, 0] },
      59: { v: [-0.08, 0, 0.4, -6], s: [0, 0, 0, 0] },
      67: { v: [-0.09, 0.16, 0.66, -6], s: [0, 0.012, 0.022, 0] },
      72: [-0.094, 0.205, 0.72, -8],
      80: [-0.094, 0.19, 0.72, -8],
      112: [-0.094, 0.185, 0.72, -8],
      121: { v: [-0.09, 0.1, 0.93, -6], s: [0, -0.013, 0.022, 0] },
      130: { v: [-0.08, 0, 1.04, -6], in: [0, -0.005, 0.003, 0], out: [0, 0, 0, 0] },
      150: [-0.08, 0, 1.04, -6],
    },
    rollR: {
      1: 14,
      5: 32,
      9: 36,
      18: 8,
      26: 14,
      32: 0,
      50: 0,
      59: 30,
      64: 36,
      72: 26,
      112: 24,
      122: 6,
      130: 12,
      137: 0,
    },
    kneeL: { 1: 14 },
    kneeR: { 1: 14 },
    clavL: { 1: [4, 4], 66: [4, 4], 72: [12, 6], 82: [9, 4], 112: [9, 4], 128: [4, 4] },
    clavR: { 1: [4, 4], 66: [4, 4], 72: [12, 6], 82: [9, 0], 112: [9, 0], 128: [4, 4] },
    armL: {
      1: [32, 14, 0, 92],
      20: [10, 16, 0, 100],
      34: [6, 16, 0, 104],
      50: [36, 14, 0, 90],
      62: [38, 14, 0, 88],
      72: [18, 34, 0, 108],
      80: [22, 30, 0, 102],
      110: [20, 31, 0, 102],
      126: [8, 16, 0, 102],
      138: [6, 16, 0, 104],
      150: [6, 16, 0, 103],
    },
    armR: {
      1: [6, 16, 0, 104],
      19: [32, 14, 0, 92],
      33: [38, 14, 0, 88],
      48: [10, 16, 0, 100],
      61: [5, 17, 0, 104],
      73: [26, 40, 0, 96],
      81: [20, 34, 0, 98],
      111: [22, 35, 0, 99],
      124: [34, 16, 0, 92],
      140: [38, 14, 0, 88],
      150: [38, 14, 0, 88],
    },
    wristL: {
      1: [42, 0, 0],
      14: [52, 0, 0],
      28: [30, 0, 0],
      44: [26, 0, 0],
      60: [48, 0, 0],
      70: [20, 0, 0],
      76: [-22, 0, 0],
      84: [-14, 0, 0],
      112: [-16, 0, 0],
      126: [30, 0, 0],
      142: [42, 0, 0],
      150: [40, 0, 0],
    },
    wristR: {
      1: [30, 0, 0],
      14: [24, 0, 0],
      30: [48, 0, 0],
      44: [50, 0, 0],
      58: [28, 0, 0],
      70: [12, 0, 0],
      77: [-26, 0, 0],
      85: [-18, 0, 0],
      112: [-20, 0, 0],
      127: [36, 0, 0],
      142: [46, 0, 0],
      150: [44, 0, 0],
    },
    fingL: { 1: 20, 60: 26, 73: 2, 84: 6, 112: 6, 130: 24 },
    fingR: { 1: 22, 60: 18, 74: 0, 84: 5, 112: 5, 130: 22 },
    look: { w: { 1: 0, 76: 0, 90: 1, 107: 1, 118: 0, 150: 0 }, at: () => LAMP },
    opts: { kind: "bezier" },
  });
  if (bad) {
    // The hips were left where the step had them: the foot that he stands on is beside him.
    change(perf, {
      hips: {
        67: [-0.02, -0.1, 0.6],
        72: [-0.045, -0.07, 0.62],
        77: [-0.05, -0.08, 0.615],
        112: [-0.048, -0.085, 0.617],
        118: [-0.03, -0.1, 0.65],
      },
    });
    // The turn of the head was aimed before the lamp was moved.
    perf.look.at = () => [1.6, 0.45, 0.05];
    // A key of the front foot was dragged.
    perf.footR[48] = [-0.08, 0, 0.37, -6];
    perf.footR[40] = [-0.08, 0, 0.4, -6];
    perf.footR[59] = { v: [-0.08, 0, 0.36, -6], s: [0, 0, 0, 0] };
    // All of the turn is on the same two frames.
    change(perf, {
      hipsRot: { 77: null, 90: null, 78: [6, 3, 2], 88: [7, 10, 2] },
      spine: { 79: null, 92: null, 78: [6, 0, -2], 88: [6, 12, -2] },
      chest: { 80: null, 94: null, 78: [3.5, 1, -2], 88: [4, 24, -3] },
      neck: { 80: null, 78: [-5, 0, 0] },
      head: { 87: null, 78: [-5, -2, 0], 88: [-10, 44, 3] },
    });
    perf.look.w = { 1: 0, 78: 0, 88: 1, 107: 1, 118: 0, 150: 0 };
    // Shoulders were forgotten in the fright.
    without(perf.clavL, 60, 130);
    without(perf.clavR, 60, 130);
  }
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.01,
    items: [
      { skel: sk, perf, body: true },
      { id: "gece_lambasi", still: LAMP, shapes: [{ kind: "sphere", radius: 0.09 }], colour: "#f0d890" },
    ],
    cameras: [{ id: "koridor", eye: [5.4, 1.3, 0.5], at: [0, 0.86, 0.45], fov: 28 }],
  });
  if (bad) {
    pop(b.doc, "sol_dirsek", "rotation.x", 30, -5.5);
  }
  return full(b, { gazes: [{ figure: "hirsiz", at: "gece_lambasi", frames: [92, 106] }] });
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "Frozen on one leg he would fall: the hips are a hand's breadth beside the foot he stands on, over the one in the air.",
    kind: "off-balance",
    size: "strong",
    nodes: ["kalca"],
    frames: [66, 126],
    order: 1,
  },
  {
    what: "He looks at the floor before the lamp; his eyes are more than a metre too low for it.",
    kind: "look-misses",
    size: "ordinary",
    nodes: ["kafa", "boyun"],
    frames: [88, 108],
    order: 2,
  },
  {
    what: "He looks back as one piece: hips, back and head start and arrive on the same frames; the head has to go first.",
    kind: "one-block",
    size: "ordinary",
    nodes: ["kalca", "bel", "sirt", "gogus", "boyun", "kafa"],
    frames: [76, 94],
    order: 3,
  },
  {
    what: "The right foot creeps back four centimetres under him while it bears his weight.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["sag_ayak", "sag_taban"],
    frames: [40, 60],
    order: 4,
  },
  {
    what: "The left forearm twitches for one frame, on 30.",
    kind: "pop",
    size: "barely",
    nodes: ["sol_dirsek", "sol_el", "sol_parmak"],
    frames: [29, 31],
    order: 5,
  },
  {
    what: "The fright stays out of the shoulders; they want to go up with the arms.",
    kind: "part left out",
    size: "barely",
    nodes: ["sol_kopru", "sag_kopru"],
    frames: [66, 112],
    order: 6,
  },
];
