// @ts-check

import { track } from "../../people/kit/curve.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { about as turnBy } from "../../people/kit/math.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { pop } from "../../slips.mjs";
import { grip, names, toEnd, unkeyed, without } from "../kit-A/write.mjs";

export const name = "melon_pass";
export const about =
  "A market woman holds out a melon of five kilos with both hands; a man takes it from below, gives a little under its weight, and draws it to his belly. Her arms come down, she nods to him.";

const LAST = 120;

/** @param {boolean} bad */
export function build(bad) {
  const one = skeleton({
    id: "vendedora",
    stature: 1.64,
    spines: 2,
    words: names(
      "quadril coluna/peito pescoco cabeca topo clavicula braco antebraco mao dedos coxa canela pe dedo_pe ponta_pe",
    ),
    space: "vend",
    orders: { root: "yxz", spine: "yxz", neck: "yxz" },
  });
  const two = skeleton({
    id: "cliente",
    stature: 1.77,
    spines: 2,
    words: names(
      "quadril coluna/peito pescoco cabeca topo clavicula braco antebraco mao dedos coxa canela pe dedo_pe ponta_pe",
    ),
    space: "clie",
    orders: { root: "yxz", spine: "yxz", neck: "yxz" },
  });
  const path = /** @type {any} */ ({
    1: [0.02, 1.02, -0.19],
    20: [0.02, 1.018, -0.192],
    29: [0.02, 1.005, -0.21],
    48: [0.0, 1.075, 0.03],
    56: [0, 1.07, 0.04],
    64: { v: [0, 1.045, 0.055], s: [0, -0.005, 0.003] },
    73: [0, 1.012, 0.11],
    94: [-0.01, 1.078, 0.335],
    102: [-0.01, 1.07, 0.342],
    [LAST]: [-0.012, 1.071, 0.34],
  });
  if (bad) {
    // It was never given its sinking; from hand to belly it goes in one line.
    delete path[64];
    delete path[73];
  }
  const place = track(path);
  const roll = track({ 1: 0, 30: -4, 48: 6, 64: 6, 92: -8, [LAST]: -8 });
  const melon = (/** @type {number} */ f) => ({ p: place(f), q: turnBy(0, roll(f)) });

  const a = /** @type {any} */ ({
    hips: {
      1: [0.012, -0.018, -0.535],
      20: [0.016, -0.02, -0.54],
      29: [0.014, -0.03, -0.55],
      47: [-0.008, -0.022, -0.475],
      60: [-0.006, -0.022, -0.47],
      72: [-0.002, -0.014, -0.49],
      92: [0.014, -0.016, -0.53],
      [LAST]: [0.02, -0.018, -0.53],
    },
    hipsRot: {
      1: [-2, 0, 0],
      28: [-3, -3, 0],
      46: [6, 3, 0],
      62: [6, 3, 0],
      90: [1, 0, 1],
      [LAST]: [1, -1, 1],
    },
    spine: { 1: [-3, 0, 0], 30: [-5, -3, 0], 48: [7, 3, 0], 63: [7, 3, 0], 82: [2, 0, 0], 98: [0, 0, 0] },
    chest: { 1: [-3, 1, 0], 31: [-5, -3, 0], 50: [8, 4, 0], 65: [8, 3, 0], 84: [2, 0, 0], 100: [-1, 1, 0] },
    neck: { 1: [2, 0, 0], 50: [-6, 0, 0], 84: [-2, 0, 0], 98: [0, 0, 0], 103: [5, 0, 0], 109: [-1, 0, 0] },
    head: {
      1: [2, 0, 0],
      50: [-4, -2, 0],
      86: [-3, 0, 3],
      96: [-4, 0, 3],
      101: [10, 0, 3],
      107: [-2, 0, 3],
      [LAST]: [0, 0, 4],
    },
    footL: { 1: [0.1, 0, -0.47, 8] },
    footR: { 1: [-0.095, 0, -0.56, -12] },
    clavL: { 1: [1, 2], 30: [2, 0], 49: [1, 12], 64: [1, 12], 84: [0, 0] },
    clavR: { 1: [1, 3], 31: [2, 0], 50: [1, 11], 66: [1, 11], 86: [0, 0] },
    armL: {
      1: [20, 12, -10, 70],
      68: [40, 16, 0, 36],
      78: [28, 16, 0, 42],
      96: [3, 9, 0, 17],
      104: [5, 9, 0, 20],
    },
    armR: {
      1: [20, 12, -10, 70],
      69: [40, 16, 0, 36],
      80: [32, 17, 0, 50],
      100: [5, 9, 0, 22],
      108: [3, 8, 0, 18],
    },
    wristL: { 1: [0, 0, 0], 74: [-12, 0, 0], 90: [-10, 0, 0], 101: [10, 0, 0], 111: [4, 0, 0] },
    wristR: { 1: [0, 0, 0], 76: [-14, 0, 0], 94: [-10, 0, 0], 105: [11, 0, 0], 115: [5, 0, 0] },
    fingL: { 1: 26, 62: 26, 69: 6, 82: 10, 100: 22 },
    fingR: { 1: 28, 63: 28, 71: 6, 84: 12, 104: 24 },
    look: {
      w: { 1: 1 },
      at: track({
        1: [0, 1.62, 0.5],
        10: [0, 1.62, 0.5],
        20: [0, 1.06, 0.0],
        66: [0, 1.06, 0.1],
        80: [0, 1.62, 0.52],
      }),
    },
    handL: grip(
      "melancia",
      "L",
      [0.132, -0.035, -0.02],
      [-0.1, -0.1, 1],
      [-1, 0.3, 0],
      { 1: 1, 65: 1, 84: 0 },
      [0.7, -0.6, -0.3],
    ),
    handR: grip(
      "melancia",
      "R",
      [-0.132, -0.035, -0.02],
      [0.1, -0.1, 1],
      [1, 0.3, 0],
      { 1: 1, 66: 1, 86: 0 },
      [-0.7, -0.6, -0.3],
    ),
    opts: { kind: "bezier" },
  });
  const c = /** @type {any} */ ({
    hips: {
      1: [-0.01, -0.014, 0.57],
      24: [-0.012, -0.015, 0.572],
      34: [-0.008, -0.02, 0.58],
      54: [0.008, -0.026, 0.53],
      62: [0.008, -0.03, 0.53],
      73: [0.006, -0.058, 0.568],
      90: [-0.004, -0.02, 0.615],
      102: [-0.008, -0.024, 0.61],
      [LAST]: [-0.01, -0.023, 0.61],
    },
    hipsRot: {
      1: [1, 180, 0],
      35: [0, 182, 0],
      54: [6, 177, 0],
      64: [6, 177, 0],
      73: [6, 178, 0],
      92: [-4, 181, 0],
      [LAST]: [-4, 181, 0],
    },
    spine: {
      1: [1, 0, 0],
      36: [-1, 2, 0],
      56: [7, -3, 0],
      66: [7, -2, 0],
      75: [8, 0, 0],
      95: [-5, 1, 0],
      [LAST]: [-5, 1, 0],
    },
    chest: {
      1: [2, 0, 0],
      38: [-1, 3, 0],
      58: [8, -4, 0],
      68: [8, -3, 0],
      78: [9, 0, 0],
      98: [-5, 2, 0],
      [LAST]: [-5, 1, 0],
    },
    neck: { 1: [0, 0, 0], 58: [-2, 0, 0], 96: [2, 0, 0] },
    head: { 1: [0, 0, 0], 60: [-2, 2, 2], 98: [0, 0, -3] },
    footL: { 1: [-0.11, 0, 0.6, 170] },
    footR: { 1: [0.11, 0, 0.5, 192] },
    kneeL: { 1: 6 },
    kneeR: { 1: 6 },
    clavL: { 1: [0, 0], 40: [0, 0], 56: [0, 12], 74: [-3, 10], 92: [0, 2] },
    clavR: { 1: [0, 0], 38: [0, 0], 54: [0, 12], 74: [-3, 10], 92: [0, 2] },
    armL: { 1: [3, 8, 0, 16], 28: [1, 8, 0, 14], 42: [22, 12, 0, 50], 54: [42, 12, 0, 44] },
    armR: { 1: [4, 8, 0, 20], 24: [2, 8, 0, 18], 38: [24, 12, 0, 56], 51: [42, 12, 0, 44] },
    wristL: { 1: [4, 0, 0], 36: [14, 0, 0], 48: [-6, 0, 0] },
    wristR: { 1: [4, 0, 0], 32: [14, 0, 0], 45: [-6, 0, 0] },
    fingL: { 1: 22, 46: 6, 57: 10, 66: 30 },
    fingR: { 1: 20, 43: 6, 54: 10, 65: 28 },
    look: {
      w: { 1: 1 },
      at: track({
        1: [0, 1.5, -0.5],
        16: [0, 1.5, -0.5],
        27: [0, 1.06, 0.02],
        88: [0, 1.06, 0.15],
        101: [0, 1.5, -0.52],
      }),
    },
    handL: grip(
      "melancia",
      "L",
      [-0.075, -0.112, 0.03],
      [0.25, -0.05, -1],
      [0.9, 1, 0],
      { 1: 0, 34: 0, 57: 1 },
      [0.5, -0.8, -0.3],
    ),
    handR: grip(
      "melancia",
      "R",
      [0.075, -0.112, 0.02],
      [-0.25, -0.05, -1],
      [-0.9, 1, 0],
      { 1: 0, 30: 0, 54: 1 },
      [-0.5, -0.8, -0.3],
    ),
    opts: { kind: "bezier" },
  });
  if (bad) {
    delete c.hips[73];
    without(c.spine, 70, 80);
    without(c.chest, 70, 80);
    a.handL.w = { 1: 1, 38: 1, 53: 0 };
    for (const k of ["arm", "wrist", "fing"]) {
      for (const f of Object.keys(a[`${k}R`]).map(Number)) if (f > 48) delete a[`${k}R`][f];
      for (const [f, v] of Object.entries(a[`${k}L`])) if (Number(f) > 48) a[`${k}R`][f] = v;
    }
    a.armL[52] = a.armR[52] = [20, 18, 0, 34];
    a.handR.w = a.handL.w;
    a.footR = { 1: [-0.095, 0, -0.56, -12], 72: [-0.095, 0, -0.56, -12], 92: [-0.088, 0, -0.605, -14] };
    c.handR.at = grip("melancia", "R", [0.05, -0.055, 0.02], [0, 0, -1], [0, 1, 0], {}).at;
  }
  toEnd(a, LAST);
  toEnd(c, LAST);
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 1,
    shot: { stage: "polish" },
    items: [
      {
        id: "melancia",
        pose: melon,
        must: [29, 48, 73, 94],
        shapes: [{ kind: "sphere", radius: 0.125 }],
        colour: "#307030",
      },
      { skel: one, perf: a, body: true },
      { skel: two, perf: c, body: true },
    ],
    cameras: [{ id: "feira", eye: [3.6, 1.3, 0.6], at: [0, 0.9, 0.03], fov: 32 }],
  });
  if (bad) {
    pop(b.doc, "clie:cabeca", "rotation.y", 108, 5);
    unkeyed(b.doc, (id) => id.startsWith("vend:"), 95);
  }
  full(b, {
    props: [
      {
        node: "melancia",
        mass: 5,
        heldBy: [
          { node: "vend:mao_l", frames: [1, 65] },
          { node: "vend:mao_r", frames: [1, 66] },
          { node: "clie:mao_l", frames: [57, LAST] },
          { node: "clie:mao_r", frames: [54, LAST] },
        ],
      },
    ],
    gazes: [{ figure: "cliente", at: "melancia", frames: [32, 78] }],
  });
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "She takes her hands off before his are there: five kilos hang in the air for the third of a second.",
    kind: "floating-prop",
    size: "strong",
    nodes: [
      "melancia",
      "vend:mao_l",
      "vend:mao_r",
      "clie:mao_l",
      "clie:mao_r",
      "vend:braco_l",
      "vend:braco_r",
    ],
    frames: [40, 58],
    order: 1,
  },
  {
    what: "The melon has no weight when he gets it: it goes straight up to his belly, and neither knees, hips nor back give.",
    kind: "no weight",
    size: "strong",
    nodes: ["melancia", "clie:quadril", "clie:coluna", "clie:peito"],
    frames: [58, 94],
    order: 2,
  },
  {
    what: "His right hand is inside the melon.",
    kind: "hand through prop",
    size: "ordinary",
    nodes: ["clie:mao_r", "melancia"],
    frames: [54, 120],
    order: 3,
  },
  {
    what: "Her two arms come down as mirror images, on the same frames.",
    kind: "twins",
    size: "ordinary",
    nodes: ["vend:braco_l", "vend:braco_r", "vend:antebraco_l", "vend:antebraco_r"],
    frames: [40, 95],
    order: 5,
  },
  {
    what: "From 95 she is a statue; the nod that should end the bargain was never keyed.",
    kind: "freeze",
    size: "ordinary",
    nodes: ["vend:quadril", "vend:coluna", "vend:peito", "vend:cabeca", "vend:braco_l", "vend:braco_r"],
    frames: [95, 120],
    order: 4,
  },
  {
    what: "Her right foot slides back though she stands on it.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["vend:pe_r", "vend:dedo_pe_r"],
    frames: [72, 92],
    order: 6,
  },
  {
    what: "His head twitches for one frame at 108.",
    kind: "pop",
    size: "barely",
    nodes: ["clie:cabeca"],
    frames: [107, 109],
    order: 7,
  },
];
