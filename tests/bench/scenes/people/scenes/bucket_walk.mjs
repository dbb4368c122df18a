// @ts-check

import { track } from "../kit/curve.mjs";
import { versions } from "../kit/declare.mjs";
import { pullHandles } from "../kit/flaws.mjs";
import { add, qmul, about as turnBy } from "../kit/math.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";
import { steps, straight } from "../kit/steps.mjs";

export const name = "bucket_walk";
export const about =
  "A farmer walks in with a full bucket in his right hand, leaning away from it. He stops, bends and sets it down, and stands up lighter.";
export const centre = [0, 0.9, 0.9];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "farmer",
    stature: 1.75,
    spines: 2,
    clav: true,
    fingers: true,
    tips: true,
    words: {
      root: "Pelvis01",
      spine: ["Spine01", "Spine02"],
      neck: "Neck01",
      head: "Head01",
      end: "Head02",
      clav: "Clav",
      up: "UpArm",
      fore: "LoArm",
      hand: "Hand",
      fing: "Fing",
      thigh: "UpLeg",
      shin: "LoLeg",
      foot: "Foot",
      toe: "Toe",
      tip: "ToeTip",
    },
    side: (w, s) => `${s}${w}`,
    orders: { root: "yxz", leg: "zyx" },
  });
  const tilt = bad ? 0.0 : 1;
  const perf = /** @type {any} */ ({
    hips: { 1: [0.02, -0.02, -0.01] },
    hipsRot: { 1: [1, 0, -2 * tilt] },
    spine: { 1: [3, 0, 5 * tilt] },
    chest: { 1: [3, 0, 6 * tilt] },
    footL: { 1: [0.085, 0, 0, 5] },
    footR: { 1: [-0.085, 0, 0, -6] },
    armL: { 1: [6, 24, 0, 18] },
    neck: { 1: [0, 0, -3] },
    head: {
      1: [0, 0, -5],
      60: [2, 0, -5],
      80: [16, -8, -3],
      108: [14, -8, 0],
      124: [-2, 0, 0],
      140: [0, 4, 0],
    },
    fingR: { 1: 78, 104: 78, 110: 20, 120: 18 },
    fingL: { 1: 24, 60: 36, 112: 20 },
  });
  const A = { 1: [2, 6, 0, 6] };
  const _end = steps(perf, sk, {
    f0: 3,
    hold: "R",
    lift: 0.05,
    lean: 5,
    sway: 0.6,
    dip: 0.016,
    heel: 20,
    toe: 9,
    arms: 14,
    hipYaw: 4,
    list: straight(5, { len: 0.42, n: 14, wide: 0.085, first: "L" }),
  });
  for (const k of ["spine", "chest"])
    for (const f of Object.keys(perf[k]))
      if (Number(f) > 1) perf[k][f] = [perf[k][f][0] + 2, perf[k][f][1], (k === "spine" ? 5 : 6) * tilt];
  for (const f of Object.keys(perf.armL).map(Number)) if (f > 1) perf.armL[f][1] = 24;
  const zf = 0.42 * 4;
  const E = Math.max(...Object.keys(perf.hips).map(Number));
  perf.hips[E] = [0.02, -0.02, zf - 0.01];
  perf.hips[86] = [0.02, -0.024, zf - 0.012];
  perf.hips[104] = [-0.03, -0.32, zf - 0.1];
  perf.hips[111] = [-0.028, -0.325, zf - 0.1];
  perf.hips[126] = [0.004, -0.012, zf - 0.005];
  perf.hips[140] = [0.008, -0.015, zf];
  Object.assign(perf.hipsRot, {
    86: [2, 0, -2 * tilt],
    104: [30, -8, -6],
    111: [30, -8, -6],
    127: [-2, 0, 0],
    140: [0, 0, 0],
  });
  Object.assign(perf.spine, {
    87: [5, 0, 5 * tilt],
    105: [17, -6, -6],
    112: [16, -6, -6],
    129: [-3, 0, 0],
    140: [0, 0, 0],
  });
  Object.assign(perf.chest, {
    88: [5, 0, 6 * tilt],
    106: [17, -8, -8],
    114: [15, -8, -7],
    132: [-4, 2, 0],
    140: [0, 2, 0],
  });
  perf.neck[88] = [0, 0, -3];
  perf.neck[108] = [-10, 0, 2];
  perf.neck[130] = [0, 0, 0];
  Object.assign(perf.armL, {
    87: [6, 24, 0, 18],
    104: [10, 34, 0, 30],
    114: [8, 30, 0, 34],
    128: [-6, 14, 0, 16],
    140: [3, 8, 0, 15],
  });
  Object.assign(perf.wristL, { 90: [4, 0, 0], 110: [-8, 0, 0], 134: [6, 0, 0] });
  // The loaded arm hangs; it swings little, and late.
  let sgn = 1;
  for (let i = 0; i < 5; i++) {
    A[3 + 14 * (i + 1) + 3] = [2 + 3 * sgn, 6, 0, 5];
    sgn = -sgn;
  }
  Object.assign(A, {
    90: [3, 6, 0, 6],
    104: [52, 5, 0, 8],
    110: [53, 5, 0, 8],
    118: [30, 8, 0, 34],
    132: [-2, 8, 0, 16],
    140: [4, 7, 0, 15],
  });
  perf.armR = A;
  perf.clavR = { 1: [-7, 0], 86: [-7, 0], 104: [-6, 6], 116: [0, 2], 130: [2, 0], 140: [0, 0] };
  perf.wristR = { 1: [0, 0, 0], 112: [0, 0, 0], 122: [12, 0, 0], 134: [2, 0, 0] };
  perf.lowest = -0.01;
  if (bad) {
    delete perf.hips[86];
    perf.hips[96] = [-0.03, -0.32, zf - 0.1];
    for (const k of ["rollL", "rollR"])
      for (const f of Object.keys(perf[k])) if (Number(f) > 44 && Number(f) < 62) delete perf[k][f];
    perf.armL = { 1: [6, 8, 0, 14] };
    perf.wristL = { 1: [4, 0, 0] };
  }
  const down = 106;
  const level = (f, env) => {
    const h = env.palm("farmer", "R", f);
    const yaw = 0;
    return {
      p: add(h.p, [0, 0, 0]),
      q: qmul(
        turnBy(1, yaw),
        turnBy(
          0,
          track({ 1: 0, 20: bad ? 0 : 2, 34: bad ? 0 : -2, 48: bad ? 0 : 2, 62: bad ? 0 : -2, 84: 0 })(f),
        ),
      ),
    };
  };
  const bucket = (f, env) => level(Math.min(f, down), env);
  const b = makeShot({
    name,
    fps: 24,
    last: 140,
    items: [
      { skel: sk, perf },
      {
        id: "Bucket",
        pose: bucket,
        shapes: [{ kind: "capsule", radius: 0.12, from: [0, -0.15, 0], to: [0, -0.2295, 0] }],
      },
    ],
  });
  if (bad) pullHandles(b.doc, "Head01", "rotation.x", [104, 128], 9);
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The bucket weighs nothing: he walks upright with it, no lean away from it and no sag at its side.",
    kind: "no-weight",
    size: "strong",
    nodes: ["Spine01", "Spine02", "Pelvis01"],
    frames: [1, 86],
    order: 1,
  },
  {
    what: "The left arm hangs dead at his side through the whole walk and the bend.",
    kind: "dead-arm",
    size: "ordinary",
    nodes: ["LUpArm", "LLoArm", "LHand"],
    frames: [1, 140],
    order: 2,
  },
  {
    what: "In one step the foot comes off and down flat.",
    kind: "flat-feet",
    size: "barely",
    nodes: ["LFoot", "RFoot", "LToe", "RToe"],
    frames: [44, 62],
    order: 4,
  },
  {
    what: "He is down at once: the bend has no beat before it and gets to the floor too early, then waits.",
    kind: "bad-timing",
    size: "ordinary",
    nodes: ["Pelvis01"],
    frames: [80, 106],
    order: 3,
  },
  {
    what: "The head shoots past its poses on the way up and swings back.",
    kind: "overshoot",
    size: "ordinary",
    nodes: ["Head01"],
    frames: [92, 132],
    order: 5,
  },
];
