// @ts-check
import { track } from "../kit/curve.mjs";
import { full, versions } from "../kit/declare.mjs";
import { add, turn, about as turnBy } from "../kit/math.mjs";
import { handTurn } from "../kit/pose.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";
import { steps } from "../kit/steps.mjs";

export const name = "door_push";
export const about =
  "A woman walks up to a heavy door, puts her right hand on it and pushes it open with her weight behind the hand. She follows it through the frame and lets go.";
export const centre = [0, 0.9, 0.4];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "donna",
    stature: 1.69,
    spines: 3,
    fingers: true,
    words: {
      root: "bacino",
      spine: ["lombare", "dorsale", "torace"],
      neck: "collo",
      head: "testa",
      end: "testa_fine",
      clav: "clavicola",
      up: "braccio",
      fore: "avambraccio",
      hand: "mano",
      fing: "dita",
      thigh: "coscia",
      shin: "gamba",
      foot: "piede",
      toe: "punta",
      tip: "punta_fine",
    },
    side: (w, s) => `${w}_${s === "L" ? "sx" : "dx"}`,
    orders: { root: "yxz" },
  });
  const perf = /** @type {any} */ ({
    hips: { 1: [0, -0.012, -0.9], 7: [0.012, -0.014, -0.905] },
    hipsRot: { 1: [0, 0, 0], 7: [-1, 0, 1] },
    spine: { 1: [0, 0, 0] },
    chest: { 1: [0, 0, 0], 7: [-1, 0, 0] },
    footL: { 1: [0.09, 0, -0.9, 5] },
    footR: { 1: [-0.09, 0, -0.9, -5] },
    armL: { 1: [3, 7, 0, 14] },
    armR: {
      1: [3, 7, 0, 14],
      22: [-14, 9, 0, 16],
      34: [26, 10, 0, 40],
      45: [58, 12, 0, 56],
      82: [40, 12, 0, 30],
      96: [-6, 9, 0, 14],
      108: [16, 9, 0, 26],
      124: [3, 7, 0, 15],
    },
    wristR: { 1: [4, 0, 0], 44: [-20, 0, 0], 84: [-18, 0, 0], 100: [10, 0, 0], 118: [4, 0, 0] },
    fingR: { 1: 18, 36: 10, 46: 4, 80: 6, 94: 18 },
    fingL: { 1: 20, 60: 28, 100: 18 },
    clavR: { 40: [0, 0], 54: [3, 10], 70: [3, 13], 90: [0, 0] },
    head: { 1: [4, 0, 0], 30: [6, 0, 0], 44: [10, -8, 0], 60: [4, -4, 0], 84: [-2, 4, 0], 124: [0, 0, 0] },
    neck: { 1: [2, 0, 0] },
    leans: (f) => f > 44 && f < 90,
  });
  steps(perf, sk, {
    f0: 8,
    n: 13,
    hold: "R",
    heel: 22,
    lift: 0.06,
    list: [
      { s: "L", to: [0.1, 0, -0.4, 5], n: 13 },
      { s: "R", to: [-0.1, 0, -0.1, -6], n: 13 },
    ],
  });
  // At the door: the weight goes back, then into the hand.
  const at = 34;
  const drop = (t, a, b) => {
    for (const f of Object.keys(t).map(Number)) if (f > a && f <= b) delete t[f];
  };
  for (const k of ["hips", "hipsRot", "spine", "chest"]) drop(perf[k], at, 60);
  if (bad) {
    perf.hips[48] = [0, -0.045, -0.22];
    perf.hips[58] = [0, -0.045, -0.18];
    perf.spine[48] = [1, 0, 0];
    perf.chest[48] = [1, 0, 0];
  } else {
    perf.hips[44] = [0.0, -0.045, -0.235];
    perf.hips[50] = [0.005, -0.052, -0.23];
    perf.hips[58] = [-0.02, -0.066, -0.1];
    perf.hipsRot[46] = [2, -4, 0];
    perf.hipsRot[58] = [9, 6, 0];
    perf.spine[48] = [0, -5, 0];
    perf.spine[59] = [8, 6, 0];
    perf.chest[50] = [-2, -8, 0];
    perf.chest[61] = [9, 9, 0];
  }
  steps(perf, sk, {
    f0: 58,
    n: 15,
    hold: "R",
    heel: 24,
    lift: 0.06,
    lean: 6,
    dip: 0.02,
    sway: 0.4,
    list: [
      { s: "L", to: [0.07, 0, 0.42, 5], n: 15 },
      { s: "R", to: [-0.11, 0, 0.88, -4], n: 14 },
      { s: "L", to: [0.07, 0, 1.36, 4], n: 14 },
      { s: "R", to: [-0.11, 0, 1.36, -6], n: 13 },
    ],
  });
  if (bad) {
    const h = track(perf.hips);
    perf.hips[100] = { v: h(100), s: [0, 0, 0.006] };
    perf.hips[105] = { v: [h(103)[0], h(103)[1], h(101)[2]], s: [0, 0, 0.006] };
  }
  if (bad) perf.footL[42] = [0.1, 0, -0.37, 5];
  const swing = track(
    bad
      ? { 38: 0, 64: { v: 44, s: 1.6 }, 72: 50, 134: 50 }
      : { 55: 0, 60: { v: 6, s: 2 }, 80: { v: 58, s: 1.9 }, 100: 80, 134: 83 },
  );
  const hinge = [0.42, 0, 0.4];
  const door = (f) => ({ p: hinge, q: turnBy(1, swing(f)) });
  perf.handR = {
    w: { 34: 0, 54: 1, 78: 1, 94: 0 },
    pole: [-0.7, -0.7, -0.2],
    at: (f, env) => {
      const d = env.prop("porta", f);
      return add(d.p, turn(d.q, [-0.6, 1.2, -0.055]));
    },
    rot: (f, env) => {
      const d = env.prop("porta", f);
      return handTurn("R", turn(d.q, [0.35, 1, 0.12]), turn(d.q, [0, 0, 1]));
    },
  };
  const b = makeShot({
    name,
    fps: 24,
    last: 134,
    shot: { stage: "splining" },
    items: [
      { id: "porta", pose: door, shapes: [{ kind: "box", size: [0.88, 2, 0.05], centre: [-0.44, 1, 0] }] },
      {
        id: "telaio",
        still: [0, 0, 0.4],
        shapes: [
          { kind: "box", size: [0.08, 2.1, 0.12], centre: [0.48, 1.05, 0] },
          { kind: "box", size: [0.08, 2.1, 0.12], centre: [-0.52, 1.05, 0] },
        ],
      },
      { skel: sk, perf, body: true },
    ],
    cameras: [{ id: "camera_a", eye: [-3.9, 1.35, 0.9], at: [0, 0.92, 0.25], fov: 36 }],
  });
  full(b, {
    contacts: [{ node: "mano_dx", with: "porta", frames: [55, 77] }],
    props: [{ node: "porta", mass: 38 }],
  });
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The door opens before she reaches it; her hand runs after it and never rests on it while it swings.",
    kind: "moves-by-itself",
    size: "strong",
    nodes: ["porta", "mano_dx", "braccio_dx", "avambraccio_dx"],
    frames: [38, 76],
    order: 1,
  },
  {
    what: "She walks through the leaf, which stops half open in her way.",
    kind: "goes-through",
    size: "ordinary",
    nodes: ["porta", "bacino"],
    frames: [74, 112],
    order: 2,
  },
  {
    what: "There is no push: hips and back stay upright and do not go into the hand.",
    kind: "arm-alone",
    size: "ordinary",
    nodes: ["bacino", "lombare", "dorsale", "torace"],
    frames: [44, 62],
    order: 3,
  },
  {
    what: "The left foot creeps forward and back at the door.",
    kind: "foot-slide",
    size: "barely",
    nodes: ["piede_sx", "punta_sx", "coscia_sx", "gamba_sx"],
    frames: [21, 63],
    order: 4,
  },
  {
    what: "Her walk hitches between the last two steps: the hips stand for a moment and then go on.",
    kind: "hitch",
    size: "barely",
    nodes: ["bacino"],
    frames: [98, 110],
    order: 5,
  },
];
