// @ts-check

import { track } from "../kit/curve.mjs";
import { versions } from "../kit/declare.mjs";
import { handTurn } from "../kit/pose.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "ladder_up";
export const about =
  "A painter climbs four rungs of a fixed ladder, hand and foot by turns. At the top he stops, looks over his left shoulder and rests.";
export const centre = [0, 1.5, 0];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "painter",
    stature: 1.76,
    spines: 2,
    space: "pt",
    clav: true,
    fingers: true,
    tips: false,
    words: { root: "cog", spine: ["torsoLow", "torsoHigh"], end: "headTip" },
    side: (w, s) =>
      `${s === "L" ? "left" : "right"}${w[0].toUpperCase()}${w.slice(1).replace(/_(.)/g, (_, c) => c.toUpperCase())}`,
    orders: { root: "yxz" },
  });
  const rung = (k) => 0.28 * k;
  const zf = 0.3 - 0.075 * 1.76;
  const feet = {
    L: [
      [1, 1],
      [28, 1],
      [40, 3],
      [76, 3],
      [88, 5],
    ],
    R: [
      [1, 1],
      [6, 1],
      [16, 2],
      [52, 2],
      [64, 4],
      [100, 4],
      [112, 5],
    ],
  };
  const hands = {
    L: [
      [1, 6],
      [8, 6],
      [18, 7],
      [54, 7],
      [66, 9],
    ],
    R: [
      [1, 6],
      [30, 6],
      [42, 8],
      [78, 8],
      [90, 10],
    ],
  };
  const foot = (s) => {
    const x = s === "L" ? 0.11 : -0.11;
    const t = /** @type {any} */ ({});
    feet[s].forEach(([f, k], i) => {
      t[f] = { v: [x, rung(k) + 0.015, zf, 0], s: [0, 0, 0, 0] };
      const n = feet[s][i + 1];
      if (n && n[1] !== k)
        t[(f + n[0]) / 2 + 1] = {
          v: [x, rung(k) * 0.35 + rung(n[1]) * 0.65 + 0.06, zf - 0.12, 0],
          s: [0, 0.03, 0, 0],
        };
    });
    return t;
  };
  const hand = (s) => {
    const x = s === "L" ? 0.2 : -0.2;
    const t = /** @type {any} */ ({});
    hands[s].forEach(([f, k], i) => {
      t[f] = { v: [x, rung(k), 0.285], s: [0, 0, 0] };
      const n = hands[s][i + 1];
      if (n && n[1] !== k)
        t[(f + n[0]) / 2] = {
          v: [x * 1.15, rung((k + n[1]) / 2) + 0.03, 0.21],
          s: [0, (rung(n[1] - k) / (n[0] - f)) * 1.4, 0],
        };
    });
    const at = track(t);
    const keys = hands[s];
    return {
      w: { 1: 1 },
      pole: [s === "L" ? 0.9 : -0.9, -0.9, -0.2],
      at: (f) => {
        const p = at(f);
        // Flawed: the left hand lets the rung go and creeps up early while it should bear.
        if (bad && s === "L" && f > 22 && f < 54)
          return [p[0], p[1] + 0.05 * Math.sin(((f - 22) / 32) * Math.PI), p[2]];
        return p;
      },
      rot: () => handTurn(s, [0, 0.75, 0.65], [0, -0.55, 0.8]),
      keys,
    };
  };
  const y = (k) => rung(k) - 0.095;
  const perf = /** @type {any} */ ({
    hips: bad
      ? {
          1: [0, y(0.35), -0.14],
          12: { v: [0, y(0.35), -0.14], in: [0, 0, 0], out: [0, 0.0116, 0] },
          122: { v: [0, y(4.9), -0.14], in: [0, 0.0116, 0], out: [0, 0, 0] },
          150: [0, y(4.9) + 0.002, -0.142],
        }
      : {
          1: [0, y(1.05), -0.14],
          7: [0.03, y(1.03), -0.145],
          17: [0.02, y(1.12), -0.135],
          28: [-0.04, y(1.02), -0.13],
          40: [-0.045, y(1.8), -0.135],
          47: [-0.03, y(1.9), -0.14],
          52: [0.03, y(1.98), -0.13],
          64: [0.045, y(2.8), -0.135],
          71: [0.03, y(2.9), -0.14],
          76: [-0.03, y(2.98), -0.13],
          88: [-0.045, y(3.8), -0.135],
          95: [-0.03, y(3.9), -0.14],
          100: [0.02, y(3.98), -0.13],
          112: [0.03, y(4.92), -0.135],
          124: [0, y(4.98), -0.145],
          150: [0.004, y(4.97), -0.148],
        },
    hipsRot: {
      1: [6, 0, 0],
      17: [6, 4, 3],
      28: [7, -2, -2],
      40: [6, -5, -3],
      52: [7, 2, 2],
      64: [6, 5, 3],
      76: [7, -2, -2],
      88: [6, -5, -3],
      100: [7, 2, 2],
      112: [6, 3, 2],
      126: [4, 6, 0],
      150: [4, 7, 0],
    },
    spine: {
      1: [4, 0, 0],
      18: [5, -3, -4],
      42: [5, 4, 4],
      66: [5, -4, -4],
      90: [5, 4, 4],
      114: [3, -2, -2],
      128: [2, 6, 0],
      150: [2, 6, 0],
    },
    chest: {
      1: [2, 0, 0],
      19: [3, -5, -5],
      43: [3, 6, 5],
      67: [3, -6, -5],
      91: [3, 6, 5],
      116: [1, -2, -2],
      130: [0, 10, 0],
      150: [0, 10, 0],
    },
    clavL: { 1: [6, 3], 18: [16, 4], 42: [5, 3], 66: [16, 4], 90: [6, 3] },
    clavR: { 1: [4, 3], 18: [2, 3], 42: [16, 4], 66: [6, 3], 90: [16, 4], 120: [12, 3] },
    neck: { 1: [-10, 0, 0], 108: [-10, 0, 0], 124: [-2, 20, 0], 150: [-2, 21, 0] },
    head: {
      1: [-16, 0, 0],
      14: [-18, 5, 0],
      38: [-18, -6, 0],
      62: [-18, 5, 0],
      86: [-18, -5, 0],
      106: [-8, 0, 0],
      122: [4, 36, 4],
      150: [5, 38, 4],
    },
    footL: foot("L"),
    footR: foot("R"),
    handL: hand("L"),
    handR: hand("R"),
    rollL: { 1: 0, 28: 0, 34: 22, 41: 4, 48: 0, 76: 0, 82: 22, 89: 4, 96: 0 },
    rollR: { 1: 0, 6: 0, 11: 22, 17: 4, 24: 0, 52: 0, 58: 22, 65: 4, 72: 0, 100: 0, 106: 18, 113: 3, 118: 0 },
    kneeL: { 1: 22 },
    kneeR: { 1: 22 },
    fingL: { 1: 70, 8: 70, 13: 24, 17: 28, 23: 70, 54: 70, 59: 16, 63: 22, 68: 70 },
    fingR: { 1: 70, 30: 70, 35: 16, 39: 22, 44: 70, 78: 70, 83: 16, 87: 22, 92: 70 },
    leans: () => true,
    opts: { quat: /^(up|fore|hand)/ },
  });
  if (bad) {
    perf.hipsRot = { 1: [6, 0, 0], 126: [4, 0, 0] };
    for (const f of Object.keys(perf.footR).map(Number))
      if (f >= 64)
        perf.footR[f] = {
          ...perf.footR[f],
          v: perf.footR[f].v.map((v, i) => v - (i === 1 && f <= 100 ? 0.05 : 0)),
        };
    // The head turns in one frame-to-frame jump of keys, with nothing of the body.
    perf.neck = { 1: [-10, 0, 0] };
    perf.head = {
      1: [-16, 0, 0],
      14: [-18, 5, 0],
      38: [-18, -6, 0],
      62: [-18, 5, 0],
      86: [-18, -5, 0],
      116: [-16, 0, 0],
      118: [4, 66, 4],
      150: [4, 66, 4],
    };
    perf.chest[130] = [0, 0, 0];
    perf.chest[150] = [0, 0, 0];
    perf.spine[128] = [2, 0, 0];
    perf.spine[150] = [2, 0, 0];
  }
  const b = makeShot({
    name,
    fps: 24,
    last: 150,
    items: [
      {
        id: "ladder",
        still: [0, 0, 0.3],
        shapes: [
          ...[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11].map((k) => ({
            kind: "capsule",
            radius: 0.015,
            from: [-0.24, rung(k), 0],
            to: [0.24, rung(k), 0],
          })),
          { kind: "capsule", radius: 0.02, from: [-0.25, 0, 0], to: [-0.25, 3.3, 0] },
          { kind: "capsule", radius: 0.02, from: [0.25, 0, 0], to: [0.25, 3.3, 0] },
        ],
      },
      { skel: sk, perf, body: true },
    ],
    cameras: [
      {
        id: "cam",
        eye: [3.6, 2.1, -3.6],
        at: (f) => [
          0,
          1.35 + track(bad ? { 1: 0, 10: 0, 112: 0.1, 150: 0.12 } : { 1: 0, 10: 0, 112: 1.05, 150: 1.1 })(f),
          0.1,
        ],
        fov: 33,
      },
    ],
  });
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The body glides up the ladder at one even speed, as on a lift: no pull, no weight from side to side.",
    kind: "even-motion",
    size: "strong",
    nodes: ["pt:cog"],
    frames: [1, 112],
    order: 1,
  },
  {
    what: "The right foot sinks through its rung and stands in the air.",
    kind: "foot-misses-support",
    size: "ordinary",
    nodes: ["pt:rightFoot", "pt:rightThigh", "pt:rightShin", "ladder"],
    frames: [64, 100],
    order: 2,
  },
  {
    what: "The head snaps round at the top in two frames, alone; neck and chest do not go along.",
    kind: "head-snap",
    size: "ordinary",
    nodes: ["pt:head", "pt:neck", "pt:torsoHigh"],
    frames: [116, 119],
    order: 3,
  },
  {
    what: "The left hand creeps up off its rung while it should bear him.",
    kind: "grip-slip",
    size: "ordinary",
    nodes: ["pt:leftHand", "pt:leftUpperArm", "pt:leftForearm"],
    frames: [22, 54],
    order: 4,
  },
  {
    what: "The camera does not keep up: at the top the frame edge cuts his head.",
    kind: "head-cut",
    size: "ordinary",
    nodes: ["cam_node", "pt:head"],
    frames: [100, 150],
    order: 5,
  },
];
