// @ts-check

import { versions } from "../../people/kit/declare.mjs";
import { about as turnBy } from "../../people/kit/math.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { pop } from "../../slips.mjs";
import { names, slide, toEnd, without } from "../kit-A/write.mjs";

export const name = "goal_kick";
export const about =
  "A footballer takes two steps up to a ball that lies still, plants the left foot beside it and kicks it away with the right; the leg swings on, comes down in front, and she watches the ball go.";

const LAST = 100;
const HIT = 40;

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "mchezaji",
    stature: 1.72,
    spines: 2,
    words: names(
      "nyonga kiuno/kifua shingo kichwa utosi bega mkono kigasha kiganja vidole paja muundi mguu kidole ncha",
    ),
    side: (w, s) => `${w}_${s === "L" ? "kushoto" : "kulia"}`,
    orders: { root: "yxz", spine: "yxz", leg: "xyz", arm: "yxz", neck: "yxz" },
  });
  const perf = /** @type {any} */ ({
    hips: {
      1: [0.01, -0.016, -1.6],
      7: [0.03, -0.03, -1.625],
      12: { v: [0.045, -0.04, -1.59], s: [0, 0, 0.022] },
      19: { v: [0.0, -0.055, -1.33], s: [-0.006, 0, 0.05] },
      22: { v: [-0.02, -0.06, -1.16], s: [-0.004, 0.001, 0.06] },
      28: { v: [-0.03, -0.035, -0.8], s: [0.003, 0.002, 0.062] },
      33: { v: [0.0, -0.08, -0.48], s: [0.01, -0.006, 0.062] },
      40: { v: [0.085, -0.055, -0.1], s: [0.006, 0.004, 0.04] },
      46: { v: [0.105, -0.035, 0.06], s: [0, 0.001, 0.017] },
      56: { v: [0.09, -0.075, 0.165], s: [-0.004, -0.003, 0.012] },
      63: [0.035, -0.085, 0.235],
      76: [0.04, -0.07, 0.215],
      [LAST]: [0.042, -0.072, 0.212],
    },
    hipsRot: {
      1: [2, -4, 0],
      8: [0, -8, 1],
      14: [6, -2, 1],
      22: [6, 8, -1],
      30: [3, -10, 1],
      36: [-6, -26, 6],
      41: [-5, 6, 7],
      47: [-9, 30, 6],
      58: [6, 22, 1],
      66: [5, 14, 0],
      80: [3, 10, 0],
      [LAST]: [3, 10, 0],
    },
    spine: {
      1: [2, 0, 0],
      15: [4, 2, 0],
      23: [3, -8, 0],
      31: [-2, 6, 0],
      37: [-6, 14, -4],
      43: [8, -4, -5],
      49: [10, -14, -4],
      60: [4, -10, 0],
      69: [5, -6, 0],
      82: [2, -4, 0],
      [LAST]: [2, -4, 0],
    },
    chest: {
      1: [3, 1, 0],
      16: [5, 3, 0],
      24: [3, -10, 0],
      32: [-3, 9, 0],
      38: [-9, 20, -5],
      45: [12, -10, -6],
      51: [13, -18, -5],
      62: [4, -12, 0],
      71: [6, -6, 0],
      85: [2, -5, 0],
      [LAST]: [2, -4, 0],
    },
    neck: {
      1: [6, 0, 0],
      24: [8, 2, 0],
      38: [14, 2, 0],
      46: [6, -2, 0],
      56: [-8, -4, 0],
      70: [-10, -2, 0],
      84: [-6, -1, 0],
    },
    head: {
      1: [12, 2, 0],
      22: [14, 2, 0],
      38: [20, 4, -2],
      45: [14, -2, -2],
      55: [-6, -4, 0],
      68: [-12, -2, 2],
      84: [-8, -2, 2],
      [LAST]: [-9, -1, 2],
    },
    footL: {
      1: [0.09, 0, -1.6, 10],
      22: { v: [0.09, 0, -1.6, 10], s: [0, 0, 0, 0] },
      26: { v: [0.1, 0.085, -1.29, 8], s: [0.008, 0.01, 0.165, -0.5] },
      29: { v: [0.13, 0.1, -0.78, 6], s: [0.012, -0.008, 0.165, -0.5] },
      34: { v: [0.17, 0, -0.06, 4], in: [0, -0.012, 0.03, 0], out: [0, 0, 0, 0] },
      [LAST]: [0.17, 0, -0.06, 4],
    },
    rollL: {
      1: 0,
      12: 0,
      17: 20,
      22: 46,
      24: 50,
      29: 16,
      32: -8,
      34: -10,
      38: 0,
      54: 0,
      63: 22,
      76: 16,
      [LAST]: 16,
    },
    footR: {
      1: [-0.1, 0, -1.66, -10],
      13: { v: [-0.1, 0, -1.66, -10], s: [0, 0, 0, 0] },
      18: { v: [-0.1, 0.07, -1.3, -6], s: [0, 0, 0.1, 0.6] },
      22: { v: [-0.1, 0, -1.0, -4], in: [0, -0.012, 0.05, 0], out: [0, 0, 0, 0] },
      32: { v: [-0.1, 0, -1.0, -4], s: [0, 0, 0, 0] },
      34: { v: [-0.105, 0.1, -0.965, -8], s: [-0.003, 0.065, 0.04, -1] },
      37: { v: [-0.125, 0.26, -0.63, -12], s: [0, -0.03, 0.17, -1] },
      [HIT]: { v: [-0.055, 0.025, 0.03, -14], s: [0.02, 0.0, 0.26, 1] },
      43: { v: [0.015, 0.24, 0.6, -6], s: [0.014, 0.12, 0.1, 1] },
      48: { v: [0.05, 0.54, 0.8, 0], s: [0, 0.005, 0.0, 0] },
      56: { v: [-0.06, 0.14, 0.58, -4], s: [-0.012, -0.05, -0.01, 0] },
      61: { v: [-0.1, 0, 0.46, -8], in: [0, -0.014, 0, 0], out: [0, 0, 0, 0] },
      [LAST]: [-0.1, 0, 0.46, -8],
    },
    rollR: {
      1: 0,
      8: 0,
      12: 30,
      14: 40,
      18: 14,
      21: -8,
      22: -8,
      25: 0,
      27: 1,
      29: 14,
      32: 46,
      34: 66,
      37: 84,
      [HIT]: 38,
      43: 30,
      48: 22,
      56: -2,
      61: -9,
      65: 0,
      [LAST]: 0,
    },
    kneeL: { 1: 6 },
    kneeR: { 1: 6 },
    clavL: { 1: [0, 0], 24: [0, 4], 37: [6, -14], 47: [2, 10], 62: [0, 0] },
    clavR: { 1: [0, 0], 24: [0, -4], 37: [0, 6], 48: [2, -10], 64: [0, 0] },
    armL: {
      1: [2, 10, 0, 22],
      13: [-12, 14, 0, 30],
      22: [22, 20, 0, 44],
      30: [10, 52, 0, 28],
      37: [-34, 74, 0, 24],
      41: [6, 62, 0, 28],
      48: [56, 18, -24, 46],
      60: [30, 26, 0, 40],
      74: [4, 14, 0, 24],
      88: [3, 11, 0, 20],
    },
    armR: {
      1: [4, 10, 0, 26],
      12: [20, 12, 0, 46],
      23: [-28, 18, 0, 36],
      36: [40, 26, -8, 54],
      42: [8, 36, 0, 40],
      49: [-38, 46, 0, 30],
      63: [-6, 26, 0, 42],
      77: [4, 12, 0, 22],
      91: [4, 10, 0, 24],
    },
    wristL: {
      1: [4, 0, 0],
      24: [-10, 0, 0],
      39: [-22, 0, 0],
      45: [6, 0, 0],
      52: [16, 0, 0],
      66: [-8, 0, 0],
      80: [4, 0, 0],
    },
    wristR: {
      1: [4, 0, 0],
      15: [8, 0, 0],
      26: [12, 0, 0],
      39: [-10, 0, 0],
      52: [14, 0, 0],
      68: [-8, 0, 0],
      82: [4, 0, 0],
    },
    fingL: { 1: 24, 36: 8, 50: 30, 70: 24 },
    fingR: { 1: 26, 36: 34, 50: 12, 70: 26 },
    leans: (/** @type {number} */ f) => f > 5 && f < 66,
    alive: 1,
    opts: { kind: "bezier" },
  });
  if (bad) {
    // The leg was left where it is three frames after the hit.
    perf.footR[43] = { v: [0.015, 0.24, 0.6, -6], in: [0.014, 0.12, 0.1, 1], out: [0, 0, 0, 0] };
    without(perf.footR, 44, 55);
    perf.footR[56] = [0.013, 0.23, 0.6, -6];
    without(perf.rollR, 44, 55);
    perf.rollR[56] = 28;
    perf.hipsRot = slide(perf.hipsRot, 35, 60, 7);
    delete perf.hipsRot[66];
    for (const k of ["armL", "wristL", "clavL"]) without(perf[k], 20, 70);
    perf.footL[37] = { v: [0.17, 0, -0.06, 4], s: [0, 0, 0, 0] };
    perf.footL[52] = { v: [0.175, 0, 0.005, 7], s: [0, 0, 0, 0] };
    perf.footL[LAST] = [0.175, 0, 0.005, 7];
  }
  toEnd(perf, LAST);
  // It flies, comes down, leaps twice more, each time lower, and rolls out. Ways are metres a frame.
  const hops = [
    [19, 0.37],
    [11, 0.31],
    [6, 0.27],
  ];
  const ball = (/** @type {number} */ f) => {
    let t = Math.max(0, f - (bad ? HIT - 3 : HIT));
    const q = turnBy(0, -14 * t);
    if (bad) return { p: [-0.04 + 0.02 * t, 0.11 + 0.16 * t, 0.27 + 0.37 * t], q };
    const x = -0.04 + 0.02 * t;
    let z = 0.27;
    for (const [n, v] of hops) {
      if (t <= n) return { p: [x, 0.11 + (4.905 / 576) * t * (n - t), z + v * t], q };
      z += n * v;
      t -= n;
    }
    return { p: [x, 0.11, z + 0.25 * t - 0.002 * t * t], q };
  };
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.001,
    items: [
      { skel: sk, perf },
      {
        id: "mpira",
        pose: ball,
        must: bad ? [HIT - 3] : [HIT, HIT + 19, HIT + 30, HIT + 36],
        tol: 0.0008,
        shapes: [{ kind: "sphere", radius: 0.11 }],
        quat: true,
      },
    ],
  });
  if (bad) pop(b.doc, "muundi_kushoto", "rotation.x", 82, 8);
  // Where it first comes down it is out of the picture.
  b.doc.nodes.find((/** @type {any} */ n) => n.id === "mpira").visible = [[1, 58]];
  b.doc.surfaces = [{ id: "pitch", normal: [0, 1, 0], height: 0 }];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The ball is off three frames before the foot gets to it.",
    kind: "moves before it is hit",
    size: "strong",
    nodes: ["mpira", "mguu_kulia"],
    frames: [36, 41],
    order: 1,
  },
  {
    what: "No follow-through: the kicking leg stops in the air just behind the hit and waits there.",
    kind: "hard-stop",
    size: "strong",
    nodes: ["paja_kulia", "muundi_kulia", "mguu_kulia"],
    frames: [42, 58],
    order: 2,
  },
  {
    what: "The foot that she stands on slides ahead while she kicks over it.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["mguu_kushoto", "kidole_kushoto"],
    frames: [37, 52],
    order: 3,
  },
  {
    what: "The hips only turn when the ball has gone; the kick comes out of the knee.",
    kind: "chain in wrong order",
    size: "ordinary",
    nodes: ["nyonga", "kiuno", "kifua"],
    frames: [34, 66],
    order: 5,
  },
  {
    what: "The ball climbs in a straight line, as if nothing drew it down.",
    kind: "no gravity",
    size: "ordinary",
    nodes: ["mpira"],
    frames: [37, 58],
    order: 4,
  },
  {
    what: "The left arm hangs through the kick, where it ought to go out and across against the leg.",
    kind: "arm forgotten",
    size: "ordinary",
    nodes: ["mkono_kushoto", "kigasha_kushoto", "kiganja_kushoto"],
    frames: [24, 62],
    order: 6,
  },
  {
    what: "The left knee gives a tick at 82.",
    kind: "pop",
    size: "barely",
    nodes: ["muundi_kushoto", "mguu_kushoto"],
    frames: [81, 83],
    order: 7,
  },
];
