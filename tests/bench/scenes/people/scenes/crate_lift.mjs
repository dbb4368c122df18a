// @ts-check
import { track } from "../kit/curve.mjs";
import { figure, footContacts, versions } from "../kit/declare.mjs";
import { add, slerp, turn, about as turnBy } from "../kit/math.mjs";
import { handTurn } from "../kit/pose.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";
import { steps } from "../kit/steps.mjs";

export const name = "crate_lift";
export const about =
  "A storeman looks a crate of 22 kg over, squats, takes it in both hands and stands up with it. He turns to his left with three steps and holds it before him, ready to go on.";
export const centre = [0.1, 0.8, 0.2];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "storeman",
    stature: 1.82,
    spines: 3,
    words: {
      root: "pelvis",
      spine: ["waist", "belly", "chest"],
      up: "upperarm",
      fore: "lowerarm",
      thigh: "upperleg",
      shin: "lowerleg",
      toe: "ball",
    },
    side: (w, s) => `${s.toLowerCase()}_${w}`,
    orders: { root: "yxz" },
  });
  const perf = /** @type {any} */ ({
    hips: {
      1: [0.01, -0.012, -0.02],
      12: [0.005, -0.02, -0.03],
      30: [0, -0.55, -0.17],
      38: [0, -0.57, -0.165],
      43: [0, -0.55, -0.165],
      62: [0, -0.03, -0.075],
      70: [0, -0.04, -0.07],
      76: [-0.015, -0.035, -0.07],
    },
    hipsRot: { 1: [0, 0, 0], 12: [6, 0, 0], 30: [32, 0, 0], 43: [32, 0, 0], 62: [2, 0, 0], 76: [-3, 0, 1] },
    spine: { 1: [1, 0, 0], 14: [8, 0, 0], 31: [22, 0, 0], 43: [20, 0, 0], 64: [-5, 0, 0], 76: [-6, 0, 0] },
    chest: { 1: [1, 0, 0], 16: [9, 0, 0], 33: [24, 0, 0], 44: [17, 0, 0], 66: [-6, 0, 0], 76: [-7, 0, 0] },
    clavL: { 26: [0, 0], 33: [-2, 8], 46: [-5, 8], 66: [-3, 3] },
    clavR: { 26: [0, 0], 34: [-2, 9], 46: [-6, 8], 67: [-3, 3] },
    footL: { 1: [0.17, 0, 0.02, 12] },
    footR: { 1: [-0.17, 0, -0.02, -12] },
    kneeL: { 1: 14 },
    kneeR: { 1: 14 },
    armL: { 1: [2, 8, 0, 16], 12: [12, 12, 0, 22], 24: [48, 14, 0, 30] },
    armR: { 1: [4, 7, 0, 14], 13: [9, 11, 0, 26], 25: [46, 13, 0, 28] },
    fingL: { 20: 14, 27: 6, 34: 34, 104: 36 },
    fingR: { 21: 14, 28: 6, 35: 34, 104: 36 },
    head: { 1: [0, 0, 0], 10: [0, 0, 0], 22: [-14, 0, 0], 44: [-16, 0, 0], 66: [0, 0, 0] },
    look: { w: { 1: 1, 44: 1, 58: 0, 82: 0, 92: 0 }, at: (f) => crate(f).p },
    opts: { kind: "bezier" },
  });
  if (bad) {
    // The lift has no squat to settle in: the crate goes up as soon as it is touched.
    delete perf.hips[38];
    perf.hips[33] = [0, -0.475, -0.2];
    perf.hips[43] = [0, -0.36, -0.17];
    perf.hips[62] = [0, -0.03, -0.17];
    perf.hips[70] = [0, -0.04, -0.17];
    perf.hips[76] = [-0.015, -0.035, -0.165];
    perf.hipsRot[62] = [-2, 0, 0];
  }
  steps(perf, sk, {
    f0: 78,
    n: 14,
    lift: 0.05,
    sway: 0.55,
    arms: 0,
    lean: -6,
    dip: 0.02,
    settle: 0.035,
    hipYaw: 2,
    heel: 14,
    list: [
      { s: "L", to: [0.2, 0, -0.04, 50], n: 14 },
      { s: "R", to: [0.03, 0, 0.2, 58], n: 14 },
      { s: "L", to: [0.26, 0, -0.02, 84], n: 13 },
    ],
  });
  if (bad) perf.footR[115] = [0.055, 0, 0.222, 58];
  const hips = track(perf.hips);
  const rot = track(perf.hipsRot);
  const lag = track({ 1: 0, 76: 0, 90: -5, 104: -4, 122: 0 });
  const w = track(bad ? { 34: 0, 37: 1 } : { 39: 0, 46: { v: 0.2, s: 0.05 }, 62: 1 });
  const rise = track(
    bad
      ? { 33: 0.15, 36: { v: 0.3, s: 0.05 }, 62: 1.1 }
      : {
          41: 0.15,
          46: { v: 0.24, s: 0.045 },
          60: { v: 1.04, s: 0.03 },
          65: 1.115,
          72: 1.085,
          80: 1.095,
          96: 1.07,
          124: 1.085,
        },
  );
  const carry = (f) => {
    const h = hips(f);
    const yaw = turnBy(1, rot(f)[1] + lag(f));
    const p = add([h[0], rise(f), h[2]], turn(yaw, [0, 0, 0.3]));
    return { p, q: yaw };
  };
  const crate = (f) => {
    const c = carry(f);
    const t = w(f);
    return { p: [c.p[0] * t, c.p[1], 0.34 * (1 - t) + c.p[2] * t], q: slerp([0, 0, 0, 1], c.q, t) };
  };
  const open = track({ 14: 1, 33: 0 });
  const hand = (s) => ({
    w: { 13: 0, 33: 1 },
    pole: [s === "L" ? 0.8 : -0.8, -0.3, -0.7],
    at: (f, env) => {
      const c = env.prop("crate", f);
      const slip = bad && s === "R" && f > 62 ? Math.min(1, (f - 62) / 14) * 0.05 : 0;
      const off = open(f);
      return add(
        c.p,
        turn(c.q, [(s === "L" ? 1 : -1) * (0.235 + off * 0.07), -0.02 + off * 0.02, 0.02 + slip]),
      );
    },
    rot: (f, env) => {
      const q = env.prop("crate", f).q;
      return handTurn(s, turn(q, [0, -0.35, 1]), turn(q, [s === "L" ? -1 : 1, 0, 0]));
    },
  });
  perf.handL = hand("L");
  perf.handR = hand("R");
  if (bad) for (const k of ["fingL", "fingR"]) perf[k] = { 1: 14 };
  const b = makeShot({
    name,
    fps: 24,
    last: 132,
    shot: { stage: "splining" },
    items: [
      { id: "crate", pose: crate, shapes: [{ kind: "box", size: [0.44, 0.3, 0.3] }], colour: "#8a6a40" },
      { skel: sk, perf, body: true },
    ],
    cameras: [{ id: "main", eye: [2.6, 1.35, 4.2], at: [0.1, 0.85, 0.1], fov: 31 }],
  });
  b.doc.figures = [figure(sk)];
  b.doc.surfaces = [{ id: "floor", normal: [0, 1, 0], height: 0 }];
  b.doc.contacts = [...footContacts(b.sim, "floor"), { node: "crate", with: "floor", frames: [1, 40] }];
  b.doc.props = [
    {
      node: "crate",
      mass: 22,
      heldBy: ["L", "R"].map((s) => ({ node: sk.by[`hand${s}`].id, frames: [34, 132] })),
    },
  ];
  b.doc.gazes = [{ figure: "storeman", at: "crate", frames: [2, 42] }];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The crate has no weight: it leaves the floor in the frame in which he touches it, before legs or back take the strain.",
    kind: "weightless-lift",
    size: "strong",
    nodes: ["crate", "pelvis", "l_lowerarm", "r_lowerarm"],
    frames: [33, 42],
    order: 1,
  },
  {
    what: "Upright with 22 kg before him he hangs behind his heels; bring the hips forward over the feet.",
    kind: "off-balance",
    size: "ordinary",
    nodes: ["pelvis"],
    frames: [60, 80],
    order: 2,
  },
  {
    what: "His right hand slips five centimetres along the crate while he stands up straight with it.",
    kind: "grip-slip",
    size: "ordinary",
    nodes: ["r_hand", "r_upperarm", "r_lowerarm", "crate"],
    frames: [62, 76],
    order: 3,
  },
  {
    what: "The right foot creeps after it has landed in the turn.",
    kind: "foot-slide",
    size: "barely",
    nodes: ["r_foot", "r_ball", "r_upperleg", "r_lowerleg"],
    frames: [106, 115],
    order: 4,
  },
  {
    what: "The fingers are never keyed: they do not open for the crate and do not close on it.",
    kind: "dead-fingers",
    size: "barely",
    nodes: ["l_fingers", "r_fingers"],
    frames: [1, 132],
    order: 5,
  },
];
