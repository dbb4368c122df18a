// @ts-check
import { full, versions } from "../../people/kit/declare.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { stopDead } from "../../slips.mjs";
import { has, keys, person, stand } from "../kit/parts.mjs";

export const name = "crate_kid";
export const about =
  "A child of four climbs onto a low crate: both hands on its top, the right foot up beside them, a bounce, a push, the left foot after it; it wobbles and stands, proud.";

const Z = 100;
const LAST = 244;
const TOP = 0.24;
/** Keys in the shot's own frames. @param {Record<number, any>} k */
const at = (k) => Object.fromEntries(Object.entries(k).map(([f, v]) => [Number(f) + Z, v]));

/** @param {import("../kit/parts.mjs").Bad} bad */
export function build(bad) {
  const sk = person(
    "kiddo",
    1.04,
    "DEF_root DEF_spn/DEF_thx DEF_nck DEF_skl DEF_skl_e clv hum rad hnd fgr fem tib tar met met_e",
    {
      side: (/** @type {string} */ w, /** @type {string} */ s) => `DEF_${w}.${s === "L" ? "l" : "r"}`,
      orders: { root: "zyx", leg: "xzy", arm: "yzx" },
      build: {
        head: 0.17,
        thigh: 0.215,
        shin: 0.215,
        neck: 0.035,
        shoulder: 0.11,
        up: 0.172,
        fore: 0.152,
        hip: 0.06,
      },
    },
  );
  const L = /** @type {any} */ ({});
  const R = /** @type {any} */ ({});
  stand(L, 95, 159, [0.065, 0, 0.0, 7]);
  stand(L, 172, 250, [0.075, TOP, 0.46, 10]);
  stand(R, 95, 128, [-0.065, 0, 0.015, -8]);
  stand(R, 142, 250, [-0.05, TOP, 0.43, -12]);
  // Out to the side and over the edge.
  R[133] = { v: [-0.15, 0.11, -0.02, -20], s: [-0.002, 0.03, 0.03, -1] };
  R[138] = { v: [-0.17, TOP + 0.012, 0.22, -22], s: [0.01, 0.002, 0.05, 0] };
  if (!has(bad, 2)) {
    L[164] = { v: [0.11, 0.17, 0.0, 14], s: [0.004, 0.042, 0.015, 0.8] };
    L[168] = { v: [0.12, TOP + 0.07, 0.24, 16], s: [-0.004, 0.004, 0.062, 0] };
  }
  const late = has(bad, 1) ? 1 : 0;
  const hand = (/** @type {"L" | "R"} */ s, /** @type {number} */ a, /** @type {number} */ b) => {
    const m = s === "L" ? 1 : -1;
    return {
      w: keys(`1: 0 | ${a - 13}: 0 | ${a}: 1 | ${b}: 1 | ${b + 12}: 0 | 144: 0`, Z),
      pole: [m * 0.8, -0.2, -0.6],
      at: () => [
        m * (s === "L" ? 0.15 : 0.17),
        TOP + 0.012 + (s === "R" && has(bad, 3) ? 0.055 : 0),
        s === "L" ? 0.4 : 0.43,
      ],
      rot: () => handTurn(s, [-m * 0.25, 0, 1], [0, -1, 0]),
    };
  };
  const perf = /** @type {any} */ ({
    alive: 0.8,
    leans: (/** @type {number} */ f) => f > Z + 18 && f < Z + 68,
    hips: at({
      1: [0, -0.016, 0.0],
      9: [0, -0.02, 0.0],
      16: [0.0, -0.075, -0.035],
      22: [0.008, -0.108, 0.0],
      26: [0.014, -0.11, 0.0],
      32: [0.035, -0.095, 0.02],
      38: [0.035, -0.078, 0.03],
      46: [0.01, -0.085, 0.06],
      51: [0.0, -0.12, 0.055],
      59: late ? [0.02, -0.03, 0.1] : [-0.03, -0.045, 0.22],
      64: late ? [0.0, 0.03, 0.22] : [-0.05, 0.018, 0.325],
      72: [-0.02, 0.075, 0.4],
      76: [0.0, 0.085, 0.42],
      88: [0.014, TOP - 0.012, 0.455],
      94: [-0.012, TOP - 0.03, 0.43],
      101: [0.006, TOP - 0.022, 0.455],
      109: [-0.002, TOP - 0.018, 0.445],
      144: [0, TOP - 0.016, 0.446],
    }),
    hipsRot: keys(
      "1: 0 0 0 | 9: 0 0 0 | 16: 12 0 0 | 23: 24 0 0 | 33: 26 3 3 | 41: 22 -4 6 | 51: 27 -2 3 | 59: 34 -4 0 | 66: 34 0 -5 | 73: 32 2 0 | 80: 22 0 0 | 89: -3 0 -2 | 95: 5 0 2 | 102: -1 0 -1 | 112: -2 0 0 | 144: -2 2 0",
      Z,
    ),
    spine: keys(
      "1: 2 0 0 | 10: 2 0 0 | 17: 15 0 0 | 24: 33 0 0 | 42: 33 0 -3 | 52: 34 0 0 | 60: 27 0 0 | 75: 18 0 0 | 82: 10 0 0 | 91: -7 0 3 | 97: 6 0 -3 | 104: -2 0 1 | 114: -4 0 0 | 144: -4 2 0",
      Z,
    ),
    chest: keys(
      "1: 2 0 0 | 11: 2 0 0 | 17: 13 0 0 | 25: 31 -3 0 | 42: 31 4 -2 | 53: 32 0 0 | 61: 24 0 0 | 76: 14 0 0 | 84: 8 0 0 | 92: -6 0 4 | 98: 7 0 -4 | 106: -2 0 0 | 117: -7 0 0 | 144: -6 3 0",
      Z,
    ),
    neck: keys(
      "1: 4 0 0 | 8: 8 0 0 | 27: -12 0 0 | 42: -8 -4 0 | 60: -14 0 0 | 77: -8 0 0 | 93: 3 0 -3 | 100: 6 0 2 | 118: -2 0 0 | 144: -2 3 0",
      Z,
    ),
    head: keys(
      "1: 4 0 0 | 8: 16 0 0 | 28: -16 0 0 | 36: -4 -10 0 | 44: 2 -8 2 | 53: -8 0 0 | 61: -16 0 0 | 70: 0 8 0 | 79: -4 0 0 | 94: 6 0 -4 | 101: 10 0 3 | 110: 6 0 0 | 121: -8 3 4 | 144: -7 4 4",
      Z,
    ),
    footL: L,
    footR: R,
    rollL: keys("1: 0 | 33: 0 | 51: 0 | 55: 18 | 59: 44 | 63: 48 | 68: 6 | 72: -4 | 75: 0", Z),
    rollR: keys("1: 0 | 22: 0 | 28: 26 | 32: 34 | 38: 4 | 42: -5 | 45: 0", Z),
    kneeL: keys("1: 4 | 55: 6 | 65: 32 | 74: 26 | 88: 8", Z),
    kneeR: keys("1: 4 | 27: 6 | 36: 60 | 44: 30 | 74: 24 | 88: 8", Z),
    armL: keys(
      "1: 4 12 0 16 | 9: 0 12 0 14 | 22: 70 14 0 40 | 62: 54 20 0 40 | 70: 52 34 0 46 | 78: 36 46 0 40 | 88: 12 66 0 26 | 94: 34 84 0 22 | 101: 8 58 0 28 | 110: 10 40 0 36 | 120: 20 112 0 34 | 127: 18 106 0 40 | 144: 18 108 0 38",
      Z,
    ),
    armR: keys(
      "1: 3 12 0 15 | 8: -2 12 0 14 | 24: 70 14 0 40 | 66: 54 20 0 40 | 73: 50 32 0 44 | 80: 32 44 0 40 | 89: 16 76 0 28 | 96: 28 68 0 24 | 103: 6 62 0 30 | 112: 10 40 0 38 | 123: 24 108 0 36 | 130: 20 101 0 42 | 144: 20 103 0 40",
      Z,
    ),
    wristL: keys(
      "1: 4 0 0 | 76: 4 0 0 | 84: 16 0 0 | 92: -12 0 0 | 99: 10 0 0 | 106: -4 0 0 | 114: 14 0 0 | 124: -10 0 0 | 134: 0 0 0 | 144: 0 0 0",
      Z,
    ),
    wristR: keys(
      "1: 4 0 0 | 78: 4 0 0 | 86: 14 0 0 | 94: -10 0 0 | 101: 10 0 0 | 108: -4 0 0 | 117: 14 0 0 | 127: -10 0 0 | 137: 0 0 0 | 144: 0 0 0",
      Z,
    ),
    fingL: keys("1: 22 | 18: 22 | 24: 4 | 62: 4 | 74: 20 | 88: 0 | 108: 20 | 122: 4 | 144: 6", Z),
    fingR: keys("1: 22 | 20: 22 | 27: 6 | 66: 6 | 78: 20 | 90: 0 | 110: 20 | 125: 4 | 144: 6", Z),
    clavL: keys("1: 0 0 | 26: 2 6 | 60: 4 3 | 74: 0 0 | 120: 10 0 | 144: 8 0", Z),
    clavR: keys("1: 0 0 | 29: 2 6 | 62: 4 3 | 76: 0 0 | 123: 10 0 | 144: 8 0", Z),
    handL: hand("L", 24, 56),
    handR: hand("R", 27, 58),
  });
  if (has(bad, 5)) perf.rollL = keys("1: 0 | 51: 0 | 55: 6 | 59: 16 | 63: 18 | 68: 2 | 72: -4 | 75: 0", Z);
  const b = makeShot({
    name,
    fps: 25,
    first: Z + 1,
    last: LAST,
    unit: 0.01,
    up: "z",
    items: [
      {
        id: "BOX_crate",
        still: [0, TOP / 2, 0.51],
        shapes: [{ kind: "box", size: [0.6, TOP, 0.42] }],
        colour: "#a07840",
      },
      { skel: sk, perf, body: true },
    ],
  });
  full(b, {
    surfaces: [
      {
        id: "crate_top",
        normal: [0, 0, 1],
        height: TOP * 100,
        edges: [
          [-30, -72],
          [30, -30],
        ],
      },
    ],
    contacts: [
      { node: "DEF_hnd.l", with: "crate_top", frames: [Z + 24, Z + 56] },
      { node: "DEF_hnd.r", with: "crate_top", frames: [Z + 27, Z + 58] },
    ],
  });
  for (const c of b.doc.contacts) {
    const side = c.node.slice(-1);
    if (/tar|met/.test(c.node) && c.frames[0] >= (side === "l" ? Z + 65 : Z + 40)) c.with = "crate_top";
  }
  if (has(bad, 4)) stopDead(b.doc, ["DEF_root", "DEF_spn", "DEF_thx"], "", Z + 82, Z + 86, Z + 110);
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The left foot comes up while the body still hangs back behind the crate; nobody gets up like that, the hips have to be over the right foot first.",
    kind: "no-weight-shift",
    size: "strong",
    nodes: ["DEF_root", "DEF_fem.l", "DEF_tib.l", "DEF_fem.r", "DEF_tib.r"],
    frames: [151, 172],
    order: 1,
  },
  {
    what: "The right hand hangs in the air over the crate and pushes on nothing.",
    kind: "hand-hovers",
    size: "ordinary",
    nodes: ["DEF_hnd.r", "DEF_rad.r", "DEF_hum.r"],
    frames: [115, 170],
    order: 3,
  },
  {
    what: "The left foot goes straight through the crate on its way up instead of round the edge.",
    kind: "through-crate",
    size: "strong",
    nodes: ["DEF_tar.l", "DEF_met.l", "DEF_tib.l", "DEF_fem.l"],
    frames: [159, 172],
    order: 2,
  },
  {
    what: "It comes up and freezes like a post, the wobble of a child on its own height isn't there.",
    kind: "dead-stop",
    size: "ordinary",
    nodes: ["DEF_root", "DEF_spn", "DEF_thx"],
    frames: [182, 210],
    order: 4,
  },
  {
    what: "The left foot comes off almost flat, it doesn't push off its toes.",
    kind: "flat-foot",
    size: "barely",
    nodes: ["DEF_tar.l", "DEF_met.l", "DEF_tib.l"],
    frames: [151, 170],
    order: 5,
  },
];
