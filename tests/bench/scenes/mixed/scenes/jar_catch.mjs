// @ts-check

import { change, without, wordsOf } from "../../mixed/kit/help.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { add, ONE, slerp } from "../../people/kit/math.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot, track } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";

export const name = "jar_catch";
export const about =
  "A cook on tiptoe gropes along a shelf and draws a jar over its edge; she catches it with both hands, goes down with it, and breathes out.";

const LAST = 124;
const OFF = 44;
const CATCH = 52;
const SHELF = 1.6;
const R = 0.065;
const clamp = (/** @type {number} */ u) => Math.min(1, Math.max(0, u));
const soft = (/** @type {number} */ f, /** @type {number} */ a, /** @type {number} */ b) => {
  const u = clamp((f - a) / (b - a));
  return u * u * (3 - 2 * u);
};

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "kokk",
    stature: 1.66,
    spines: 2,
    words: wordsOf(
      "vaagen rygg/bryst nakke hode isse krage overarm underarm haand fingre laar legg fot taa taaspiss",
    ),
    side: (w, s) => `${w}.${s === "L" ? "v" : "h"}`,
    orders: { root: "yxz", spine: "yxz", neck: "yxz", arm: "yzx" },
    armRest: 30,
  });
  const drop = 9.81 * 0.5 * ((CATCH - OFF) / 24) ** 2;
  const y0 = SHELF + R;
  const yc = y0 - drop;
  const v = (9.81 * (CATCH - OFF)) / 24 / 24;
  const zOff = 0.37;
  const vz = 0.006;
  const zc = zOff - vz * (CATCH - OFF);
  // Drawn along with the hand, then free, then with both hands.
  const along = track({ 1: 0.46, 37: { v: 0.46, s: 0 }, [OFF]: { v: zOff, s: -0.014 } });
  const early = track({ 1: 0.46, 24: { v: 0.46, s: 0 }, 36: 0.385, [OFF]: { v: zOff, s: -0.008 } });
  const held = track({
    [CATCH]: { v: [-0.02, yc, zc], s: [0, -v, -vz] },
    57: [-0.02, yc - 0.27, zc - 0.02],
    72: [-0.01, 0.96, 0.25],
    77: [-0.01, 0.985, 0.245],
    84: [-0.01, 0.97, 0.25],
    104: [-0.008, 0.95, 0.25],
    [LAST]: [-0.008, 0.948, 0.25],
  });
  const hard = track({
    [CATCH]: { v: [-0.02, yc, zc], s: [0, 0, 0] },
    62: { v: [-0.02, yc, zc], s: [0, 0, 0] },
    77: [-0.01, 0.985, 0.245],
    104: [-0.008, 0.95, 0.25],
    [LAST]: [-0.008, 0.948, 0.25],
  });
  const inHands = bad ? hard : held;
  const jar = (/** @type {number} */ f) => {
    if (f <= OFF) return [-0.02, y0, (bad ? early : along)(f)];
    const t = f - OFF;
    if (f < CATCH) return [-0.02, y0 - (4.905 * t * t) / 576, zOff - vz * t];
    return inHands(f);
  };
  const shelfR = track({
    1: [-0.3, 0.8, 0.12],
    9: [-0.3, 1.2, 0.34],
    17: [-0.2, 1.7, 0.44],
    21: [-0.2, 1.665, 0.5],
    25: [-0.15, 1.68, 0.52],
    29: [-0.17, 1.665, 0.51],
    33: [-0.11, 1.68, 0.5],
    37: { v: [-0.108, 1.672, 0.48], s: [0, 0, -0.004] },
    [OFF]: { v: [-0.108, 1.672, 0.39], s: [0, -0.02, -0.014] },
    48: { v: [-0.11, 1.38, 0.36], s: [-0.006, -0.1, -0.012] },
    [CATCH]: { v: add(jar(CATCH), [-0.075, -0.025, 0]), in: [0, -0.055, -0.006], out: [0, 0, 0] },
  });
  const palmR = (/** @type {number} */ f) => (f < CATCH ? shelfR(f) : add(jar(f), [-0.075, -0.025, 0]));
  const upL = track({
    44: [0.2, 0.78, 0.14],
    49: { v: [0.1, yc + 0.05, 0.3], s: [-0.004, 0, 0.004] },
    [CATCH]: { v: add(jar(CATCH), [0.075, -0.035, 0]), in: [0, -0.05, -0.003], out: [0, 0, 0] },
  });
  const lateL = track({
    50: [0.3, 0.8, 0.1],
    55: [0.2, 0.94, 0.2],
    60: add(jar(60), [0.075, -0.035, 0]),
  });
  const palmL = (/** @type {number} */ f) => {
    if (bad) return f < 60 ? lateL(f) : add(jar(f), [0.075, -0.035, 0]);
    return f < CATCH ? upL(f) : add(jar(f), [0.075, -0.035, 0]);
  };
  const shelfTurn = handTurn("R", [0.3, 0.15, 1], [0.6, -0.8, 0]);
  const cupR = handTurn("R", [0.35, -0.2, 1], [0.85, 0.5, -0.1]);
  const cupL = handTurn("L", [-0.35, -0.2, 1], [-0.85, 0.5, -0.1]);
  const shelfPoint = [-0.02, 1.68, 0.6];
  const perf = /** @type {any} */ ({
    hips: {
      1: [0.004, -0.016, 0],
      8: [0.0, -0.026, 0.004],
      18: [-0.012, 0.014, 0.05],
      26: [-0.02, 0.018, 0.066],
      37: [-0.018, 0.02, 0.075],
      44: [-0.008, -0.024, 0.025],
      50: { v: [0, -0.085, -0.03], s: [0, -0.014, -0.006] },
      57: [0, -0.165, -0.06],
      65: [0, -0.1, -0.035],
      76: [0.0, -0.012, 0.002],
      88: [0.01, -0.022, -0.006],
      104: [0.022, -0.03, -0.006],
      [LAST]: [0.024, -0.03, -0.006],
    },
    hipsRot: {
      1: [1, 0, 0],
      18: [2, 2, -2],
      38: [3, 2, -2],
      50: [3, 0, 0],
      58: [11, 0, 0],
      76: [0, 0, 0],
      90: [1, 0, 0],
      106: [1, 2, 1.5],
      [LAST]: [1, 2, 1.5],
    },
    spine: {
      1: [2, 0, 0],
      18: [-1, 3, 3],
      38: [0, 3, 3],
      51: [2, 0, 0],
      59: [9, 0, 0],
      78: [-3, 0, 0],
      92: [3, 0, 0],
      108: [4, 1, -1],
      [LAST]: [4, 1, -1],
    },
    chest: {
      1: [3, 0, 0],
      19: [-2, 8, 4],
      39: [0, 5, 4],
      52: [2, 0, 0],
      59: [11, 0, 0],
      80: [-5, 0, 0],
      94: [5, 0, 0],
      110: [6, 2, -2],
      [LAST]: [6, 2, -2],
    },
    neck: {
      1: [0, 0, 0],
      12: [-6, 0, 0],
      20: [-8, 0, 0],
      46: [0, 0, 0],
      60: [6, 0, 0],
      82: [-4, 0, 0],
      90: [-10, 0, 0],
      104: [6, 2, 0],
      [LAST]: [6, 3, 0],
    },
    head: {
      1: [0, 0, 0],
      12: [-10, 0, 0],
      20: [-14, -2, 0],
      46: [0, 0, 0],
      60: [8, 0, 0],
      80: [2, 0, 0],
      91: [-16, 0, 2],
      106: [10, 4, 3],
      [LAST]: [11, 5, 3],
    },
    footL: { 1: [0.095, 0, 0.015, 9] },
    footR: { 1: [-0.095, 0, -0.005, -9] },
    rollL: { 1: 0, 9: 0, 18: 19, 26: 21, 38: 21, 46: 0, 54: 0, [LAST]: 0 },
    rollR: { 1: 0, 9: 0, 18: 18, 27: 20, 38: 20, 46: 0, 54: 0, [LAST]: 0 },
    kneeL: { 1: 9 },
    kneeR: { 1: 9 },
    clavR: {
      1: [0, 0],
      9: [0, 0],
      19: [20, 4],
      40: [20, 4],
      52: [0, 6],
      62: [-2, 6],
      78: [7, 4],
      92: [-2, 3],
      [LAST]: [-3, 3],
    },
    clavL: { 1: [0, 0], 44: [-3, 0], 54: [0, 6], 62: [-2, 6], 78: [7, 4], 93: [-2, 3], [LAST]: [-3, 3] },
    armR: { 1: [6, 9, 0, 20] },
    armL: {
      1: [4, 9, 0, 18],
      20: [2, 14, 0, 24],
      38: [2, 16, 0, 26],
      46: [6, 14, 0, 34],
      54: [6, 14, 0, 34],
    },
    fingR: { 1: 22, 16: 8, 22: 16, 30: 8, 37: 34, 45: 20, 52: 10, 55: 38, [LAST]: 38 },
    fingL: { 1: 22, 40: 24, 49: 6, 55: 40, [LAST]: 40 },
    handR: {
      w: { 1: 0, 3: 0, 17: 1, [LAST]: 1 },
      at: palmR,
      rot: (/** @type {number} */ f) => slerp(shelfTurn, cupR, soft(f, 43, 53)),
      pole: [-0.75, -0.55, -0.3],
    },
    handL: {
      w: bad ? { 1: 0, 46: 0, 57: 1, [LAST]: 1 } : { 1: 0, 42: 0, 51: 1, [LAST]: 1 },
      at: palmL,
      rot: () => cupL,
      pole: [0.75, -0.55, -0.3],
    },
    look: {
      w: { 1: 0, 4: 0, 14: 1, 80: 1, 88: 0, [LAST]: 0 },
      at: (/** @type {number} */ f) => {
        const u = soft(f, 42, 49);
        return jar(f).map((x, i) => x * u + shelfPoint[i] * (1 - u));
      },
    },
    opts: { kind: "bezier" },
  });
  if (bad) {
    // She was never brought down with it.
    without(perf.hips, 50, 66);
    without(perf.hipsRot, 50, 58);
    without(perf.spine, 51, 59);
    without(perf.chest, 52, 60);
    change(perf, { hips: { 52: [0, -0.018, -0.006] }, hipsRot: { 52: [2, 0, 0] } });
  }
  const slip = (/** @type {number} */ f) => (bad ? 0.02 * soft(f, 84, 112) : 0);
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.01,
    items: [
      { skel: sk, perf, body: true },
      { id: "hylle", still: [0, SHELF - 0.02, 0.62], shapes: [{ kind: "box", size: [1.6, 0.04, 0.34] }] },
      {
        id: "krukke",
        must: [OFF, CATCH],
        tol: 0.0008,
        pose: (/** @type {number} */ f) => ({ p: add(jar(f), [0, -slip(f), 0]), q: ONE }),
        shapes: [{ kind: "sphere", radius: R }],
      },
    ],
    cameras: [{ id: "kamera", eye: [3.1, 1.2, 2.6], at: bad ? [0, 0.56, 0.2] : [0, 1.0, 0.2], fov: 30 }],
  });
  b.doc.props = [
    {
      node: "krukke",
      mass: 0.9,
      heldBy: ["haand.v", "haand.h"].map((node) => ({ node, frames: [CATCH + 1, LAST] })),
    },
  ];
  return full(b, { props: b.doc.props });
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The jar comes down from the shelf and stops dead in her hands; neither hands nor knees go with it, it weighs nothing.",
    kind: "no-give",
    size: "strong",
    nodes: ["krukke", "vaagen", "haand.h", "haand.v", "bryst"],
    frames: [53, 66],
    order: 1,
  },
  {
    what: "Nobody pushes the jar: it goes to the edge a dozen frames before the hand gets to it.",
    kind: "moves-by-itself",
    size: "ordinary",
    nodes: ["krukke"],
    frames: [24, 42],
    order: 2,
  },
  {
    what: "The left hand comes eight frames after the jar has been caught.",
    kind: "hand comes late",
    size: "ordinary",
    nodes: ["haand.v", "underarm.v", "overarm.v"],
    frames: [50, 62],
    order: 3,
  },
  {
    what: "While she gropes on the shelf, the upper edge of the picture cuts off her hand, and with it what the shot is about.",
    kind: "cut by frame edge",
    size: "ordinary",
    nodes: ["haand.h", "fingre.h"],
    frames: [15, 46],
    order: 4,
  },
  {
    what: "As she breathes out, the jar sinks two centimetres through both hands.",
    kind: "grip-slip",
    size: "barely",
    nodes: ["krukke", "haand.h", "haand.v"],
    frames: [84, 124],
    order: 5,
  },
];
