// @ts-check
import { full, versions } from "../../people/kit/declare.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { has, keys, person } from "../kit/parts.mjs";

export const name = "stop_bang";
export const about =
  "Blocking. Three wait in a row; something bangs to their left. The nearest starts, the second sees her start, the third looks up from his hands last.";

const POSES = [1001, 1013, 1019, 1023, 1029, 1035, 1041, 1047, 1055, 1067, 1081];
const WORDS =
  "medence derek/mellkas nyak fej fejteto kulcs felkar alkar kez ujj comb labszar labfej labujj vege";
const Z = 1000;

/** One who waits: rows for each pose that he has, and places for his feet. @param {any} o */
const waiting = ({ x, feet, late = 0, ...rows }) => ({
  alive: 0,
  footL: feet.L ?? { 1: [x + 0.09, 0, 0.02, 9] },
  footR: feet.R ?? { 1: [x - 0.09, 0, 0, -9] },
  kneeL: { 1: 6 },
  kneeR: { 1: 6 },
  ...Object.fromEntries(Object.entries(rows).map(([k, text]) => [k, keys(text, Z - late)])),
});

/** @param {import("../kit/parts.mjs").Bad} bad */
export function build(bad) {
  const body = (/** @type {string} */ id, /** @type {number} */ h, /** @type {any} */ more = {}) =>
    person(id, h, WORDS, {
      space: id,
      side: (/** @type {string} */ w, /** @type {string} */ s) => `${w}${s === "L" ? "B" : "J"}`,
      orders: { root: "yxz" },
      ...more,
    });
  const slide = has(bad, 4) ? 0.13 : 0;
  const nearest = waiting({
    x: 0.85,
    feet: {
      R: { 1027: [0.76, 0, 0, -9], 1029: [0.6, 0, -0.2, -20] },
      L: { 1040: [0.94, 0, 0.02, 9], 1041: [0.94 - slide, 0, 0.02 - slide * 0.5, 9] },
    },
    hips: "1: 0.87 -0.014 0 | 13: 0.835 -0.014 0.005 | 19: 0.84 -0.05 0.005 | 23: 0.815 -0.02 -0.02 | 29: 0.745 -0.065 -0.1 | 35: 0.742 -0.07 -0.1 | 41: 0.76 -0.055 -0.09 | 55: 0.78 -0.045 -0.085 | 81: 0.785 -0.042 -0.085",
    hipsRot:
      "1: 0 0 -2 | 13: 0 0 2 | 19: 5 4 1 | 23: -2 14 2 | 29: -4 22 2 | 41: -2 22 1 | 55: 0 20 0 | 81: 0 20 0",
    spine:
      "1: 1 0 2 | 13: 1 0 -2 | 19: 9 2 -1 | 23: -4 4 4 | 29: -7 6 5 | 41: -2 6 3 | 55: 3 6 1 | 67: 4 6 0 | 81: 4 7 0",
    chest:
      "1: 1 0 2 | 13: 1 0 -2 | 19: 10 2 -1 | 23: -5 8 5 | 29: -8 10 6 | 41: -1 10 3 | 55: 4 10 1 | 67: 5 11 0 | 81: 5 12 0",
    neck: "1: 1 -4 0 | 13: 1 6 0 | 19: 8 6 0 | 23: -2 22 -2 | 29: -5 26 -3 | 41: 0 26 -2 | 55: 2 24 0 | 67: -2 24 0 | 81: -2 22 0",
    head: "1: 2 -8 1 | 13: 2 9 -1 | 19: 10 6 0 | 23: -3 30 -3 | 29: -6 28 -4 | 41: 0 27 -3 | 55: 3 26 4 | 67: -4 26 4 | 81: -4 24 4",
    clavL: "1: 0 0 | 19: 3 2 | 23: 12 2 | 29: 13 0 | 41: 7 0 | 55: 2 0",
    clavR: "1: 0 0 | 19: 3 2 | 23: 11 4 | 29: 12 4 | 41: 7 2 | 55: 2 0",
    armL: "1: 3 8 0 16 | 13: 5 8 0 18 | 19: 10 10 0 30 | 23: 24 34 -10 76 | 29: 34 40 -14 92 | 41: 26 24 -16 80 | 55: 12 12 -8 44 | 81: 6 9 0 24",
    armR: "1: 20 10 -40 82 | 13: 20 10 -40 84 | 19: 24 10 -40 92 | 23: 42 22 -30 108 | 29: 50 18 -34 122 | 41: 50 14 -36 124 | 55: 48 12 -36 122 | 81: 46 12 -36 118",
    fingL: "1: 20 | 23: 2 | 41: 12 | 55: 22",
  });
  // The second looks at her first, then where she looks.
  const early = has(bad, 1) ? 6 : 0;
  const still = has(bad, 2);
  const second = waiting({
    x: 0,
    feet: {},
    late: early,
    hips: still
      ? "1: -0.02 -0.02 0.005 | 81: -0.02 -0.02 0.005"
      : "1: -0.02 -0.02 0.005 | 23: -0.022 -0.022 0.005 | 29: -0.012 -0.055 0.01 | 35: -0.045 -0.03 -0.01 | 41: -0.05 -0.036 -0.012 | 55: 0.03 -0.024 0.012 | 81: 0.034 -0.022 0.014",
    hipsRot: "1: 0 0 2 | 23: 0 2 2 | 29: 4 6 1 | 35: -2 10 3 | 41: -2 11 3 | 55: 2 16 -2 | 81: 2 17 -2",
    spine:
      "1: 2 0 -2 | 23: 2 2 -2 | 29: 8 4 -2 | 35: -4 6 6 | 41: -4 6 6 | 55: 6 8 -3 | 67: 7 8 -3 | 81: 7 9 -3",
    chest:
      "1: 3 0 -2 | 23: 3 3 -2 | 29: 8 6 -2 | 35: -4 10 8 | 41: -4 10 8 | 55: 8 14 -4 | 67: 10 15 -4 | 81: 10 16 -4",
    neck: "1: 2 0 0 | 23: 2 12 0 | 29: 6 18 0 | 35: -3 20 -2 | 41: -3 22 -2 | 55: 0 20 3 | 81: 0 20 3",
    head: "1: 4 -2 0 | 23: 3 22 -2 | 29: 6 26 0 | 35: -4 22 -4 | 41: -4 28 -4 | 55: -2 24 5 | 67: 0 25 6 | 81: 0 24 6",
    clavL: "1: 0 0 | 29: 2 0 | 35: 9 2 | 41: 9 2 | 55: 2 4",
    clavR: "1: 0 0 | 29: 2 0 | 35: 8 2 | 41: 8 2 | 55: 2 0",
    armL: "1: -14 14 30 34 | 23: -14 14 30 34 | 29: -8 14 26 40 | 35: 10 30 0 62 | 41: 12 31 0 64 | 55: 4 14 0 34 | 81: 4 12 0 30",
    armR: `1: -14 14 30 36 | 23: -14 14 30 36 | 29: -10 14 26 40 | 35: 8 22 0 48 | 41: 8 22 0 50 | 55: ${has(bad, 5) ? "8 22 0 50 | 81: 8 22 0 50" : "0 10 0 24 | 81: 0 9 0 22"}`,
    fingL: "1: 40 | 29: 30 | 35: 4 | 55: 18",
    fingR: "1: 40 | 29: 30 | 35: 6 | 55: 20",
  });
  const all = has(bad, 1) ? 18 : 0;
  const w = has(bad, 3) ? -1 : 1;
  const third = waiting({
    x: -0.82,
    feet: {},
    late: all,
    hips: "1: -0.8 -0.03 0.0 | 35: -0.8 -0.03 0 | 41: -0.806 -0.055 0.005 | 47: -0.835 -0.016 -0.012 | 55: -0.84 -0.022 -0.014 | 67: -0.79 -0.02 0.008 | 81: -0.786 -0.018 0.008",
    hipsRot: "1: 0 0 -3 | 35: 0 0 -3 | 41: 3 2 -1 | 47: -3 8 2 | 55: -3 9 2 | 67: 0 12 -2 | 81: 0 13 -2",
    spine: "1: 8 0 2 | 35: 8 0 2 | 41: 12 1 1 | 47: -4 5 4 | 55: -4 5 4 | 67: 3 7 -1 | 81: 3 7 -1",
    chest: "1: 10 0 3 | 35: 10 1 3 | 41: 14 2 2 | 47: -5 9 6 | 55: -5 9 6 | 67: 4 11 -2 | 81: 4 12 -2",
    neck: `1: 12 0 0 | 35: 12 ${4 * w} 0 | 41: 14 ${8 * w} 0 | 47: -3 ${22 * w} -2 | 55: -3 ${24 * w} -2 | 67: 0 ${24 * w} 2 | 81: 0 ${24 * w} 2`,
    head: `1: 18 0 2 | 35: 17 ${6 * w} 2 | 41: 16 ${12 * w} 0 | 47: -5 ${30 * w} -3 | 55: -5 ${32 * w} -3 | 67: -2 ${28 * w} 5 | 81: -2 ${27 * w} 6`,
    clavL: "1: 0 4 | 41: 2 4 | 47: 10 2 | 55: 9 2 | 67: 2 3",
    clavR: "1: 0 4 | 41: 2 4 | 47: 11 2 | 55: 10 2 | 67: 2 3",
    armL: "1: 26 10 -30 88 | 35: 26 10 -30 88 | 41: 28 10 -30 94 | 47: 36 26 -20 104 | 55: 34 25 -20 102 | 67: 18 12 -24 78 | 81: 16 12 -24 76",
    armR: "1: 30 8 -34 84 | 35: 31 8 -34 85 | 41: 33 8 -34 90 | 47: 30 30 -16 92 | 55: 28 29 -16 92 | 67: 12 12 -12 48 | 81: 10 11 -10 44",
    fingL: "1: 50 | 47: 24 | 67: 44",
    fingR: "1: 34 | 47: 4 | 67: 20",
  });
  const b = makeShot({
    name,
    fps: 24,
    first: Z + 1,
    last: Z + 96,
    poses: POSES,
    shot: { stage: "blocking" },
    items: [
      { skel: body("mari", 1.62), perf: nearest },
      { skel: body("bela", 1.78), perf: second },
      { skel: body("gyuri", 1.7, { build: { shoulder: 0.11 } }), perf: third },
    ],
    cameras: [{ id: "kozep", eye: [0.2, 1.3, 5.4], at: [0.05, 0.95, 0], fov: 28 }],
  });
  return full(b);
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "They all jump at once; it has to run down the row, she first, then the tall one, the man with the phone last.",
    kind: "all-at-once",
    size: "strong",
    nodes: ["bela:medence", "bela:mellkas", "bela:fej", "gyuri:medence", "gyuri:mellkas", "gyuri:fej"],
    frames: [1001, 1067],
    order: 1,
  },
  {
    what: "The tall one recoils from the waist only, his hips never leave the spot, the key isn't set.",
    kind: "missing-key",
    size: "ordinary",
    nodes: ["bela:medence"],
    frames: [1023, 1096],
    order: 2,
  },
  {
    what: "Her left foot jumps inward in the settle with her weight on it.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["mari:labfejB", "mari:labujjB", "mari:combB", "mari:labszarB"],
    frames: [1041, 1096],
    order: 4,
  },
  {
    what: "The last one looks the wrong way, out of the picture and away from the bang.",
    kind: "wrong-look",
    size: "strong",
    nodes: ["gyuri:fej", "gyuri:nyak"],
    frames: [1013, 1096],
    order: 3,
  },
  {
    what: "His right arm still has the start in it in the last pose, it was copied on.",
    kind: "left-over",
    size: "barely",
    nodes: ["bela:felkarJ", "bela:alkarJ"],
    frames: [1047, 1096],
    order: 5,
  },
];
