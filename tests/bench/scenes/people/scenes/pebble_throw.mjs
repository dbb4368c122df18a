// @ts-check
import { leap, stopDead } from "../../slips.mjs";
import { track } from "../kit/curve.mjs";
import { versions } from "../kit/declare.mjs";
import { conj, norm, qmul } from "../kit/math.mjs";
import { follow, makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "pebble_throw";
export const about =
  "A girl on the shore winds up, steps forward and throws a pebble far out with her right hand; the arm swings through and she settles on her front foot to watch it.";

const OUT = 50;
const LAST = 104;

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "dziewczyna",
    stature: 1.62,
    spines: 2,
    words: {
      root: "miednica",
      spine: ["kregoslup", "klatka"],
      neck: "szyja",
      head: "glowa",
      end: "czubek",
      clav: "obojczyk",
      up: "ramie",
      fore: "przedramie",
      hand: "dlon",
      fing: "palce",
      thigh: "udo",
      shin: "lydka",
      foot: "stopa",
      toe: "palec",
      tip: "palec_kon",
    },
    side: (w, s) => `${w}${s === "L" ? "Lewe" : "Prawe"}`,
    orders: { root: "yxz", spine: "yxz", leg: "xzy", neck: "yxz" },
  });
  const z = 0.44;
  const perf = /** @type {any} */ ({
    hips: {
      1: [0, -0.014, 0],
      10: [0.012, -0.016, 0],
      20: [-0.03, -0.02, -0.012],
      35: [-0.075, -0.05, -0.075],
      45: { v: [-0.015, -0.095, 0.13], s: [0.005, 0, 0.02] },
      54: { v: [0.03, -0.06, 0.32], s: [0.003, 0.002, 0.012] },
      66: [0.062, -0.085, 0.41],
      82: [0.05, -0.07, 0.385],
      LAST: [0.05, -0.068, 0.385],
    },
    hipsRot: {
      1: [1, 0, 0],
      12: [1, 3, 0],
      33: [-3, -42, 2],
      39: [-3, -44, 2],
      49: [6, 22, 0],
      60: [9, 32, -2],
      80: [5, 24, -1],
      LAST: [5, 23, -1],
    },
    spine: {
      1: [2, 0, 0],
      14: [1, 4, 0],
      35: [-7, -18, 2],
      42: [-8, -20, 2],
      52: [9, 16, -2],
      63: [17, 22, -4],
      84: [6, 10, -1],
      LAST: [6, 9, -1],
    },
    chest: {
      1: [3, 0, 0],
      15: [2, 5, 0],
      36: [-9, -22, 4],
      44: [-12, -26, 4],
      54: [12, 22, -6],
      65: [22, 28, -8],
      86: [6, 8, -2],
      LAST: [7, 7, -2],
    },
    neck: {
      1: [-1, 0, 0],
      14: [-2, 4, 0],
      34: [2, 30, 0],
      40: [3, 32, 0],
      55: [-10, -18, 2],
      66: [-16, -24, 3],
      86: [-8, -14, 1],
      LAST: [-8, -13, 1],
    },
    head: {
      1: [-2, 0, 0],
      10: [8, -14, 0],
      17: [2, -6, 0],
      33: [-2, 46, -2],
      39: [2, 48, -2],
      55: [-9, -28, 4],
      66: [-16, -38, 5],
      86: [-12, -20, 2],
      LAST: [-14, -18, 2],
    },
    footL: {
      1: [0.1, 0, 0.02, 8],
      31: { v: [0.1, 0, 0.02, 8], s: [0, 0, 0, 0] },
      39: { v: [0.09, 0.1, 0.24, 6], s: [0, 0, 0.042, 0] },
      46: { v: [0.085, 0, z, 4], in: [0, -0.012, 0.006, 0], out: [0, 0, 0, 0] },
      LAST: [0.085, 0, z, 4],
    },
    rollL: { 1: 0, 28: 0, 31: 16, 35: 24, 42: -4, 46: -12, 50: 0, LAST: 0 },
    footR: { 1: [-0.1, 0, -0.02, -22], LAST: [-0.1, 0, -0.02, -22] },
    rollR: { 1: 0, 42: 0, 48: 20, 58: 40, 70: 46, 84: 42, LAST: 42 },
    kneeL: { 1: 6 },
    kneeR: { 1: 8, 40: 10, 56: -8, LAST: -8 },
    clavR: {
      1: [0, 0],
      12: [0, 0],
      37: [3, -14],
      46: [6, -16],
      54: [8, 12],
      66: [-4, 14],
      84: [0, 2],
      LAST: [0, 2],
    },
    clavL: { 1: [0, 0], 34: [5, 8], 52: [0, -6], 70: [0, 0], LAST: [0, 0] },
    armR: {
      1: [22, 12, -6, 70],
      10: [28, 10, -14, 84],
      18: [20, 16, -8, 60],
      27: [-28, 34, 0, 46],
      38: [-52, 70, 0, 78],
      44: [-42, 82, 0, 104],
      48: [12, 92, 0, 98],
      51: [84, 66, -6, 26],
      58: [62, 14, -28, 18],
      67: [44, 4, -26, 58],
      77: [16, 9, -10, 38],
      90: [5, 8, -4, 20],
      LAST: [5, 8, -4, 19],
    },
    wristR: {
      1: [6, 0, 0],
      12: [10, 0, 0],
      28: [-6, 0, 0],
      42: [-28, 0, 0],
      48: [-42, 0, 0],
      54: [34, 0, 0],
      61: [40, 0, 0],
      74: [8, 0, 0],
      92: [4, 0, 0],
      LAST: [4, 0, 0],
    },
    fingR: { 1: 62, 47: 62, 54: 10, 64: 12, 84: 24, LAST: 24 },
    armL: {
      1: [4, 9, 0, 16],
      10: [4, 9, 0, 18],
      24: [30, 24, 0, 30],
      38: [58, 26, 0, 24],
      45: [50, 30, 0, 30],
      54: [4, 26, 0, 66],
      64: [-24, 26, 0, 58],
      82: [-6, 14, 0, 26],
      LAST: [-2, 12, 0, 22],
    },
    wristL: {
      1: [4, 0, 0],
      18: [-8, 0, 0],
      34: [10, 0, 0],
      50: [14, 0, 0],
      60: [-8, 0, 0],
      74: [12, 0, 0],
      90: [4, 0, 0],
      LAST: [4, 0, 0],
    },
    fingL: { 1: 22, 36: 8, 54: 34, 80: 22 },
    leans: (f) => f > 36 && f < 70,
    opts: { kind: "cubic" },
  });
  for (const t of Object.values(perf))
    if (t && typeof t === "object" && "LAST" in t) {
      t[LAST] = t.LAST;
      delete t.LAST;
    }
  if (bad) {
    // The free arm was given a swing of its own, on the frames of the throw.
    for (const f of [45, 54, 64, 82]) delete perf.armL[f];
    Object.assign(perf.armL, {
      44: [40, 30, 0, 20],
      49: [120, 62, 0, 8],
      54: [160, 40, 0, 6],
      62: [40, 70, 0, 14],
      72: [-20, 36, 0, 20],
    });
    // The front foot has a second key a few frames after it lands.
    perf.footL[46] = { v: [0.085, 0, z - 0.045, 4], in: [0, -0.012, 0.006, 0], out: [0, 0, 0.006, 0] };
    perf.footL[56] = [0.085, 0, z, 4];
    // The wind-up of the arm creeps, leaps and creeps on.
    const arm = track(perf.armR);
    const when = leap(18, 38, 27, 0.45);
    perf.armR = (/** @type {number} */ f) => arm(f > 18 && f < 38 ? when(f) : f);
    // Hips and back turn after the arm has thrown.
    for (const [k, from, to, by] of [
      ["hipsRot", 36, 82, 9],
      ["spine", 36, 82, 6],
      ["chest", 40, 82, 4],
    ])
      perf[k] = Object.fromEntries(
        Object.entries(perf[k]).map(([f, v]) => [
          Number(f) > Number(from) && Number(f) < Number(to) ? Number(f) + Number(by) : f,
          v,
        ]),
      );
  }
  const free = (/** @type {number} */ f, /** @type {any} */ env) => {
    const [a, b] = [OUT - 1, OUT].map((t) => env.palm("dziewczyna", "R", t));
    const t = f - OUT;
    const [vx, vy, vz] = [0.05, 0.13, 0.36];
    // It spins on as the hand turned it.
    const d = qmul(b.q, conj(a.q));
    const half = Math.acos(Math.min(1, d[3])) * t;
    const axis = norm([d[0], d[1], d[2]]);
    const q = qmul([...axis.map((v) => v * Math.sin(half)), Math.cos(half)], b.q);
    return { p: [b.p[0] + vx * t, b.p[1] + vy * t - (4.905 * t * t) / 576, b.p[2] + vz * t], q };
  };
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.01,
    up: "z",
    items: [
      { skel: sk, perf },
      {
        id: "kamyk",
        must: [OUT],
        pose: follow([{ fig: "dziewczyna", s: "R", from: 1, to: OUT }], free),
        shapes: [{ kind: "sphere", radius: 0.025 }],
      },
    ],
  });
  if (bad) {
    stopDead(b.doc, ["ramiePrawe", "przedramiePrawe", "dlonPrawe"], "rotation", 54, 57, 88);
  }
  // It falls into the water behind the picture.
  b.doc.nodes.find((n) => n.id === "kamyk").visible = [[1, 76]];
  b.doc.props = [{ node: "kamyk", mass: 0.08, heldBy: [{ node: "dlonPrawe", frames: [1, OUT] }] }];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "While she throws, the other arm goes through a circle that is larger than the throw; one does not know where to look.",
    kind: "two moves compete",
    size: "strong",
    nodes: ["ramieLewe", "przedramieLewe", "dlonLewe"],
    frames: [38, 72],
    order: 1,
  },
  {
    what: "The throw comes out of the arm alone: the hips only turn when the pebble has left.",
    kind: "chain in wrong order",
    size: "ordinary",
    nodes: ["miednica", "kregoslup", "klatka"],
    frames: [40, 66],
    order: 2,
  },
  {
    what: "No follow-through: the throwing arm stops dead after the release and the wrist with it.",
    kind: "hard-stop",
    size: "strong",
    nodes: ["ramiePrawe", "przedramiePrawe", "dlonPrawe"],
    frames: [54, 70],
    order: 3,
  },
  {
    what: "The arm jumps in the wind-up: it creeps, leaps over nearly half of the way between 26 and 27, and creeps on.",
    kind: "spacing jumps",
    size: "ordinary",
    nodes: ["ramiePrawe", "przedramiePrawe", "dlonPrawe"],
    frames: [24, 30],
    order: 4,
  },
  {
    what: "The front foot slides on a little under her after it has landed.",
    kind: "foot-slide",
    size: "barely",
    nodes: ["stopaLewe", "palecLewe"],
    frames: [46, 57],
    order: 5,
  },
];
