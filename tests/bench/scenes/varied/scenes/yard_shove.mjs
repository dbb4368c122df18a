// @ts-check
import { heldThen, tick } from "../../mixed/kit/edits.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { add, turn } from "../../people/kit/math.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot, track } from "../../people/kit/shot.mjs";
import { has, keys, person, stand } from "../kit/parts.mjs";

export const name = "yard_shove";
export const about =
  "Two men in a yard: one swings his right fist, the other slips it, steps in and shoves him off with both hands; he staggers back two steps and finds his guard.";

const LAST = 112;
const WORDS = "hofte rygg/bryst nakke hode isse krage overarm underarm haand fingre laar legg fot taa tupp";

/** @param {any} t @param {number} a @param {number} b @param {number} lift */
function swing(t, a, b, lift) {
  const [p, q] = [t[a].v, t[b].v];
  const v = p.map((/** @type {number} */ x, /** @type {number} */ i) => (i === 1 ? lift : (x + q[i]) / 2));
  t[(a + b) / 2] = {
    v,
    s: v.map((/** @type {number} */ _, /** @type {number} */ i) =>
      i === 1 ? 0 : ((q[i] - p[i]) / (b - a)) * 1.4,
    ),
  };
}

/** @param {import("../kit/parts.mjs").Bad} bad */
function attacker(bad) {
  const coil = has(bad, 3) ? 0 : 1;
  const L = /** @type {any} */ ({});
  const R = /** @type {any} */ ({});
  stand(L, -5, 48, [0.1, 0, -0.3, 4]);
  stand(L, 58, 120, [0.1, 0, -0.78, 6]);
  stand(R, -5, 41, [-0.12, 0, -0.74, -38]);
  stand(R, 48, 120, [-0.15, 0, -1.24, -36]);
  swing(L, 48, 58, has(bad, 5) ? 0.002 : 0.06);
  swing(R, 41, 48, 0.07);
  return {
    alive: 0.7,
    leans: (/** @type {number} */ f) => f > 38 && f < 62,
    hips: {
      1: [-0.01, -0.075, -0.52],
      9: [-0.01, -0.08, -0.52],
      16: [-0.03, -0.085 - 0.015 * coil, -0.52 - 0.055 * coil],
      23: [0.03, -0.095, -0.4],
      26: [0.035, -0.1, -0.385],
      34: [0.0, -0.08, -0.5],
      39: [-0.01, -0.075, -0.525],
      43: { v: [-0.02, -0.075, -0.585], s: [0, 0, -0.03] },
      49: [-0.04, -0.13, -0.765],
      56: [-0.045, -0.145, -0.95],
      63: [-0.025, -0.12, -1.015],
      74: [-0.02, -0.085, -1.01],
      88: [-0.022, -0.078, -1.015],
      [LAST]: [-0.015, -0.08, -1.01],
    },
    hipsRot: keys(
      `1: 4 -16 0 | 8: 4 -16 0 | 15: 3 ${-16 - 13 * coil} 0 | 22: 8 16 0 | 25: 9 20 0 | 34: 5 -8 0 | 39: 2 -13 0 | 44: -7 -10 0 | 51: -3 -14 0 | 57: 9 -22 0 | 66: 8 -20 0 | 78: 4 -16 0 | 112: 4 -16 0`,
    ),
    spine: keys(
      `1: 6 -2 0 | 8: 6 -2 0 | 16: 4 ${-2 - 8 * coil} 0 | 23: 8 8 0 | 26: 9 10 0 | 35: 7 -2 0 | 40: 4 -3 0 | 44: -9 -2 0 | 50: 0 -2 0 | 58: 12 -3 0 | 68: 9 -2 0 | 80: 6 -2 0 | 112: 6 -2 0`,
    ),
    chest: keys(
      `1: 8 -4 0 | 8: 8 -4 0 | 17: 5 ${-4 - 14 * coil} 2 | 24: 8 20 2 | 27: 10 23 2 | 36: 9 -2 0 | 40: 7 -4 0 | 43: -11 -2 0 | 49: 6 -2 0 | 59: 16 -6 0 | 70: 11 -3 0 | 82: 7 -4 0 | 112: 8 -4 0`,
    ),
    neck: keys(
      "1: 0 8 0 | 16: 0 18 0 | 25: -4 -16 0 | 37: 0 7 0 | 41: 2 6 0 | 45: 15 5 0 | 52: -2 6 0 | 61: -10 10 0 | 76: -2 8 0 | 112: 0 8 0",
    ),
    head: keys(
      "1: -2 10 0 | 17: 0 20 0 | 26: -6 -16 2 | 37: -2 9 0 | 42: 4 8 0 | 46: 18 6 0 | 54: -8 8 0 | 63: -12 12 0 | 78: -3 10 0 | 112: -2 10 0",
    ),
    footL: L,
    footR: R,
    rollL: keys("1: 0 | 43: 0 | 46: -8 | 49: -10 | 54: 8 | 58: 12 | 64: 0"),
    rollR: keys(
      "1: 16 | 10: 16 | 16: 6 | 22: 34 | 27: 38 | 35: 16 | 40: 8 | 44: 14 | 49: 22 | 54: 8 | 68: 14 | 112: 14",
    ),
    kneeL: { 1: 10 },
    kneeR: { 1: 10 },
    clavL: keys("1: 4 6 | 112: 4 6"),
    clavR: keys(`1: 4 4 | 9: 4 4 | 16: 2 ${4 - 8 * coil} | 23: 4 16 | 35: 4 4 | 112: 4 4`),
    armL: keys(
      "1: 46 16 -24 104 | 9: 46 16 -24 104 | 17: 56 14 -26 100 | 25: 30 20 -22 116 | 36: 46 16 -24 104 | 41: 48 18 -20 98 | 48: 64 42 -6 46 | 55: 40 50 -4 44 | 66: 48 24 -20 92 | 78: 46 16 -24 106 | 112: 46 16 -24 104",
    ),
    armR: keys(
      `1: 34 18 -26 116 | 9: 34 18 -26 116 | 17: ${34 - 30 * coil} ${18 + 12 * coil} ${-26 + 14 * coil} ${116 + 6 * coil} | 20.5: 60 30 -14 78 | 24: 90 8 -6 12 | 26: 88 2 -14 16 | 31: 56 16 -24 70 | 38: 34 18 -26 114 | 42: 34 22 -22 108 | 49: 50 52 -4 56 | 57: 22 46 -8 60 | 68: 36 24 -22 108 | 80: 34 18 -26 117 | 112: 34 18 -26 116`,
    ),
    wristL: keys("1: 6 0 0 | 44: 6 0 0 | 52: -14 0 0 | 60: 10 0 0 | 76: 6 0 0"),
    wristR: keys("1: 6 0 0 | 17: 14 0 0 | 25: 0 0 0 | 44: 6 0 0 | 53: -12 0 0 | 62: 10 0 0 | 78: 6 0 0"),
    fingL: keys("1: 80 | 43: 80 | 50: 20 | 60: 40 | 74: 80"),
    fingR: keys("1: 84 | 44: 84 | 51: 24 | 61: 40 | 76: 84"),
  };
}

/** @param {import("../kit/parts.mjs").Bad} bad */
function defender(bad) {
  const d = has(bad, 4) ? 6 : 0;
  const L = /** @type {any} */ ({});
  const R = /** @type {any} */ ({});
  stand(L, -5, 33, [-0.1, 0, 0.45, 184]);
  stand(L, 40, 120, [-0.1, 0, 0.0, 182]);
  stand(R, -5, 47, [0.13, 0, 0.78, 146]);
  stand(R, 55, 120, [0.13, 0, 0.5, 148]);
  swing(R, 47, 55, 0.04);
  swing(L, 33, 40, 0.05);
  // A hand's breadth too short, on the flawed one.
  const gap = has(bad, 1) ? 0.13 : 0;
  const hand = (/** @type {"L" | "R"} */ s) => {
    const m = s === "L" ? -1 : 1;
    return {
      w: keys("1: 0 | 30: 0 | 39: 1 | 43: 1 | 54: 0 | 112: 0"),
      pole: [s === "L" ? 0.8 : -0.8, -0.8, 0],
      at: (/** @type {number} */ f, /** @type {any} */ env) => {
        const c = env.joint("rode", "chest", Math.max(39, Math.min(43, f)));
        return add(add(c.p, turn(c.q, [m * 0.085, 0.09, 0.15])), [0, 0, gap]);
      },
      rot: () => handTurn(s, [m * 0.25, 0.9, -0.35], [0, 0.25, -1]),
    };
  };
  return {
    alive: 0.7,
    leans: (/** @type {number} */ f) => f > 36 && f < 56,
    hips: {
      1: [0.01, -0.07, 0.61],
      [17 + d]: [0.01, -0.075, 0.61],
      [24 + d]: [0.035, -0.13, 0.65],
      [29 + d * 0.6]: [0.03, -0.135, 0.64],
      33: [0.02, -0.13, 0.58],
      39: { v: [0.0, -0.165, 0.275], s: [0, -0.002, -0.03] },
      44: [0, -0.17, 0.185],
      52: [0.005, -0.13, 0.18],
      66: [0.01, -0.09, 0.23],
      [LAST]: [0.01, -0.085, 0.235],
    },
    hipsRot: keys(
      `1: 4 166 0 | ${16 + d}: 4 166 0 | ${23 + d}: -3 154 2 | ${28 + d * 0.6}: -2 152 2 | 34: 3 160 0 | 39: 14 176 0 | 44: 18 180 0 | 56: 8 172 0 | 70: 4 166 0 | 112: 4 167 0`,
    ),
    spine: keys(
      `1: 6 -2 0 | ${16 + d}: 6 -2 0 | ${23 + d}: -5 -6 -9 | ${28 + d * 0.6}: -4 -7 -8 | 35: 0 -4 -2 | 40: 11 3 0 | 45: 16 4 0 | 58: 8 0 0 | 72: 5 -2 0 | 112: 6 -2 0`,
    ),
    chest: keys(
      `1: 8 -3 0 | ${17 + d}: 8 -3 0 | ${24 + d}: -8 -9 -13 | ${29 + d * 0.6}: -7 -9 -12 | 36: -3 -4 -2 | 40: 9 3 0 | 46: 16 4 0 | 60: 8 0 0 | 75: 6 -3 0 | 112: 8 -3 0`,
    ),
    neck: keys(
      `1: 0 7 0 | ${18 + d}: 0 7 0 | ${25 + d}: 8 12 5 | 35: 2 8 2 | 43: -10 -2 0 | 50: -14 -2 0 | 66: -4 6 0 | 112: 0 6 0`,
    ),
    head: keys(
      `1: -3 8 0 | ${18 + d}: -3 8 0 | ${26 + d}: 8 14 6 | 36: 0 10 2 | 44: -10 -2 0 | 52: -12 -3 0 | 68: -4 7 0 | 112: -3 7 0`,
    ),
    footL: L,
    footR: R,
    rollL: keys("1: 0 | 28: 0 | 33: 12 | 35: 14 | 40: -8 | 43: 0"),
    rollR: keys(
      `1: 14 | ${18 + d}: 14 | ${25 + d}: 2 | 33: 8 | 40: 38 | 47: 46 | 50: 36 | 55: 18 | 64: 14 | 112: 14`,
    ),
    kneeL: { 1: 10 },
    kneeR: { 1: 10 },
    armL: keys(
      "1: 44 16 -22 102 | 16: 44 16 -22 102 | 24: 58 22 -20 112 | 33: 30 20 -14 118 | 58: 62 14 -10 62 | 72: 40 16 -18 92 | 92: 24 14 -12 66 | 112: 22 14 -12 64",
    ),
    armR: keys(
      "1: 36 16 -24 114 | 17: 36 16 -24 114 | 25: 50 26 -26 118 | 33: 26 22 -14 122 | 59: 56 18 -10 64 | 75: 34 16 -18 98 | 96: 18 14 -12 70 | 112: 16 14 -12 68",
    ),
    handL: hand("L"),
    handR: hand("R"),
    wristL: keys("1: 6 0 0 | 56: 6 0 0 | 66: 14 0 0 | 84: 4 0 0"),
    wristR: keys("1: 6 0 0 | 57: 6 0 0 | 68: 14 0 0 | 88: 4 0 0"),
    fingL: keys("1: 60 | 30: 60 | 38: 4 | 50: 8 | 70: 44"),
    fingR: keys("1: 62 | 31: 62 | 39: 4 | 50: 10 | 72: 50"),
  };
}

/** @param {import("../kit/parts.mjs").Bad} bad */
export function build(bad) {
  const man = (/** @type {string} */ id, /** @type {number} */ h, /** @type {string} */ space) =>
    person(id, h, WORDS, {
      space,
      side: (/** @type {string} */ w, /** @type {string} */ s) => `${w}_${s === "L" ? "V" : "H"}`,
      orders: { root: "yxz", arm: "yxz", spine: "yxz" },
    });
  const b = makeShot({
    name,
    fps: 30,
    last: LAST,
    shot: { stage: "splining" },
    items: [
      { skel: man("rode", 1.8, "rode"), perf: attacker(bad) },
      { skel: man("graa", 1.74, "graa"), perf: defender(bad) },
    ],
    cameras: [
      {
        id: "profil",
        eye: [-5.2, 1.25, 0],
        at: track(keys("1: 0 1.0 0.05 | 40: 0 1 0 | 66: 0 0.98 -0.2 | 112: 0 0.98 -0.22")),
        fov: 34,
      },
    ],
  });
  full(b, {
    contacts: ["V", "H"].map((s) => ({ node: `graa:haand_${s}`, with: "rode:bryst", frames: [39, 43] })),
  });
  if (has(bad, 2))
    for (const n of ["rode:rygg", "rode:bryst", "rode:nakke", "rode:hode"])
      heldThen(b.doc, n, "rotation.x", 38, 64, 74);
  if (has(bad, 6)) tick(b.doc, "rode:hode", "rotation", 90, 3);
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The palms stop a hand's breadth before the chest; he is thrown by air.",
    kind: "no-contact",
    size: "strong",
    nodes: [
      "graa:haand_V",
      "graa:haand_H",
      "graa:underarm_V",
      "graa:underarm_H",
      "graa:overarm_V",
      "graa:overarm_H",
    ],
    frames: [31, 55],
    order: 1,
  },
  {
    what: "The shove goes through him as through a post: chest, neck and head don't give, he travels back in one piece.",
    kind: "one-block",
    size: "strong",
    nodes: ["rode:rygg", "rode:bryst", "rode:nakke", "rode:hode"],
    frames: [39, 73],
    order: 2,
  },
  {
    what: "The punch comes out of nothing: he doesn't coil before it, so that there is nothing behind it.",
    kind: "no-anticipation",
    size: "ordinary",
    nodes: ["rode:hofte", "rode:rygg", "rode:bryst", "rode:overarm_H"],
    frames: [9, 22],
    order: 3,
  },
  {
    what: "He slips the punch when it has already gone by.",
    kind: "late-reaction",
    size: "ordinary",
    nodes: ["graa:hofte", "graa:rygg", "graa:bryst", "graa:hode", "graa:nakke"],
    frames: [17, 39],
    order: 4,
  },
  {
    what: "His left foot is dragged back over the ground instead of stepping.",
    kind: "foot-drag",
    size: "ordinary",
    nodes: ["rode:fot_V", "rode:taa_V", "rode:legg_V", "rode:laar_V"],
    frames: [48, 59],
    order: 5,
  },
  {
    what: "A tick of the head while he stands in his guard at the end.",
    kind: "pop",
    size: "barely",
    nodes: ["rode:hode"],
    frames: [89, 91],
    order: 6,
  },
];
