// @ts-check
import { full, versions } from "../kit/declare.mjs";
import { copyTurns } from "../kit/flaws.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "wall_jump";
export const about =
  "A boy stands on a low wall, crouches, swings his arms and jumps down in front of it. He lands on the balls of his feet, gives in his knees, and stands up with a little stagger of the arms.";
export const centre = [0, 0.7, 0.5];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "pojke",
    stature: 1.34,
    spines: 2,
    words: {
      root: "hofter",
      spine: ["rygg", "brost"],
      neck: "hals",
      head: "huvud",
      end: "huvud_topp",
      clav: "nyckelben",
      up: "overarm",
      fore: "underarm",
      hand: "hand",
      fing: "fingrar",
      thigh: "lar",
      shin: "smalben",
      foot: "fot",
      toe: "tar",
      tip: "tar_topp",
    },
    side: (w, s) => `${w}.${s === "L" ? "v" : "h"}`,
    orders: { root: "yxz" },
    build: { head: 0.15, thigh: 0.23, shin: 0.232 },
  });
  const top = 0.45;
  const crouch = bad ? 0.0 : -0.15;
  const perf = /** @type {any} */ ({
    hips: {
      1: [0.005, top - 0.012, 0.01],
      12: [0.003, top - 0.016, 0.012],
      23: [0, top + crouch, bad ? 0.012 : -0.015],
      25: { v: [0, top + crouch + 0.004, bad ? 0.015 : -0.012], s: [0, 0.006, 0.004] },
      30: { v: [0, top - 0.012, 0.11], s: [0, 0.05, 0.066] },
      42: { v: [0, bad ? -0.045 : -0.15, 0.94], s: [0, bad ? -0.12 : -0.095, 0.045] },
      ...(bad
        ? { 44: [0, -0.085, 0.98], 60: [0, -0.05, 1.0], 72: [0.004, -0.014, 1.03] }
        : {
            49: [0, -0.36, 1.0],
            52: [0, -0.35, 1.005],
            66: [0.004, -0.02, 1.035],
            74: [0.008, -0.014, 1.03],
          }),
      96: [0.004, -0.015, 1.032],
    },
    hipsRot: {
      1: [0, 0, 0],
      24: bad ? [4, 0, 0] : [26, 0, 0],
      31: [-4, 3, 0],
      37: [8, 2, 0],
      43: [12, 0, 0],
      49: bad ? [12, 0, 0] : [30, 0, 0],
      66: [0, 0, 0],
      96: [0, 2, 0],
    },
    spine: {
      1: [2, 0, 0],
      24: bad ? [6, 0, 0] : [18, 0, 0],
      32: [-8, 0, 0],
      38: [8, 2, 0],
      44: [10, 0, 0],
      51: bad ? [11, 0, 0] : [22, 0, 0],
      69: [-2, 0, 0],
      96: [1, 0, 0],
    },
    chest: {
      1: [2, 0, 0],
      25: bad ? [6, 0, 0] : [16, 0, 0],
      33: [-10, 3, 0],
      40: [10, 3, 0],
      46: [12, 0, 0],
      53: bad ? [12, 0, 0] : [20, -3, 0],
      72: [-4, 2, 0],
      96: [1, 0, 0],
    },
    neck: {
      1: [0, 0, 0],
      24: [-8, 0, 0],
      34: [4, 0, 0],
      44: [6, 0, 0],
      53: [-10, 0, 0],
      72: [0, 0, 0],
      96: [0, 0, 0],
    },
    head: {
      1: [8, 0, 0],
      14: [14, 0, 0],
      25: [-14, 0, 0],
      35: [14, 0, 0],
      45: [10, 0, 0],
      54: [-16, 0, 0],
      74: [-2, 6, 2],
      96: [0, 8, 2],
    },
    clavL: { 1: [0, 0], 24: [0, -6], 32: [10, 6], 44: [8, 0], 56: [0, 0] },
    clavR: { 1: [0, 0], 25: [0, -5], 32: [9, 7], 45: [9, 0], 57: [0, 0] },
    armL: {
      1: [3, 8, 0, 16],
      10: [10, 9, 0, 22],
      22: [-38, 16, 0, 20],
      32: [74, 20, 0, 26],
      38: [56, 40, 0, 34],
      44: [44, 42, 0, 30],
      51: [26, 22, 0, 40],
      62: [-10, 26, 0, 22],
      76: [6, 10, 0, 18],
      96: [4, 9, 0, 17],
    },
    armR: {
      1: [5, 7, 0, 13],
      11: [8, 9, 0, 20],
      23: [-33, 20, 0, 26],
      33: [64, 26, 0, 34],
      39: [46, 46, 0, 28],
      45: [36, 50, 0, 36],
      52: [34, 18, 0, 34],
      64: [-4, 32, 0, 28],
      79: [4, 9, 0, 15],
      96: [3, 8, 0, 14],
    },
    wristL: {
      1: [4, 0, 0],
      20: [-10, 0, 0],
      27: [14, 0, 0],
      34: [-20, 0, 0],
      42: [-8, 8, 0],
      49: [16, 0, 0],
      66: [-8, 0, 0],
      82: [4, 0, 0],
    },
    wristR: {
      1: [4, 0, 0],
      21: [-8, 0, 0],
      28: [16, 0, 0],
      35: [-18, 0, 0],
      43: [-10, 6, 0],
      50: [18, 0, 0],
      68: [-6, 0, 0],
      84: [4, 0, 0],
    },
    fingL: { 1: 18, 24: 30, 34: 4, 46: 8, 56: 24, 80: 18 },
    fingR: { 1: 16, 25: 28, 35: 6, 46: 6, 57: 26, 82: 18 },
    footL: {
      1: [0.085, top, 0, 6],
      30: { v: [0.085, top, 0, 6], in: [0, 0, 0, 0], out: [0, 0.02, 0.04, 0] },
      33: { v: [0.09, 0.475, 0.2, 7], s: [0, 0.0, 0.1, 0] },
      37: { v: [0.1, 0.46, 0.62, 8], s: [0, -0.03, 0.105, 0] },
      42: { v: [0.11, 0, 1.06, 12], out: [0, 0, 0, 0], in: [0, -0.1, 0.05, 0] },
    },
    footR: {
      1: [-0.08, top, 0.015, -8],
      30: { v: [-0.08, top, 0.015, -8], in: [0, 0, 0, 0], out: [0, 0.02, 0.04, 0] },
      33: { v: [-0.09, 0.48, 0.2, -9], s: [0, 0.0, 0.1, 0] },
      37: { v: [-0.1, 0.44, 0.58, -10], s: [0, -0.03, 0.105, 0] },
      42: { v: [-0.11, 0, 1.03, -12], out: [0, 0, 0, 0], in: [0, -0.1, 0.05, 0] },
    },
    rollL: bad ? { 1: 0 } : { 1: 0, 23: 0, 30: 48, 36: 30, 42: 12, 45: 0 },
    rollR: bad ? { 1: 0 } : { 1: 0, 24: 0, 30: 44, 36: 26, 42: 10, 45: 0 },
    air: [[30, 42]],
    kneeL: { 1: 8 },
    kneeR: { 1: 8 },
    leans: (f) => f > 24 && f < 50,
  });
  if (bad) {
    // Eased like a hand-drawn hop: up, a rest at the top, and down.
    perf.air = undefined;
    perf.hips[30] = { v: [0, top - 0.014, 0.11], s: [0, 0.05, 0.066] };
    perf.hips[34] = { v: [0, top + 0.17, 0.44], s: [0, 0.008, 0.07] };
    perf.hips[38] = { v: [0, top + 0.1, 0.7], s: [0, -0.06, 0.068] };
    perf.footL[36] = { v: [0.1, 0.6, 0.56, 8], s: [0, -0.05, 0.1, 0] };
    perf.footR[36] = { v: [-0.1, 0.58, 0.52, -10], s: [0, -0.05, 0.1, 0] };
    delete perf.footL[37];
    delete perf.footR[37];
    delete perf.footL[33];
    delete perf.footR[33];
  }
  const b = makeShot({
    name,
    fps: 24,
    last: 96,
    shot: { stage: "splining" },
    items: [
      {
        id: "mur",
        still: [0, 0, -0.1],
        shapes: [{ kind: "box", size: [1.6, top, 0.5], centre: [0, top / 2, 0] }],
      },
      { skel: sk, perf, body: true },
    ],
    cameras: [{ id: "kamera", eye: [3.9, 1.0, 2.6], at: [0, 0.95, 0.45], fov: 34 }],
  });
  full(b, {
    surfaces: [
      {
        id: "murkron",
        normal: [0, 1, 0],
        height: 45,
        edges: [
          [-80, -35],
          [80, 15],
        ],
      },
    ],
  });
  for (const c of b.doc.contacts) if (c.frames[1] < 36) c.with = "murkron";
  if (bad)
    for (const [l, r] of [
      ["overarm.v", "overarm.h"],
      ["underarm.v", "underarm.h"],
      ["hand.v", "hand.h"],
    ])
      copyTurns(b.doc, l, r, [8, 96], [1, -1, -1]);
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The jump hangs in the air: he slows to a rest at the top and comes down as if on a rope.",
    kind: "floaty-flight",
    size: "strong",
    nodes: ["hofter"],
    frames: [29, 43],
    order: 1,
  },
  {
    what: "Nothing prepares the jump: the hips never go down before they shoot up.",
    kind: "no-anticipation",
    size: "ordinary",
    nodes: ["hofter", "rygg", "brost"],
    frames: [14, 30],
    order: 2,
  },
  {
    what: "He lands from half a metre on stiff legs, with next to no give.",
    kind: "stiff-landing",
    size: "ordinary",
    nodes: ["hofter", "lar.v", "smalben.v", "lar.h", "smalben.h"],
    frames: [42, 60],
    order: 3,
  },
  {
    what: "Both arms do the same on the same frames all through the jump.",
    kind: "twinning",
    size: "ordinary",
    nodes: ["overarm.v", "overarm.h", "underarm.v", "underarm.h", "hand.v", "hand.h"],
    frames: [8, 80],
    order: 4,
  },
  {
    what: "The feet leave and land flat, the toes and heels never roll.",
    kind: "flat-feet",
    size: "barely",
    nodes: ["fot.v", "fot.h", "tar.v", "tar.h"],
    frames: [24, 46],
    order: 5,
  },
];
