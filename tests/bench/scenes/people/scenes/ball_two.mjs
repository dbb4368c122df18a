// @ts-check
import { track } from "../kit/curve.mjs";
import { versions } from "../kit/declare.mjs";
import { deleteKeys } from "../kit/flaws.mjs";
import { ONE } from "../kit/math.mjs";
import { handTurn } from "../kit/pose.mjs";
import { fly, makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "ball_two";
export const about =
  "A father throws a soft ball underarm to his son. The boy catches it with both hands, draws it to his chest and rocks back with it.";
export const centre = [0, 0.8, 0];

/** @param {boolean} bad */
export function build(bad) {
  const dad = skeleton({
    id: "dad",
    space: "dad",
    stature: 1.78,
    spines: 2,
    orders: { root: "yxz" },
    words: {
      root: "root",
      up: "arm",
      fore: "elbow",
      hand: "wrist",
      thigh: "hip",
      shin: "knee",
      foot: "ankle",
      toe: "ball",
    },
  });
  const son = skeleton({
    id: "son",
    space: "son",
    stature: 1.24,
    spines: 2,
    orders: { root: "yxz" },
    build: { head: 0.16, thigh: 0.22, shin: 0.228 },
    words: {
      root: "root",
      up: "arm",
      fore: "elbow",
      hand: "wrist",
      thigh: "hip",
      shin: "knee",
      foot: "ankle",
      toe: "ball",
    },
  });
  const R = 0.09;
  const [out, into] = [44, 60];
  const palm = track({
    1: [-0.2, 0.93, -0.9],
    16: [-0.2, 0.94, -0.9],
    31: [-0.27, 0.92, -1.41],
    33: [-0.27, 0.915, -1.412],
    40: { v: [-0.25, 0.85, -1.09], s: [0.008, 0.02, 0.085] },
    [out]: { v: [-0.2, 0.98, -0.72], s: [0.008, 0.1, 0.1] },
    50: [-0.13, 1.34, -0.62],
  });
  const place = track({
    [into]: { v: [0, 0.84, 0.78], s: [0, -0.03, 0.045] },
    68: [0, 0.72, 0.98],
    78: [0, 0.75, 0.965],
    110: [0, 0.752, 0.962],
  });
  const held = (f) => {
    const p = palm(f);
    return { p: [p[0], p[1] + R * 0.8, p[2] + R * 0.6], q: ONE };
  };
  const arc = fly(out, into, held(out), { p: place(into), q: ONE }, 24, bad ? 0 : -70);
  const ball = (f) => {
    if (f <= out) return held(f);
    if (f < into) {
      const a = arc(f);
      return a;
    }
    return { p: place(f), q: arc(into).q };
  };
  const a = /** @type {any} */ ({
    hips: {
      1: [0, -0.016, -1.2],
      14: [0.006, -0.018, -1.19],
      32: [-0.03, -0.07, -1.27],
      36: [-0.03, -0.08, -1.26],
      45: [0, -0.055, -1.09],
      52: [0.005, -0.03, -1.07],
      70: [0, -0.032, -1.14],
      110: [0.005, -0.03, -1.15],
    },
    hipsRot: { 1: [0, 0, 0], 32: [6, -22, 0], 45: [4, 10, 0], 54: [2, 14, 0], 72: [0, 2, 0], 110: [0, 1, 0] },
    spine: { 1: [1, 0, 0], 33: [10, -12, 0], 46: [4, 8, 0], 56: [0, 10, 0], 76: [1, 1, 0], 110: [1, 0, 0] },
    chest: { 1: [1, 0, 0], 34: [10, -18, 0], 47: [3, 14, 0], 58: [-2, 14, 0], 80: [0, 2, 0], 110: [0, 0, 0] },
    neck: { 1: [0, 0, 0] },
    head: { 1: [0, 0, 0] },
    footL: { 1: [0.11, 0, -1.05, 6] },
    footR: { 1: [-0.11, 0, -1.32, -16] },
    rollR: { 1: 0, 37: 0, 46: 20, 56: 24, 72: 0 },
    armL: {
      1: [6, 8, 0, 20],
      32: [36, 16, 0, 30],
      46: [-14, 18, 0, 24],
      58: [-18, 16, 0, 20],
      78: [4, 9, 0, 17],
      110: [3, 8, 0, 16],
    },
    wristL: { 1: [4, 0, 0], 37: [-8, 0, 0], 50: [10, 0, 0], 84: [3, 0, 0] },
    armR: {
      1: [20, 10, 0, 50],
      48: [70, 10, 0, 30],
      60: [52, 10, 0, 36],
      74: [2, 9, 0, 18],
      84: [8, 9, 0, 22],
      110: [4, 8, 0, 18],
    },
    wristR: { 1: [0, 0, 0], 56: [16, 0, 0], 80: [-6, 0, 0], 96: [4, 0, 0] },
    clavR: { 1: [0, 0], 34: [0, -8], 46: [3, 12], 70: [0, 0] },
    fingR: { 1: 34, 40: 34, 47: 6, 70: 18 },
    fingL: { 1: 18, 40: 26, 66: 16 },
    look: {
      w: { 1: 1, 110: 1 },
      at: (f) => {
        const t = track({ 1: 1, 38: 1, 46: 0, 110: 0 })(f);
        const p = ball(f).p;
        return [p[0] * (1 - t), p[1] * (1 - t) + 1.0 * t, p[2] * (1 - t) + 1.1 * t];
      },
    },
    handR: {
      w: { 1: 1, 50: 1, 68: 0 },
      pole: [-0.6, -0.5, -0.8],
      at: (f) => palm(f),
      rot: () => handTurn("R", [0.12, -0.35, 1], [0, 0.85, 0.5]),
    },
  });
  const stiff = bad ? 0.1 : 1;
  const c = /** @type {any} */ ({
    hips: {
      1: [0, -0.014, 1.2],
      20: [-0.012, -0.02, 1.2],
      36: [0.012, -0.03, 1.19],
      50: [0, -0.045, 1.18],
      59: [0, -0.05, 1.17],
      69: [0, -0.05 - 0.045 * stiff, 1.17 + 0.06 * stiff],
      84: [0, -0.02, 1.21],
      110: [0.006, -0.016, 1.205],
    },
    hipsRot: {
      1: [0, 180, 0],
      50: [5, 180, 0],
      60: [5, 180, 0],
      70: [5 - 12 * stiff, 182, 0],
      88: [-1, 180, 0],
      110: [0, 180, 0],
    },
    spine: {
      1: [1, 0, 0],
      52: [6, 0, 0],
      61: [6, 0, 0],
      72: [6 - 2 * stiff, 2, 0],
      92: [0, 0, 0],
      110: [1, 0, 0],
    },
    chest: {
      1: [1, 0, 0],
      54: [6, 0, 0],
      62: [6, 0, 0],
      74: [6 + 6 * stiff, 3, 0],
      96: [0, 0, 0],
      110: [1, 0, 0],
    },
    neck: { 1: [0, 0, 0] },
    head: { 1: [0, 0, 0] },
    footL: { 1: [-0.1, 0, 1.17, 174] },
    footR: { 1: [0.1, 0, 1.21, 190] },
    clavL: { 1: [0, 0], 40: [0, 2], 56: [3, 12], 70: [0, 2] },
    clavR: { 1: [0, 0], 42: [0, 2], 57: [3, 11], 70: [0, 2] },
    armL: { 1: [6, 9, 0, 22], 26: [10, 10, 0, 30], 48: [50, 14, 0, 50] },
    armR: { 1: [4, 8, 0, 18], 28: [12, 9, 0, 34], 50: [46, 16, 0, 54] },
    wristL: { 1: [4, 0, 0], 40: [-10, 0, 0] },
    wristR: { 1: [4, 0, 0], 42: [-8, 0, 0] },
    fingL: { 1: 20, 44: 4, 58: 2, 64: 40 },
    fingR: { 1: 20, 45: 5, 58: 3, 65: 42 },
    look: {
      w: { 1: 1 },
      at: (f) => {
        const t = track({ 1: 1, 30: 1, 40: 0, 80: 0, 96: 1 })(f);
        const p = ball(f).p;
        return [p[0] * (1 - t), p[1] * (1 - t) + 1.55 * t, p[2] * (1 - t) - 1.1 * t];
      },
    },
  });
  for (const s of ["L", "R"]) {
    const m = s === "L" ? -1 : 1;
    c[`hand${s}`] = {
      w: bad ? { 54: 0, 66: 1 } : s === "L" ? { 38: 0, 58: 1 } : { 41: 0, 59: 1 },
      pole: [s === "L" ? 0.8 : -0.8, -0.7, -0.3],
      at: (f) => {
        const p = f < into ? place(into) : place(f);
        return [p[0] + m * R * 0.92, p[1] - 0.02, p[2] + (f < into ? 0.0 : 0)];
      },
      rot: () => handTurn(s, [0, 0.45, -1], [-m, 0.1, 0]),
    };
  }
  if (bad) {
    a.hips = {
      1: [0, -0.016, -1.2],
      32: [-0.004, -0.034, -1.255],
      40: [-0.003, -0.034, -1.25],
      46: [0, -0.026, -1.19],
      110: [0.005, -0.018, -1.195],
    };
    a.footR = { 1: [-0.11, 0, -1.24, -16] };
    a.rollR = { 1: 0 };
  }
  const b = makeShot({
    name,
    fps: 24,
    last: 110,
    items: [
      { id: "softball", pose: ball, must: [out, into], shapes: [{ kind: "sphere", radius: R }] },
      { skel: dad, perf: a },
      { skel: son, perf: c },
    ],
    cameras: [{ id: "garden", eye: [-4.6, 1.2, 0.4], at: [0, 0.92, -0.1], fov: 34 }],
  });
  if (bad) {
    deleteKeys(b.doc, "dad:wrist_r", "rotation", [34, 60]);
    const twist = b.doc.curves.find((x) => x.node === "dad:wrist_l" && x.channel === "rotation.y");
    const flat = { in: [-4, 0], out: [4, 0] };
    if (twist)
      twist.keys = [
        [1, 0, flat],
        [66, 0, flat],
        [84, 360, flat],
        [110, 360, flat],
      ];
  }
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The boy's hands come late: the ball is at his chest before they close in.",
    kind: "hands-late",
    size: "strong",
    nodes: ["son:wrist_l", "son:wrist_r", "son:arm_l", "son:arm_r", "son:elbow_l", "son:elbow_r"],
    frames: [52, 67],
    order: 1,
  },
  {
    what: "The catch has no weight: nothing in the boy's body gives when the ball arrives.",
    kind: "no-give",
    size: "ordinary",
    nodes: ["son:root", "son:spine_1", "son:spine_2"],
    frames: [59, 80],
    order: 3,
  },
  {
    what: "Dad throws from planted hips; the weight does not go back and forward with the arm.",
    kind: "no-weight-shift",
    size: "ordinary",
    nodes: ["dad:root"],
    frames: [16, 60],
    order: 4,
  },
  {
    what: "The throwing wrist is stiff, no snap behind the ball.",
    kind: "dead-wrist",
    size: "barely",
    nodes: ["dad:wrist_r"],
    frames: [34, 60],
    order: 5,
  },
  {
    what: "His left hand whirls once round: a turn of 360 degrees has got into the keys.",
    kind: "rotation-flip",
    size: "strong",
    nodes: ["dad:wrist_l"],
    frames: [66, 84],
    order: 2,
  },
];
