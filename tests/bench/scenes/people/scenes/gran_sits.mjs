// @ts-check
import { track } from "../kit/curve.mjs";
import { full, versions } from "../kit/declare.mjs";
import { add, between, mul, norm, qmul, sub, turn } from "../kit/math.mjs";
import { handTurn } from "../kit/pose.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "gran_sits";
export const about =
  "An old woman with a stick in her right hand looks round for the chair behind her. She bends forward, lets herself down with care, leans back and puts her left hand on her knee.";
export const centre = [0, 0.7, -0.15];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "oma",
    stature: 1.57,
    space: "oma",
    spines: 3,
    words: {
      root: "bassin",
      spine: ["lombes", "dos", "thorax"],
      neck: "cou",
      head: "tete",
      end: "tete_bout",
      clav: "clavicule",
      up: "bras",
      fore: "avantbras",
      hand: "main",
      fing: "doigts",
      thigh: "cuisse",
      shin: "jambe",
      foot: "pied",
      toe: "orteils",
      tip: "orteils_bout",
    },
    side: (w, s) => `${w}_${s === "L" ? "g" : "d"}`,
    orders: { root: "yxz", leg: "xzy" },
  });
  const sit = bad ? [0, -0.385, -0.4] : [0, -0.31, -0.4];
  const perf = /** @type {any} */ ({
    hips: bad
      ? {
          1: [0, -0.03, -0.02],
          34: [0.01, -0.032, -0.025],
          48: [0.005, -0.1, -0.14],
          80: { v: sit, in: [0, -0.011, -0.009], out: [0, 0, 0] },
          130: sit,
        }
      : {
          1: [0, -0.03, -0.02],
          14: [0.02, -0.034, -0.02],
          34: [0.015, -0.034, -0.02],
          50: [0.005, -0.1, -0.15],
          66: { v: [0, -0.215, -0.3], s: [0, -0.0075, -0.0095] },
          77: { v: [0, -0.297, -0.39], s: [0, -0.004, -0.004] },
          83: [0, -0.316, -0.403],
          92: [0, -0.31, -0.402],
          106: [0, -0.31, -0.41],
          130: [0, -0.311, -0.411],
        },
    hipsRot: {
      1: [4, 0, 0],
      14: [3, 14, -1],
      28: [4, 11, -1],
      40: [12, 2, 0],
      56: [29, 0, 0],
      70: [27, 0, 0],
      84: [8, 0, 0],
      100: [-7, 0, 0],
      130: [-8, 0, 0],
    },
    spine: {
      1: [8, 0, 0],
      15: [7, 9, -1],
      29: [8, 8, -1],
      42: [13, 0, 0],
      58: [24, 0, 0],
      72: [23, 0, 0],
      88: [12, 0, 0],
      104: [7, 0, 0],
      130: [8, 0, 0],
    },
    chest: {
      1: [11, 0, 0],
      17: [9, 13, -2],
      30: [10, 12, -2],
      44: [16, 0, 0],
      60: [25, 0, 0],
      75: [24, 0, 0],
      92: [15, 0, 0],
      108: [9, 0, 0],
      130: [10, 1, 0],
    },
    neck: {
      1: [-9, 0, 0],
      13: [-4, 22, 0],
      26: [-5, 20, 0],
      40: [-9, 0, 0],
      60: [-14, 0, 0],
      90: [-12, 0, 0],
      112: [-9, -4, 0],
      130: [-9, -4, 0],
    },
    head: {
      1: [-8, 0, 0],
      12: [8, 32, 3],
      25: [9, 31, 3],
      38: [-4, 2, 0],
      60: [-12, 0, 0],
      92: [-9, 0, 0],
      110: [-6, -9, 2],
      130: [-5, -10, 2],
    },
    footL: { 1: [0.1, 0, 0.01, 9] },
    footR: { 1: [-0.1, 0, -0.01, -11] },
    kneeL: { 1: 6 },
    kneeR: { 1: 6 },
    clavR: { 1: [4, 4], 60: [7, 8], 100: [3, 3] },
    clavL: { 1: [0, 2], 58: [2, 5], 96: [0, 3] },
    armL: {
      1: [6, 8, 0, 30],
      16: [0, 13, 0, 26],
      30: [2, 11, 0, 28],
      46: [16, 12, 0, 34],
      60: [24, 14, 0, 42],
    },
    wristL: { 1: [8, 0, 0], 20: [4, 0, 0], 50: [-8, 0, 0], 66: [-14, 0, 0] },
    fingL: { 1: 34, 46: 18, 72: 10, 90: 22, 130: 24 },
    fingR: { 1: 64, 60: 72, 110: 62 },
    handL: {
      w: { 52: 0, 72: 1 },
      pole: [0.9, -0.2, -0.5],
      at: () => [0.11, 0.5, -0.07],
      rot: () => handTurn("L", [0, -0.5, 1], [0, -1, -0.45]),
    },
    leans: (f) => f > 66,
    opts: { kind: "bezier" },
  });
  const tip = bad
    ? track({ 1: [-0.24, 0, 0.2], 46: [-0.24, 0, 0.2], 74: [-0.225, 0, 0.262], 130: [-0.225, 0, 0.262] })
    : () => [-0.24, 0, 0.2];
  const top = track({
    1: [-0.22, 0.76, 0.19],
    15: [-0.23, 0.76, 0.16],
    30: [-0.225, 0.76, 0.17],
    52: [-0.22, 0.76, 0.1],
    82: [-0.2, 0.74, 0.03],
    108: [-0.19, 0.75, -0.01],
    130: [-0.19, 0.75, -0.01],
  });
  const cane = (f) => {
    const d = norm(sub(top(f), [-0.24, 0, 0.2]));
    return { p: add(tip(f), mul(d, 0.76)), q: between([0, 1, 0], d) };
  };
  perf.handR = {
    w: { 1: 1 },
    pole: [-0.6, -0.4, -0.8],
    at: (f, env) => add(env.prop("canne", f).p, turn(env.prop("canne", f).q, [0, 0.012, 0])),
    rot: (f, env) => qmul(env.prop("canne", f).q, handTurn("R", [0.3, -0.45, 1], [0.15, -1, -0.4])),
  };
  if (bad) {
    for (const [k, c] of [
      ["hipsRot", 0.3],
      ["spine", 0.45],
      ["chest", 0.45],
    ])
      for (const f of [56, 58, 60, 70, 72, 75])
        if (perf[k][f]) perf[k][f] = perf[k][f].map((v) => v * Number(c));
    for (const k of ["neck", "head", "chest", "spine", "hipsRot"])
      for (const f of [12, 13, 14, 15, 17, 25, 26, 28, 29, 30]) delete perf[k][f];
  }
  const b = makeShot({
    name,
    fps: 25,
    last: 130,
    unit: 1,
    up: "z",
    shot: { stage: "polish" },
    items: [
      {
        id: "chaise",
        still: [0, 0, -0.42],
        shapes: [
          { kind: "box", size: [0.44, 0.05, 0.42], centre: [0, 0.415, 0] },
          { kind: "box", size: [0.44, 0.5, 0.04], centre: [0, 0.68, -0.24] },
        ],
      },
      {
        id: "canne",
        pose: cane,
        shapes: [{ kind: "capsule", radius: 0.012, from: [0, 0, 0], to: [0, -0.745, 0] }],
      },
      { skel: sk, perf, body: true },
    ],
    cameras: [{ id: "plan", eye: [-2.6, 1.25, 2.5], at: [0, 0.72, -0.12], fov: 30 }],
  });
  b.doc.surfaces = [];
  return full(b, {
    contacts: [{ node: "oma:bassin", with: "chaise", frames: [80, 130] }],
    props: [
      { node: "canne", mass: 0.5, heldBy: [{ node: "oma:main_d", frames: [1, 130] }] },
      { node: "chaise", mass: 6 },
    ],
  });
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "She sits down with an upright back: the weight is far behind her feet and nothing would hold her.",
    kind: "off-balance",
    size: "strong",
    nodes: ["oma:bassin", "oma:lombes", "oma:dos", "oma:thorax"],
    frames: [48, 76],
    order: 1,
  },
  {
    what: "The hips end inside of the seat.",
    kind: "goes-through",
    size: "ordinary",
    nodes: ["oma:bassin", "chaise"],
    frames: [74, 130],
    order: 2,
  },
  {
    what: "The hips go down at one speed and stop dead on the chair, with no settling into it.",
    kind: "hard-stop",
    size: "ordinary",
    nodes: ["oma:bassin"],
    frames: [50, 84],
    order: 3,
  },
  {
    what: "She never looks for the chair before she trusts it.",
    kind: "no-look",
    size: "barely",
    nodes: ["oma:tete", "oma:cou"],
    frames: [1, 44],
    order: 5,
  },
  {
    what: "The tip of the stick slides forward on the floor while she leans on it.",
    kind: "prop-slide",
    size: "ordinary",
    nodes: ["canne"],
    frames: [46, 74],
    order: 4,
  },
];
