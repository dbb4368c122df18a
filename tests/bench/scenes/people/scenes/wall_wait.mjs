// @ts-check
import { track } from "../kit/curve.mjs";
import { versions } from "../kit/declare.mjs";
import { straighten } from "../kit/flaws.mjs";
import { handTurn } from "../kit/pose.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "wall_wait";
export const about =
  "A man who waits leans his left hand on a wall, taps with his right foot and looks at the watch on his right wrist. Then he looks down the street to the clock on its post and lets the arm sink.";
export const centre = [0.1, 0.9, 0];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "waiter",
    stature: 1.8,
    spines: 3,
    words: {
      root: "kyoku",
      spine: ["koshi", "hara", "mune"],
      neck: "kubi",
      head: "atama",
      end: "atama_end",
      clav: "sakotsu",
      up: "jowan",
      fore: "zenwan",
      hand: "te",
      fing: "yubi",
      thigh: "momo",
      shin: "sune",
      foot: "ashi",
      toe: "tsumasaki",
    },
    side: (w, s) => `${s}_${w}`,
    tips: false,
    orders: { root: "yxz" },
  });
  const watch = [-0.1, 1.2, 0.32];
  const post = [-2.4, 1.9, 4.5];
  const perf = /** @type {any} */ ({
    opts: { kind: "smooth" },
    hips: {
      1: [0, -0.014, 0],
      8: [-0.015, -0.02, 0],
      30: [0.1, -0.03, -0.005],
      44: [0.094, -0.026, -0.005],
      76: [0.096, -0.03, -0.012],
      92: [0.092, -0.034, -0.012],
      116: [0.085, -0.026, -0.005],
      144: [0.09, -0.027, -0.004],
    },
    hipsRot: {
      1: [0, 0, 0],
      9: [0, 2, 1],
      31: [0, -6, -4],
      48: [0, -5, -4],
      78: [1, -4, -4],
      110: [0, -9, -4],
      144: [0, -9, -4],
    },
    spine: {
      1: [0, 0, 0],
      10: [0, 2, 1],
      34: [-2, -3, -3],
      80: [3, -1, -3],
      114: [-2, -6, -3],
      144: [-2, -6, -3],
    },
    chest: {
      1: [0, 0, 0],
      12: [0, 3, 1],
      37: [-3, -4, -4],
      83: [5, 0, -3],
      118: [-3, -9, -4],
      144: [-3, -9, -4],
    },
    neck: { 1: [0, 0, 0], 36: [2, 6, 3], 144: [2, 6, 3] },
    head: { 1: [0, 0, 0], 8: [6, 14, 0], 24: [6, 22, 2], 44: [0, 0, 4], 60: [0, -4, 4], 144: [0, 0, 4] },
    clavL: { 1: [0, 0], 14: [4, 2], 31: [14, 4], 144: [13, 4] },
    clavR: { 1: [0, 0], 62: [1, 0], 76: [5, 8], 100: [4, 7], 122: [-1, 0], 144: [0, 0] },
    footL: { 1: [0.12, 0, 0, 10] },
    footR: { 1: [-0.13, 0, 0.06, -18] },
    rollR: { 1: 0, 40: 0, 45: -16, 49: 0, 52: 0, 57: -18, 61: 0, 64: 0, 69: -15, 73: 0, 144: 0 },
    armL: { 1: [3, 7, 0, 14], 8: [-4, 10, 0, 20], 20: [20, 50, 0, 60] },
    wristL: { 1: [4, 0, 0], 12: [8, 0, 0], 24: [-24, 0, 0] },
    armR: {
      1: [3, 7, 0, 14],
      30: [0, 10, 0, 18],
      58: [-2, 10, 0, 17],
      64: [4, 10, 0, 30],
      70: [24, 14, 20, 70],
      110: [24, 14, 20, 70],
      126: [-4, 9, 0, 16],
      134: [4, 9, 0, 20],
      144: [3, 9, 0, 19],
    },
    wristR: {
      1: [4, 0, 0],
      66: [10, 0, 0],
      112: [-6, 0, 0],
      130: [14, 0, 0],
      142: [6, 0, 0],
      144: [6, 0, 0],
    },
    fingL: { 1: 18, 20: 14, 32: 6, 40: 10, 144: 10 },
    fingR: { 1: 20, 60: 26, 76: 38, 104: 36, 128: 14, 140: 22, 144: 22 },
    look: {
      w: { 1: 0, 62: 0, 74: 1, 144: 1 },
      at: (f) => {
        const t = track({ 1: 0, 97: 0, 109: 1 })(f);
        const a = bad ? [-0.42, 1.34, 0.3] : watch;
        return a.map((v, i) => v + (post[i] - v) * t);
      },
    },
    handL: {
      w: { 8: 0, 30: 1 },
      pole: [0.1, -0.9, -0.5],
      at: () => [0.58, 1.4, 0.16],
      rot: () => handTurn("L", [0, 1, 0.25], [1, 0, 0]),
    },
    handR: {
      w: { 60: 0, 78: 1, 102: 1, 124: 0 },
      pole: [-0.9, -0.5, -0.2],
      at: (f) => [watch[0] + 0.05, watch[1] + 0.006 * Math.sin(f / 9), watch[2] - 0.01],
      rot: () => handTurn("R", [1, 0.12, 0.2], [0, -1, -0.15]),
    },
    leans: (f) => f > 18,
  });
  if (bad) {
    // The palm goes into the wall, and the hips stay where they were: nothing rests on the hand.
    perf.handL.at = () => [0.63, 1.4, 0.16];
    perf.hips = { 1: [0, -0.014, 0], 144: [0.0, -0.016, 0] };
    perf.hipsRot = { 1: [0, 0, 0], 144: [0, 0, 0] };
    perf.chest[37] = [0, -2, -9];
    perf.spine[34] = [0, -2, -8];
    perf.handR.w = { 60: 0, 78: 1, 80: 1, 92: 0 };
    perf.armR = {
      1: [3, 7, 0, 14],
      58: [-2, 10, 0, 17],
      64: [4, 10, 0, 30],
      70: [24, 14, 20, 70],
      92: [-4, 9, 0, 16],
      144: [3, 9, 0, 19],
    };
    delete perf.wristR[112];
    delete perf.wristR[130];
  }
  const b = makeShot({
    name,
    fps: 24,
    last: 144,
    unit: 1,
    items: [
      { id: "wall", still: [0.7, 1.3, 0], shapes: [{ kind: "box", size: [0.2, 2.6, 2.4] }] },
      { id: "clock", still: post, shapes: [{ kind: "sphere", radius: 0.25 }] },
      { skel: sk, perf, body: true },
    ],
    cameras: [{ id: "street", eye: [-1.6, 1.4, 3.8], at: [0.1, 0.95, 0], fov: 34 }],
  });
  b.doc.gazes = [
    { figure: "kyoku", at: "R_te", frames: [78, 96] },
    { figure: "kyoku", at: "clock", frames: [112, 144] },
  ];
  if (bad) for (const ax of ["x", "y", "z"]) straighten(b.doc, "R_ashi", `rotation.${ax}`, [38, 74]);
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The left hand is in the wall up to the wrist.",
    kind: "goes-through",
    size: "ordinary",
    nodes: ["L_te", "L_jowan", "L_zenwan", "wall"],
    frames: [28, 144],
    order: 1,
  },
  {
    what: "He does not lean: the hips never go to the wall, the hand only touches it beside him.",
    kind: "no-weight-shift",
    size: "ordinary",
    nodes: ["kyoku"],
    frames: [8, 144],
    order: 2,
  },
  {
    what: "The watch is up for a quarter of a second: no one can read that he looks at it.",
    kind: "too-short",
    size: "strong",
    nodes: ["R_jowan", "R_zenwan", "R_te"],
    frames: [70, 92],
    order: 3,
  },
  {
    what: "He looks past the watch, over his elbow.",
    kind: "look-misses",
    size: "barely",
    nodes: ["atama", "kubi"],
    frames: [74, 98],
    order: 4,
  },
];
