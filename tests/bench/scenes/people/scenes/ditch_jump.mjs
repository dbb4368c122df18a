// @ts-check

import { pop, retime } from "../../slips.mjs";
import { track } from "../kit/curve.mjs";
import { versions } from "../kit/declare.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "ditch_jump";
export const about =
  "A runner comes in at full speed, jumps a ditch from the left foot, lands on the right one, and comes to a stand in two steps.";

const V = 0.135;
const LAST = 92;
/** When each foot is down, and where. */
const DOWN = {
  L: [
    [-6, -2, V * -4],
    [10, 14, V * 12],
    [26, 31, V * 28.3],
    [53, LAST + 9, 6.86],
  ],
  R: [
    [-14, -10, V * -12],
    [2, 6, V * 4],
    [18, 22, V * 20],
    [43, 51, 6.1],
    [64, LAST + 9, 6.97],
  ],
};
/** Where a foot is in the air: how far ahead of the hips, how high, and how its heel is. */
const AIR = {
  run: [
    [0.2, -0.44, 0.2, 66],
    [0.42, -0.34, 0.37, 78],
    [0.62, 0.06, 0.28, 34],
    [0.85, 0.4, 0.12, 4],
  ],
  trail: [
    [0.14, -0.5, 0.21, 62],
    [0.34, -0.47, 0.34, 72],
    [0.55, -0.3, 0.36, 60],
    [0.75, -0.05, 0.22, 24],
    [0.9, 0.22, 0.08, -2],
  ],
  lead: [
    [0.14, -0.3, 0.34, 70],
    [0.33, 0.12, 0.34, 30],
    [0.5, 0.34, 0.36, 8],
    [0.72, 0.41, 0.35, -8],
    [0.9, 0.42, 0.18, -8],
  ],
  walk: [
    [0.25, -0.42, 0.09, 34],
    [0.5, -0.16, 0.1, 14],
    [0.8, 0.02, 0.05, -4],
  ],
};

/** A foot through its contacts, with the heel up behind and the knee through. @param {any} perf @param {"L" | "R"} s */
function runFoot(perf, s) {
  const hip = track(perf.hips);
  const x = s === "L" ? 0.07 : -0.07;
  const yaw = s === "L" ? 5 : -6;
  const F = /** @type {any} */ ({});
  const R = /** @type {any} */ ({});
  DOWN[s].forEach(([a, b, z], i) => {
    const walk = a > 50;
    F[a] = { v: [x, 0, z, yaw], in: [0, walk ? -0.006 : -0.03, walk ? 0 : 0.03, 0], out: [0, 0, 0, 0] };
    F[b] = { v: [x, 0, z, yaw], in: [0, 0, 0, 0], out: walk ? [0, 0, 0, 0] : [0, 0.03, 0.06, 0] };
    R[a] = walk ? -8 : -3;
    R[a + 2] = 0;
    const next = DOWN[s][i + 1];
    if (!next) return;
    const n = next[0] - b;
    const slow = next[0] > 60;
    R[b - 2] = slow ? 12 : 18;
    R[b] = slow ? 26 : 44;
    const way = AIR[slow ? "walk" : next[0] === 53 ? "trail" : next[0] === 43 ? "lead" : "run"];
    for (const [u, ahead, y, roll] of way) {
      const t = b + u * n;
      F[t] = [x, y, hip(t)[2] + ahead, yaw];
      R[t] = roll;
    }
  });
  perf[`foot${s}`] = F;
  perf[`roll${s}`] = R;
}

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "loeper",
    stature: 1.76,
    spines: 2,
    words: {
      root: "J_Bekken",
      spine: ["J_Rug_A", "J_Rug_B"],
      neck: "J_Nek",
      head: "J_Hoofd",
      end: "J_Kruin",
      clav: "Sleutelbeen",
      up: "Bovenarm",
      fore: "Onderarm",
      hand: "Hand",
      fing: "Vingers",
      thigh: "Bovenbeen",
      shin: "Onderbeen",
      foot: "Voet",
      toe: "Teen",
      tip: "TeenEind",
    },
    side: (w, s) => `J_${s === "L" ? "Li" : "Re"}${w}`,
    orders: { root: "yxz", leg: "xzy", arm: "yxz" },
  });
  const up = 0.046;
  const hips = /** @type {any} */ ({});
  const h = (f, y, z, sy, sz = V) => {
    hips[f] = { v: [0, y, z], s: [0, sy, sz] };
  };
  for (const a of [-6, 2, 10, 18]) {
    h(a, -0.085, V * a, -0.034);
    h(a + 2, -0.125, V * (a + 2), 0);
    h(a + 4, -0.085, V * (a + 4), up);
  }
  h(26, -0.1, V * 26, -0.03);
  h(28, -0.175, V * 28, 0);
  h(31, -0.04, V * 31, 0.115);
  h(43, -0.13, V * 43, -0.1);
  h(47.5, bad ? -0.15 : -0.31, 6.27, 0, 0.075);
  h(53, -0.16, 6.6, 0.026, 0.052);
  h(58, -0.07, 6.81, 0.006, 0.032);
  h(66, -0.042, 6.93, -0.001, 0.004);
  h(74, -0.034, 6.925, 0, 0);
  h(LAST, -0.03, 6.922, 0, 0);
  const perf = /** @type {any} */ ({
    hips,
    alive: 0.6,
    air: [
      [6, 10],
      [14, 18],
      [22, 26],
      [31, 43],
    ],
    hipsRot: {
      "-6": [9, -9, 0],
      2: [9, 9, 0],
      10: [9, -9, 0],
      18: [9, 9, 0],
      26: [4, -8, 0],
      32: [4, 4, 0],
      38: [9, 8, 0],
      44: [10, 6, 0],
      49: [22, 2, 0],
      58: [8, -3, 0],
      68: [1, 0, 0],
      [LAST]: [1, 2, 0],
    },
    spine: {
      "-6": [6, 8, 0],
      2: [6, -8, 0],
      10: [6, 8, 0],
      18: [6, -8, 0],
      26: [0, 8, 0],
      33: [-4, -6, 0],
      40: [10, -6, 0],
      45: [13, -4, 0],
      51: [20, -1, 0],
      60: [6, 2, 0],
      70: [-1, 0, 0],
      [LAST]: [1, 0, 0],
    },
    chest: {
      "-6": [7, 12, 0],
      3: [7, -12, 0],
      11: [7, 12, 0],
      19: [7, -12, 0],
      27: [-2, 11, 0],
      34: [-6, -8, 0],
      41: [13, -8, 0],
      47: [15, -4, 0],
      53: [20, 0, 0],
      63: [4, 3, 0],
      74: [-3, 0, 0],
      [LAST]: [2, 0, 0],
    },
    // The head stays ahead while the shoulders turn under it.
    neck: {
      "-6": [-9, -5, 0],
      2: [-9, 5, 0],
      10: [-9, -5, 0],
      18: [-9, 5, 0],
      26: [-6, -5, 0],
      34: [2, 5, 0],
      42: [-10, 4, 0],
      54: [-18, 0, 0],
      66: [-4, 0, 0],
      [LAST]: [0, 0, 0],
    },
    head: {
      "-6": [-8, -6, 0],
      2: [-8, 6, 0],
      10: [-8, -6, 0],
      18: [-8, 6, 0],
      26: [-3, -6, 0],
      33: [10, 6, 0],
      41: [4, 5, 0],
      52: [-16, 0, 0],
      64: [-3, 0, 0],
      76: [2, 5, 0],
      [LAST]: [0, 6, 0],
    },
    kneeL: { 1: 4 },
    kneeR: { 1: 4 },
    armL: {
      "-6": [-46, 20, 0, 86],
      2: [40, 17, -16, 98],
      10: [-46, 20, 0, 86],
      18: [40, 17, -16, 98],
      25: [-40, 20, 0, 80],
      33: [84, 30, 0, 56],
      39: [70, 46, 0, 38],
      46: [34, 40, 0, 30],
      54: [6, 28, 0, 34],
      64: [-8, 14, 0, 18],
      76: [6, 9, 0, 20],
      [LAST]: [4, 8, 0, 18],
    },
    armR: {
      "-6": [40, 17, -16, 99],
      1: [-47, 20, 0, 86],
      9: [40, 17, -16, 99],
      17: [-47, 20, 0, 86],
      25: [42, 18, -16, 94],
      34: [-30, 52, 0, 40],
      40: [-10, 58, 0, 30],
      47: [16, 44, 0, 26],
      56: [20, 24, 0, 40],
      66: [-5, 12, 0, 16],
      79: [3, 8, 0, 14],
      [LAST]: [2, 8, 0, 13],
    },
    wristL: {
      "-3": [-8, 0, 0],
      5: [14, 0, 0],
      13: [-8, 0, 0],
      21: [14, 0, 0],
      29: [-6, 0, 0],
      38: [10, 0, 0],
      50: [-16, 0, 0],
      60: [8, 0, 0],
      72: [2, 0, 0],
      [LAST]: [4, 0, 0],
    },
    wristR: {
      "-3": [14, 0, 0],
      5: [-8, 0, 0],
      13: [14, 0, 0],
      21: [-8, 0, 0],
      29: [12, 0, 0],
      39: [-8, 0, 0],
      51: [-14, 0, 0],
      62: [10, 0, 0],
      75: [3, 0, 0],
      [LAST]: [5, 0, 0],
    },
    fingL: { 1: 46, 30: 44, 38: 12, 50: 16, 70: 22 },
    fingR: { 1: 48, 30: 44, 39: 10, 52: 14, 72: 24 },
    clavL: { 1: [0, 0], 28: [0, 0], 36: [9, 4], 50: [0, 2], [LAST]: [0, 0] },
    clavR: { 1: [0, 0], 29: [0, 0], 38: [10, -2], 52: [0, 2], [LAST]: [0, 0] },
    opts: { kind: "smooth" },
  });
  runFoot(perf, "L");
  runFoot(perf, "R");
  if (bad) {
    // Both arms keep one pose from the take-off to the ground.
    for (const [k, d] of [
      ["armL", 0],
      ["armR", 0],
      ["wristL", 0],
      ["wristR", 0],
      ["clavL", 0],
      ["clavR", 0],
    ]) {
      const t = perf[k];
      for (const f of Object.keys(t).map(Number)) if (f > 32 + Number(d) && f < 48) delete t[f];
      const pose = {
        armL: [84, 30, 0, 56],
        armR: [-30, 52, 0, 40],
        wristL: [2, 0, 0],
        wristR: [2, 0, 0],
        clavL: [6, 2],
        clavR: [6, 0],
      }[k];
      t[32] = { v: pose, s: pose?.map(() => 0) };
      t[46] = { v: pose, s: pose?.map(() => 0) };
    }
    // The landing foot was keyed a second time, further on.
    perf.footR[44] = { v: [-0.07, 0, 6.1, -6], s: [0, 0, 0.03, 0] };
    perf.footR[49] = { v: [-0.07, 0, 6.22, -6], s: [0, 0, 0, 0] };
    perf.footR[51] = { v: [-0.07, 0, 6.22, -6], s: [0, 0, 0, 0] };
  }
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.01,
    items: [
      { skel: sk, perf },
      {
        id: "J_Sloot",
        still: [0, -0.15, 5.1],
        shapes: [{ kind: "box", size: [4, 0.3, 1.5], centre: [0, -0.01, 0] }],
      },
    ],
  });
  if (bad) {
    // The keys of the top were pulled apart: quick up, a long hang, and down like a stone.
    retime(b.doc, ["J_Bekken"], "translation.y", 31, 43, (f) =>
      f <= 34 ? 31 + ((f - 31) / 3) * 5 : f <= 40 ? 36 + ((f - 34) / 6) * 2 : 38 + ((f - 40) / 3) * 5,
    );
    pop(b.doc, "J_ReOnderarm", "rotation.x", 14, 16);
  }
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "He shoots up and then hangs at the top of the jump for six frames before he drops; no fall looks like that.",
    kind: "wrong gravity",
    size: "strong",
    nodes: ["J_Bekken"],
    frames: [31, 44],
    order: 1,
  },
  {
    what: "He lands from a jump over the ditch and the body does not give at all, the knee stays where it is.",
    kind: "no-give",
    size: "ordinary",
    nodes: ["J_Bekken", "J_ReBovenbeen", "J_ReOnderbeen"],
    frames: [43, 54],
    order: 2,
  },
  {
    what: "The landing foot slides on by a hand's breadth.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["J_ReVoet", "J_ReTeen"],
    frames: [43, 52],
    order: 3,
  },
  {
    what: "Both arms are frozen in one pose through the whole flight.",
    kind: "freeze of a part",
    size: "ordinary",
    nodes: ["J_LiBovenarm", "J_LiOnderarm", "J_LiHand", "J_ReBovenarm", "J_ReOnderarm", "J_ReHand"],
    frames: [32, 47],
    order: 4,
  },
  {
    what: "The right forearm jumps for one frame at 14.",
    kind: "pop",
    size: "barely",
    nodes: ["J_ReOnderarm", "J_ReHand"],
    frames: [13, 15],
    order: 5,
  },
];
