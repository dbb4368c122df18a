// @ts-check

import { track } from "../../people/kit/curve.mjs";
import { versions } from "../../people/kit/declare.mjs";
import { about as turnBy } from "../../people/kit/math.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { pop } from "../../slips.mjs";
import { grip, names, toEnd, without } from "../kit-A/write.mjs";

export const name = "kettle_pour";
export const about =
  "An old woman leans with her left hand on the worktop, takes the full kettle from its plate, pours a cup, and sets the kettle back.";

const LAST = 150;

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "mummo",
    stature: 1.56,
    spines: 2,
    words: names(
      "lantio ranka/rinta kaula paa paalaki solis olkavarsi kyynarvarsi kasi sormet reisi saari jalka varpaat varvas_paa",
    ),
    side: (w, s) => `${s === "L" ? "v" : "o"}_${w}`,
    orders: { root: "yxz", spine: "yxz", neck: "yxz", arm: "zyx" },
  });
  const lift = /** @type {any} */ ({
    1: [-0.3, 1.0, 0.39],
    38: [-0.3, 1.0, 0.39],
    44: { v: [-0.298, 1.012, 0.387], s: [0.002, 0.007, -0.001] },
    60: [-0.128, 1.125, 0.37],
    68: [-0.12, 1.122, 0.372],
    84: [-0.112, 1.134, 0.374],
    96: [-0.135, 1.124, 0.366],
    102: { v: [-0.175, 1.112, 0.37], s: [-0.008, -0.002, 0.002] },
    120: { v: [-0.3, 1.008, 0.39], s: [0, -0.003, 0] },
    124: [-0.3, 1.0, 0.39],
    [LAST]: [-0.3, 1.0, 0.39],
  });
  if (bad) {
    // The kettle's keys up were slid; those down were set straight.
    lift[29] = lift[38];
    delete lift[38];
    lift[35] = { v: [-0.298, 1.018, 0.387], s: [0.002, 0.007, -0.001] };
    delete lift[44];
    delete lift[120];
    delete lift[124];
    lift[102] = { v: [-0.175, 1.112, 0.37], s: [-0.0089, -0.008, 0.0015] };
    lift[116] = { v: [-0.3, 1.0, 0.39], in: [-0.0089, -0.008, 0.0015], out: [0, 0, 0] };
  }
  const place = track(lift);
  const tip = track({ 1: 0, 46: 0, 56: 3, 69: -32, 76: -35, 86: -39, 98: 2, 105: 3, 118: 0, [LAST]: 0 });
  const kettle = (/** @type {number} */ f) => ({ p: place(f), q: turnBy(2, tip(f)) });

  const perf = /** @type {any} */ ({
    hips: {
      1: [0.03, -0.02, -0.035],
      14: [0.032, -0.021, -0.034],
      22: [0.026, -0.024, -0.03],
      36: [-0.008, -0.03, -0.012],
      48: [0.03, -0.02, -0.04],
      62: [0.04, -0.02, -0.045],
      86: [0.036, -0.023, -0.04],
      104: [0.02, -0.021, -0.035],
      122: [-0.006, -0.03, -0.012],
      140: [0.026, -0.02, -0.034],
      [LAST]: [0.03, -0.02, -0.035],
    },
    hipsRot: {
      1: [6, -2, 2],
      22: [6, -3, 2],
      36: [9, -6, -1],
      50: [5, -1, 2],
      64: [5, 2, 3],
      88: [6, 3, 3],
      106: [6, -3, 1],
      122: [9, -6, -1],
      142: [6, -2, 2],
    },
    spine: {
      1: [5, 0, 0],
      23: [6, -2, 0],
      37: [10, -6, -1],
      52: [4, 0, 2],
      66: [5, 3, 3],
      90: [7, 4, 3],
      107: [5, -2, 1],
      123: [10, -6, -1],
      144: [5, 0, 0],
    },
    chest: {
      1: [7, 1, 0],
      24: [8, -3, 0],
      38: [12, -8, -1],
      54: [6, 1, 2],
      68: [7, 4, 3],
      92: [9, 5, 3],
      109: [7, -3, 1],
      124: [12, -8, -1],
      146: [7, 1, 0],
    },
    neck: { 1: [4, 0, 0], 70: [6, 2, 0], 100: [4, 0, 0], 140: [4, 0, 0] },
    head: { 1: [2, 0, 0], 66: [5, 2, 4], 92: [6, 2, 5], 110: [2, 0, 0], 146: [0, 4, 2] },
    footL: { 1: [0.095, 0, -0.01, 10] },
    footR: { 1: [-0.085, 0, 0.005, -14] },
    kneeL: { 1: 6 },
    kneeR: { 1: 5 },
    clavL: { 1: [4, 2], 60: [6, 0], 124: [4, 2] },
    clavR: {
      1: [0, 2],
      24: [0, 4],
      37: [1, 10],
      58: [7, 6],
      90: [8, 7],
      108: [3, 8],
      125: [1, 10],
      142: [0, 2],
    },
    armL: { 1: [22, 16, 0, 40] },
    armR: {
      1: [-4, 9, 0, 16],
      12: [-4, 9, 0, 17],
      24: [-8, 18, -2, 106],
      36: [36, 14, 0, 60],
      128: [36, 14, 0, 60],
      136: [-7, 17, -2, 106],
      147: [-5, 9, 0, 20],
      [LAST]: [-4, 9, 0, 19],
    },
    wristR: {
      1: [6, 0, 0],
      18: [12, 0, 0],
      30: [-8, 0, 0],
      130: [-6, 0, 0],
      138: [14, 0, 0],
      [LAST]: [6, 0, 0],
    },
    fingL: { 1: 8, 60: 12, 120: 8 },
    fingR: { 1: 26, 22: 24, 31: 8, 36: 12, 41: 64, 122: 64, 128: 14, 134: 10, 146: 28 },
    handR: grip(
      "kattila",
      "R",
      [0, 0, 0],
      [0.35, -0.12, 1],
      [1, 0, -0.35],
      { 1: 0, 20: 0, 37: 1, 126: 1, 143: 0 },
      [-0.7, -0.6, -0.3],
    ),
    handL: {
      w: { 1: 1 },
      pole: [0.6, -0.3, -0.7],
      at: () => [0.26, 0.905, 0.33],
      rot: () => handTurn("L", [-0.3, -0.15, 1], [0, -1, 0]),
    },
    look: {
      w: { 1: 1 },
      at: track({
        1: [0.0, 0.95, 0.5],
        6: [0.0, 0.95, 0.5],
        16: [-0.26, 1.0, 0.4],
        44: [-0.26, 1.0, 0.4],
        56: [0.02, 0.97, 0.41],
        96: [0.02, 0.97, 0.41],
        106: [-0.26, 0.96, 0.42],
        130: [-0.26, 0.96, 0.42],
        142: [0.03, 0.96, 0.44],
      }),
    },
    alive: 1.1,
    opts: { kind: "bezier" },
  });
  if (bad) {
    // The trunk was only keyed where she stands.
    for (const k of ["hips", "hipsRot", "spine", "chest"]) without(perf[k], 30, 126);
    // The look to the cup was left out.
    perf.look.at = track({
      1: [0, 0.95, 0.5],
      6: [0, 0.95, 0.5],
      16: [-0.26, 1, 0.4],
      142: [-0.26, 0.96, 0.4],
    });
    perf.fingR = { 1: 26 };
    const flat = track({ 1: 0, 50: 0, 66: 0.035, 96: 0.035, 110: 0 });
    perf.handL.at = (/** @type {number} */ f) => [0.26, 0.905 - flat(f), 0.33];
  }
  toEnd(perf, LAST);
  const b = makeShot({
    name,
    fps: 25,
    last: LAST,
    unit: 0.01,
    shot: { stage: "polish", animators: ["Outi"] },
    items: [
      {
        id: "taso",
        still: [0, 0.88, 0.52],
        shapes: [{ kind: "box", size: [1.6, 0.04, 0.5] }],
        colour: "#b0a080",
      },
      {
        id: "kuppi",
        still: [0.02, 0.9, 0.405],
        shapes: [{ kind: "capsule", radius: 0.035, from: [0, 0.035, 0], to: [0, 0.06, 0] }],
      },
      {
        id: "kattila",
        pose: kettle,
        must: [38, 60, 96, 124],
        shapes: [{ kind: "capsule", radius: 0.07, from: [0.1, -0.03, 0.02], to: [0.1, 0.03, 0.02] }],
        colour: "#607080",
      },
      { skel: sk, perf, body: true },
    ],
    cameras: [{ id: "keittio", eye: [1.6, 1.45, 2.9], at: [-0.02, 0.9, 0.1], fov: 34 }],
  });
  if (bad) pop(b.doc, "o_kyynarvarsi", "rotation.z", 78, 9);
  b.doc.props = [
    { node: "kattila", mass: 1.9, heldBy: [{ node: "o_kasi", frames: [38, 125] }] },
    { node: "kuppi", mass: 0.2 },
    { node: "taso" },
  ];
  b.doc.contacts = [{ node: "v_kasi", with: "taso", frames: [1, LAST] }];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The full kettle weighs nothing: her arm goes for it and carries it, hips and back do not answer when it comes off the plate, nor when it goes down.",
    kind: "arm-alone",
    size: "strong",
    nodes: ["lantio", "ranka", "rinta"],
    frames: [22, 128],
    order: 1,
  },
  {
    what: "The kettle gets up by itself, eight frames before her hand is at it.",
    kind: "moves before it is held",
    size: "ordinary",
    nodes: ["kattila", "o_kasi"],
    frames: [29, 38],
    order: 2,
  },
  {
    what: "It goes down at one speed and stops dead on the plate, with a full kettle that would be set down.",
    kind: "hard-stop",
    size: "ordinary",
    nodes: ["kattila", "o_kasi", "o_kyynarvarsi", "o_olkavarsi"],
    frames: [104, 119],
    order: 4,
  },
  {
    what: "While she pours she looks at where the kettle stood, not at the cup.",
    kind: "look-misses",
    size: "ordinary",
    nodes: ["paa", "kaula"],
    frames: [56, 98],
    order: 3,
  },
  {
    what: "The hand that she leans on sinks into the worktop as she pours, and comes up again.",
    kind: "hand through surface",
    size: "ordinary",
    nodes: ["v_kasi", "v_sormet"],
    frames: [54, 108],
    order: 5,
  },
  {
    what: "A tick in the right forearm at 78, in the quiet of the pouring.",
    kind: "pop",
    size: "barely",
    nodes: ["o_kyynarvarsi", "o_kasi", "kattila"],
    frames: [77, 79],
    order: 6,
  },
  {
    what: "The fingers neither close on the handle nor open.",
    kind: "dead-fingers",
    size: "barely",
    nodes: ["o_sormet"],
    frames: [28, 134],
    order: 7,
  },
];
