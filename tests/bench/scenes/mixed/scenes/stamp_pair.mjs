// @ts-check
import { full, versions } from "../../people/kit/declare.mjs";
import { add } from "../../people/kit/math.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { change, without, wordsOf } from "../kit/help.mjs";
import { cx, cz, LAST, toddlerKeys } from "../kit/toddler.mjs";

export const name = "stamp_pair";
export const about =
  "A giant stamps his foot before a toddler; the shock throws the child into the air, it finds its feet and holds up its arms, and the giant bends down and gives it a hand.";

const DOWN = 55;

/** @param {boolean} bad */
export function build(bad) {
  const words =
    "Becken Lende/Ruecken/Brust Hals Kopf Scheitel Achsel Oberarm Elle Hand Finger Schenkel Wade Fuss Zehen Spitze";
  const side = (/** @type {string} */ w, /** @type {string} */ s) => `${s === "L" ? "Li" : "Re"}${w}`;
  const small = skeleton({
    id: "kind",
    space: "kind",
    stature: 0.92,
    spines: 3,
    words: wordsOf(words),
    side,
    orders: { root: "yxz", spine: "yxz", neck: "yxz", arm: "xzy" },
    build: {
      head: 0.2,
      neck: 0.035,
      shin: 0.19,
      thigh: 0.19,
      back: 0.31,
      shoulder: 0.11,
      up: 0.15,
      fore: 0.12,
      hip: 0.06,
    },
  });
  const giant = skeleton({
    id: "riese",
    space: "riese",
    stature: 2.9,
    spines: 3,
    words: wordsOf(words),
    side,
    orders: { root: "yxz", spine: "yxz", neck: "yxz", arm: "xzy" },
    build: { head: 0.115, shoulder: 0.125, up: 0.175, fore: 0.155, hip: 0.058 },
  });
  const kid = toddlerKeys();
  if (bad) kid.air = [];
  const big = /** @type {any} */ ({
    hips: {
      1: [0, -0.03, 0],
      8: [-0.03, -0.05, 0.0],
      22: [0.14, -0.04, -0.03],
      34: [0.19, -0.04, -0.05],
      47: [0.19, -0.035, -0.05],
      51: { v: [0.15, -0.04, 0.0], s: [-0.016, -0.014, 0.016] },
      [DOWN]: { v: [0.06, -0.11, 0.09], s: [-0.02, -0.02, 0.018] },
      62: [-0.02, -0.2, 0.16],
      74: [0.0, -0.09, 0.14],
      86: [0.0, -0.1, 0.14],
      92: [0.0, -0.075, 0.13],
      104: { v: [-0.02, -0.42, 0.04], s: [-0.002, -0.027, -0.004] },
      118: [-0.05, -0.66, 0.02],
      126: [-0.05, -0.645, 0.025],
      [LAST]: [-0.05, -0.65, 0.025],
    },
    hipsRot: {
      1: [1, 0, 0],
      10: [2, 0, -1],
      34: [-6, 6, 3],
      47: [-7, 7, 3],
      [DOWN]: [6, -4, -1],
      64: [11, -8, -2],
      78: [3, -5, 0],
      92: [0, -5, 0],
      108: [22, -9, 0],
      120: [31, -10, 0],
      [LAST]: [30, -10, 0],
    },
    spine: {
      1: [2, 0, 0],
      35: [-6, 4, -3],
      48: [-7, 4, -3],
      56: [6, -4, 2],
      65: [12, -5, 2],
      80: [3, -3, 0],
      94: [0, -3, 0],
      110: [14, -5, -2],
      122: [19, -6, -3],
      [LAST]: [18, -6, -3],
    },
    chest: {
      1: [3, 0, 0],
      36: [-8, 6, -4],
      49: [-9, 6, -4],
      57: [8, -6, 3],
      66: [15, -8, 3],
      82: [4, -4, 0],
      96: [1, -4, 0],
      112: [17, -7, -3],
      124: [22, -8, -4],
      [LAST]: [21, -8, -4],
    },
    neck: {
      1: [6, -6, 0],
      36: [2, -12, 0],
      50: [0, -12, 0],
      60: [8, 0, 0],
      80: [6, -4, 0],
      112: [-8, -4, 0],
      [LAST]: [-12, -3, 0],
    },
    head: {
      1: [10, -10, 0],
      36: [6, -18, 0],
      50: [4, -18, 0],
      62: [16, 0, 0],
      80: [14, -6, 0],
      112: [-8, -6, 0],
      [LAST]: [-12, -4, 4],
    },
    footL: { 1: [0.19, 0, -0.02, 12] },
    footR: {
      1: [-0.19, 0, 0.0, -10],
      17: { v: [-0.19, 0, 0.0, -10], s: [0, 0, 0, 0] },
      27: { v: [-0.2, 0.3, 0.1, -10], s: [0, 0.034, 0.012, 0] },
      37: [-0.22, 0.55, 0.22, -12],
      48: { v: [-0.22, 0.57, 0.24, -12], s: [0, -0.004, 0.002, 0] },
      [DOWN]: { v: [-0.21, 0, 0.4, -12], in: [0, -0.13, 0.008, 0], out: [0, 0, 0, 0] },
      [LAST]: [-0.21, 0, 0.4, -12],
    },
    rollR: { 1: 0, 13: 0, 17: 14, 24: 26, 36: 8, 48: -6, 54: 0, [LAST]: 0 },
    rollL: { 1: 0, [LAST]: 0 },
    kneeL: { 1: 8, 88: 8, 118: 22, [LAST]: 22 },
    kneeR: { 1: 8, 88: 8, 118: 22, [LAST]: 22 },
    clavL: { 1: [0, 0], 36: [9, 0], 50: [9, 0], 64: [-5, 3], 82: [0, 0], [LAST]: [2, 4] },
    clavR: { 1: [0, 0], 36: [9, 0], 50: [9, 0], 64: [-5, 3], 92: [0, 0], 120: [0, 12], [LAST]: [0, 12] },
    armL: {
      1: [3, 12, 0, 22],
      16: [6, 12, 0, 28],
      37: [26, 46, 0, 44],
      49: [28, 48, 0, 42],
      60: [-16, 26, 0, 30],
      70: [-8, 18, 0, 40],
      88: [3, 13, 0, 24],
      108: [20, 24, 0, 40],
      124: [44, 34, 0, 26],
      134: [40, 32, 0, 30],
      [LAST]: [40, 32, 0, 30],
    },
    armR: {
      1: [2, 12, 0, 20],
      16: [-6, 12, 0, 24],
      38: [-24, 44, 0, 36],
      50: [-26, 46, 0, 34],
      61: [26, 24, 0, 34],
      72: [10, 16, 0, 40],
      88: [2, 14, 0, 22],
      [LAST]: [2, 14, 0, 22],
    },
    wristL: {
      1: [6, 0, 0],
      28: [22, 0, 0],
      42: [-10, 0, 0],
      54: [26, 0, 0],
      66: [-18, 0, 0],
      80: [12, 0, 0],
      92: [4, 0, 0],
      104: [18, 0, 0],
      130: [-6, 0, 0],
      [LAST]: [-4, 0, 0],
    },
    wristR: {
      1: [6, 0, 0],
      28: [20, 0, 0],
      42: [-10, 0, 0],
      54: [24, 0, 0],
      66: [-16, 0, 0],
      80: [12, 0, 0],
      92: [6, 0, 0],
      [LAST]: [6, 0, 0],
    },
    fingL: { 1: 30, 36: 12, 52: 50, 70: 34, [LAST]: 26 },
    fingR: { 1: 30, 36: 12, 52: 50, 70: 34, 100: 14, 118: 6, 124: 16, [LAST]: 16 },
    handR: {
      w: { 1: 0, 92: 0, 120: 1, [LAST]: 1 },
      at: (/** @type {number} */ f, /** @type {any} */ env) =>
        add(env.palm("kind", "L", f).p, bad ? [0.13, -0.06, -0.12] : [0, -0.035, -0.13]),
      rot: () => handTurn("R", [-0.1, -0.35, 0.95], [0.1, 0.9, 0.35]),
      pole: [-0.8, -0.3, -0.5],
    },
    look: {
      w: { 1: 0.9, 50: 0.9, 58: 0.5, 74: 0.9, [LAST]: 0.95 },
      at: (/** @type {number} */ f, /** @type {any} */ _e) => kidHead(f),
    },
    leans: (/** @type {number} */ f) => f > 48 && f < 58,
    opts: { kind: "bezier" },
  });
  const kidHead = (/** @type {number} */ f) => [cx, f > 58 && f < 68 ? 0.85 : 0.72, cz];
  if (bad) {
    // The bend was blocked for a man and never stretched.
    for (const [k, a, b] of [
      ["hips", 92, 118],
      ["hipsRot", 92, 120],
      ["spine", 94, 122],
      ["chest", 96, 124],
    ]) {
      const t = big[k];
      const end = t[b];
      without(t, Number(a), 127);
      t[Number(a)] = t[86] ?? t[78] ?? t[80] ?? t[82];
      t[Number(a) + 8] = end;
    }
    big.hips[92] = [0, -0.075, 0.13];
    // The standing foot was moved when he was down.
    change(big, { footL: { 100: [0.19, 0, -0.02, 12], 118: [0.25, 0, 0.05, 12] } });
    // The child hangs in the air.
    change(kid, {
      hips: {
        62: null,
        65: { v: [cx, 0.11, cz + 0.03], s: [0, 0, 0.002] },
        66: null,
        72: { v: [cx, -0.03, cz + 0.044], s: [0, -0.014, 0.003] },
        70: null,
        76: [cx + 0.004, -0.08, cz + 0.046],
        82: [cx + 0.012, -0.012, cz + 0.034],
        78: null,
      },
      footL: { 65: [cx - 0.06, 0.12, cz + 0.03, 192], 66: null, 72: [cx - 0.062, 0, cz + 0.05, 194] },
      footR: { 65: [cx + 0.06, 0.12, cz + 0.02, 168], 66: null, 72: [cx + 0.068, 0, cz + 0.036, 166] },
      rollL: { 66: null, 68: null, 72: 6, 74: 0 },
      rollR: { 66: null, 68: null, 72: 8, 74: 0 },
    });
    // Wrists of the giant keep one value.
    big.wristL = { 1: [6, 0, 0] };
    big.wristR = { 1: [6, 0, 0] };
  }
  // The shock needs two frames to get to the child.
  for (const t of Object.values(kid)) {
    if (typeof t !== "object" || Array.isArray(t) || t.at || t.kind) continue;
    for (const f of Object.keys(t)
      .map(Number)
      .sort((p, q) => q - p)) {
      if (f < 58 || f > 88) continue;
      t[f + 2] = t[f];
      delete t[f];
    }
  }
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.01,
    items: [
      { skel: small, perf: kid },
      { skel: giant, perf: big },
    ],
  });
  return full(b);
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The giant ducks down like a boy of ten; so much body needs a second for it, not a third.",
    kind: "too quick for its size",
    size: "strong",
    nodes: ["riese:Becken", "riese:Ruecken", "riese:Brust"],
    frames: [90, 108],
    order: 1,
  },
  {
    what: "The child floats: it is up no higher than a hand and needs more than half a second for it.",
    kind: "floaty-flight",
    size: "ordinary",
    nodes: ["kind:Becken"],
    frames: [60, 76],
    order: 2,
  },
  {
    what: "The giant's hand does not meet the child's, there is a hand's breadth of air between them to the end.",
    kind: "grip-misses",
    size: "ordinary",
    nodes: ["riese:ReHand", "riese:ReFinger", "kind:LiHand"],
    frames: [118, 152],
    order: 3,
  },
  {
    what: "His left foot slides nine centimetres outwards while he goes down on it.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["riese:LiFuss", "riese:LiZehen"],
    frames: [99, 119],
    order: 4,
  },
  {
    what: "Nothing happens in the giant's wrists when the arms are flung up and come down.",
    kind: "dead-wrist",
    size: "barely",
    nodes: ["riese:LiHand", "riese:ReHand"],
    frames: [16, 92],
    order: 5,
  },
];
