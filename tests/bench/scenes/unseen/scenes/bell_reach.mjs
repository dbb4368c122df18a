// @ts-check

import { track } from "../../people/kit/curve.mjs";
import { figure, versions } from "../../people/kit/declare.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { leaveOut, pop, raise } from "../../slips.mjs";
import { names, toEnd, without } from "../kit-A/write.mjs";

export const name = "bell_reach";
export const about =
  "A girl of five leans a hand on the wall, goes up on her toes and stretches for the bell; she does not get there, sinks, bends her knees and gets it in the second go. She comes down and waits for the door.";

const LAST = 132;
const WALL = 0.37;
const BELL = [-0.08, 1.285, WALL - 0.015];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "merch",
    stature: 1.1,
    spines: 2,
    words: names(
      "cluniau cefn/bron gwddf pen corun pont_ysgwydd braich elin llaw bysedd clun coes troed bodiau bodiau_pen",
    ),
    side: (w, s) => `${w}_${s === "L" ? "chwith" : "dde"}`,
    orders: { root: "zyx", spine: "zyx", neck: "zyx", leg: "xyz" },
    build: { head: 0.165, thigh: 0.215, shin: 0.225, hip: 0.055, shoulder: 0.1 },
  });
  const fingers = [0.03, 0.8, 0.6];
  const n = Math.hypot(...fingers);
  const reach = 0.055 * 1.1;
  const grip = BELL.map((v, i) => v - (fingers[i] / n) * reach);
  // Near the bell on the first go, on it in the second, and pressed in by a centimetre.
  const press = track({ 1: 1, 46: 1, 58: 1, 66: 0.8, 72: 0, 80: 0, 90: 0.2, LAST: 0.2 });
  const perf = /** @type {any} */ ({
    hips: {
      1: [-0.012, -0.01, 0.03],
      12: [-0.014, -0.011, 0.032],
      22: [0.004, -0.04, 0.04],
      27: [0.006, -0.034, 0.05],
      40: [0.004, 0.028, 0.1],
      46: [0.003, 0.029, 0.102],
      57: [0.004, -0.052, 0.058],
      61: [0.004, -0.05, 0.064],
      71: [0, 0.04, 0.113],
      78: [0, 0.04, 0.115],
      90: { v: [-0.004, -0.032, 0.05], s: [0, -0.001, -0.001] },
      94: [-0.005, -0.036, 0.045],
      104: [-0.014, -0.01, 0.034],
      118: [-0.018, -0.013, 0.03],
      LAST: [-0.016, -0.012, 0.031],
    },
    hipsRot: {
      1: [2, 0, 1],
      22: [8, 2, 0],
      41: [0, 8, -2],
      58: [6, 2, 0],
      71: [-1, 10, -3],
      79: [-1, 10, -3],
      93: [7, 1, 0],
      106: [2, 0, 2],
      LAST: [2, -1, 2],
    },
    spine: {
      1: [1, 0, 0],
      23: [6, 1, 0],
      42: [-4, 4, 3],
      59: [3, 1, 0],
      72: [-5, 5, 4],
      80: [-5, 5, 4],
      95: [6, 1, 0],
      110: [0, 0, -1],
      LAST: [1, 0, -1],
    },
    chest: {
      1: [2, 0, 0],
      25: [5, 2, 0],
      43: [-5, 7, 6],
      60: [1, 2, 0],
      73: [-6, 8, 8],
      81: [-6, 8, 8],
      97: [5, 1, 0],
      113: [1, 0, -1],
      LAST: [1, 1, -1],
    },
    neck: {
      1: [-4, 0, 0],
      44: [-8, 0, -3],
      60: [-2, 0, 0],
      73: [-9, 0, -3],
      98: [2, 0, 0],
      112: [-2, 3, 1],
      LAST: [-2, 3, 1],
    },
    head: {
      1: [-2, 0, 0],
      45: [-4, 2, -4],
      61: [0, 0, 0],
      74: [-4, 2, -5],
      99: [2, 0, 2],
      114: [-2, 4, 4],
      LAST: [-2, 4, 3],
    },
    footL: { 1: [0.07, 0, 0.02, 6] },
    footR: { 1: [-0.065, 0, 0.035, -8] },
    rollL: { 1: 0, 27: 0, 39: 38, 47: 40, 56: 2, 59: 0, 62: 3, 71: 44, 79: 44, 90: 0, LAST: 0 },
    rollR: { 1: 0, 26: 0, 38: 40, 47: 41, 55: 2, 58: 0, 61: 3, 70: 45, 79: 45, 89: 0, LAST: 0 },
    kneeL: { 1: 4 },
    kneeR: { 1: 4 },
    clavR: {
      1: [0, 0],
      22: [0, 0],
      42: [22, 2],
      48: [24, 2],
      58: [12, 2],
      72: [30, 3],
      80: [30, 3],
      94: [4, 0],
      104: [0, 0],
    },
    clavL: { 1: [0, 0], 24: [3, 6], 42: [-2, 4], 58: [4, 6], 72: [-4, 3], 92: [3, 4], 106: [0, 0] },
    armR: {
      1: [4, 9, 0, 22],
      14: [2, 9, 0, 20],
      21: [-4, 16, 0, 112],
      30: [64, 16, 0, 124],
      42: [140, 8, 0, 28],
      48: [140, 8, 0, 28],
      58: [128, 14, 0, 62],
      63: [130, 14, 0, 62],
      72: [160, 6, 0, 14],
      82: [150, 10, 0, 34],
      90: [58, 18, 0, 130],
      99: [2, 16, 0, 96],
      107: [-2, 10, 0, 30],
      116: [4, 9, 0, 18],
      LAST: [5, 9, 0, 21],
    },
    armL: {
      1: [3, 9, 0, 18],
      12: [2, 9, 0, 17],
      21: [-26, 24, 0, 128],
      92: [-30, 24, 0, 138],
      108: [6, 10, 0, 28],
      118: [2, 9, 0, 17],
      LAST: [3, 9, 0, 19],
    },
    wristR: {
      1: [4, 0, 0],
      24: [14, 0, 0],
      34: [-10, 0, 0],
      42: [-4, 0, 0],
      58: [6, 0, 0],
      84: [-8, 0, 0],
      96: [12, 0, 0],
      108: [-4, 0, 0],
      118: [4, 0, 0],
      LAST: [4, 0, 0],
    },
    wristL: {
      1: [4, 0, 0],
      18: [10, 0, 0],
      28: [-20, 0, 0],
      98: [-10, 0, 0],
      110: [10, 0, 0],
      121: [4, 0, 0],
      LAST: [4, 0, 0],
    },
    fingR: { 1: 24, 30: 22, 42: 3, 48: 4, 58: 20, 70: 3, 82: 8, 100: 26, LAST: 24 },
    fingL: { 1: 22, 16: 44, 23: 44, 29: 4, 82: 8, 89: 52, 106: 22, LAST: 22 },
    handR: {
      w: { 1: 0, 60: 0, 71: 1, 78: 1, 88: 0 },
      pole: [-0.8, -0.4, -0.3],
      at: (/** @type {number} */ f) => [grip[0], grip[1], grip[2] - 0.02 * press(f)],
      rot: () => handTurn("R", fingers, [0, -0.6, 0.8]),
    },
    handL: {
      w: { 1: 0, 17: 0, 32: 1, 82: 1, 99: 0 },
      pole: [0.8, -0.6, -0.2],
      at: () => [0.15, 0.91, WALL - 0.03],
      rot: () => handTurn("L", [0.15, 0.8, 0.6], [0, -0.6, 0.8]),
    },
    look: {
      w: { 1: 0.9, 44: 0.9, 59: 0.75, 72: 0.9 },
      at: track({
        1: BELL,
        80: BELL,
        95: [0.1, 0.95, WALL],
        104: [0.1, 0.95, WALL],
        114: [0.32, 1.05, WALL],
      }),
    },
    alive: 1.5,
    opts: { kind: "bezier" },
  });
  for (const t of Object.values(perf))
    if (t && typeof t === "object" && "LAST" in t) {
      t[LAST] = t.LAST;
      delete t.LAST;
    }
  if (bad) {
    // Between the two goes nothing was keyed; nor was the give of the knees at the end.
    for (const k of ["hips", "hipsRot", "spine", "chest", "rollL", "rollR"]) without(perf[k], 54, 64);
    perf.hips[90] = [-0.005, -0.01, 0.045];
    delete perf.hips[94];
    perf.look.w = { 1: 0 };
    const down = track({ 1: 0, 48: 0, 66: 0.07, 88: 0.07 });
    perf.handL.at = (/** @type {number} */ f) => [0.15, 0.91 - down(f), WALL - 0.03];
  }
  toEnd(perf, LAST);
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 1,
    up: "z",
    items: [{ skel: sk, perf, body: true }],
  });
  if (bad) {
    raise(b.doc, ["elin_dde"], "rotation.x", 68, 84, 58);
    leaveOut(b.doc, ["bodiau_chwith"], "rotation");
    pop(b.doc, "cluniau", "translation.z", 113, 0.014);
  }
  b.doc.figures = [figure(sk)];
  b.doc.contacts = [{ node: "llaw_chwith", with: "wall", frames: [33, 81] }];
  b.doc.surfaces = [
    { id: "step", normal: [0, 0, 1], height: 0 },
    { id: "wall", normal: [0, 1, 0], height: -WALL },
  ];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "When she gets to the bell, the right elbow is bent the wrong way.",
    kind: "broken elbow",
    size: "strong",
    nodes: ["elin_dde", "llaw_dde", "braich_dde"],
    frames: [66, 86],
    order: 1,
  },
  {
    what: "She never looks up at what she reaches for; her face stays at the wall before her.",
    kind: "look-misses",
    size: "ordinary",
    nodes: ["pen", "gwddf"],
    frames: [1, 88],
    order: 3,
  },
  {
    what: "The second go comes from nowhere: no sinking, no bend of the knees, she hangs on her toes and is a little higher all at once.",
    kind: "no anticipation",
    size: "strong",
    nodes: ["cluniau", "cefn", "bron"],
    frames: [46, 72],
    order: 2,
  },
  {
    what: "She comes down on her heels and stops there like a peg; the knees do not give.",
    kind: "no give in landing",
    size: "ordinary",
    nodes: ["cluniau"],
    frames: [84, 100],
    order: 4,
  },
  {
    what: "The left toes do not bend when the heel comes up; they go into the step.",
    kind: "toes through floor",
    size: "ordinary",
    nodes: ["bodiau_chwith", "bodiau_pen_chwith", "troed_chwith"],
    frames: [28, 90],
    order: 5,
  },
  {
    what: "The hand on the wall slides down while she leans on it.",
    kind: "hand-slide",
    size: "ordinary",
    nodes: ["llaw_chwith", "bysedd_chwith"],
    frames: [48, 68],
    order: 6,
  },
  {
    what: "The hips jump up for one frame at 113 while she waits.",
    kind: "pop",
    size: "barely",
    nodes: ["cluniau"],
    frames: [112, 114],
    order: 7,
  },
];
