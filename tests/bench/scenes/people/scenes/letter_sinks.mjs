// @ts-check

import { leap, pop } from "../../slips.mjs";
import { track } from "../kit/curve.mjs";
import { versions } from "../kit/declare.mjs";
import { lerp, ONE } from "../kit/math.mjs";
import { follow, makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "letter_sinks";
export const about =
  "A man reads a letter in his right hand. The news hits him; the hand with the letter sinks, he turns away to his left, shifts his weight there and lifts a helpless hand beside his head.";

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "cartero",
    stature: 1.74,
    spines: 3,
    words: {
      root: "cadera",
      spine: ["lomo", "espalda", "pecho"],
      neck: "cuello",
      head: "cabeza",
      end: "coronilla",
      clav: "clavicula",
      up: "brazo",
      fore: "antebrazo",
      hand: "mano",
      fing: "dedos",
      thigh: "muslo",
      shin: "pierna",
      foot: "pie",
      toe: "punta",
      tip: "punta_fin",
    },
    side: (w, s) => `${w}_${s === "L" ? "izq" : "der"}`,
    orders: { root: "yxz", spine: "yxz", neck: "yxz", arm: "xzy" },
  });
  const perf = /** @type {any} */ ({
    hips: {
      1: [-0.03, -0.014, 0],
      40: [-0.033, -0.015, 0],
      47: [-0.035, -0.022, 0.004],
      57: [-0.03, -0.009, -0.016],
      74: [-0.03, -0.014, -0.008],
      84: [-0.036, -0.02, -0.006],
      104: [0.042, -0.018, -0.002],
      116: [0.045, -0.024, 0.002],
      150: [0.043, -0.026, 0.002],
    },
    hipsRot: {
      1: [2, -2, -2],
      46: [3, -2, -2],
      57: [-2, 0, -1],
      80: [0, -2, -2],
      104: [1, 9, 3],
      150: [2, 10, 3],
    },
    spine: {
      1: [4, -3, 1],
      45: [6, -3, 1],
      57: [-2, -1, 0],
      82: [2, -3, 1],
      106: [7, 7, -2],
      124: [9, 8, -3],
      150: [9, 8, -3],
    },
    chest: {
      1: [8, -5, 2],
      46: [10, -6, 2],
      58: [-3, -3, 0],
      84: [3, -5, 1],
      109: [12, 13, -3],
      128: [15, 14, -4],
      150: [15, 14, -4],
    },
    neck: {
      1: [9, -6, 0],
      42: [10, -6, 0],
      54: [-3, -3, 0],
      72: [0, -4, 0],
      80: [1, -6, 0],
      96: [9, 15, 3],
      118: [16, 13, 4],
      150: [17, 12, 4],
    },
    head: {
      1: [14, -12, 0],
      14: [15, -6, 0],
      22: [14, -13, 1],
      34: [16, -7, 1],
      41: [17, -8, 1],
      53: [-6, -3, -1],
      70: [2, -6, 0],
      77: [4, -9, 0],
      92: [12, 24, 4],
      114: [20, 17, 6],
      150: [21, 15, 6],
    },
    footL: { 1: [0.125, 0, 0.01, 14] },
    footR: { 1: [-0.115, 0, 0, -13] },
    kneeL: { 1: 6 },
    kneeR: { 1: 6 },
    clavL: { 1: [0, 0], 84: [0, 0], 108: [9, -4], 150: [8, -4] },
    clavR: { 1: [2, 3], 46: [3, 4], 57: [6, 2], 78: [-3, 1], 150: [-4, 2] },
    armR: {
      1: [33, 22, -8, 92],
      44: [34, 21, -8, 94],
      56: [30, 30, 0, 102],
      64: [26, 28, 0, 88],
      77: [2, 13, 0, 17],
      84: [6, 14, 0, 24],
      94: [4, 14, 0, 20],
      150: [4, 14, 0, 20],
    },
    wristR: {
      1: [6, 0, 0],
      46: [8, 0, 0],
      58: [-4, 0, 0],
      67: [16, 4, 0],
      80: [-14, -4, 0],
      90: [6, 0, 0],
      150: [4, 0, 0],
    },
    fingR: { 1: 46, 56: 50, 80: 40, 150: 42 },
    armL: {
      1: [4, 10, 0, 18],
      54: [4, 11, 0, 22],
      80: [5, 11, 0, 20],
      88: [8, 15, 0, 30],
      100: [56, 46, 0, 98],
      110: [74, 58, 0, 132],
      118: [72, 56, 0, 128],
      127: [75, 58, 0, 133],
      136: [72, 56, 0, 129],
      150: [73, 57, 0, 131],
    },
    wristL: {
      1: [4, 0, 0],
      56: [6, 0, 0],
      90: [4, 0, 0],
      101: [-18, 0, 0],
      114: [14, 0, 0],
      122: [8, 0, 0],
      131: [15, 0, 0],
      150: [12, 0, 0],
    },
    fingL: { 1: 20, 57: 12, 92: 16, 103: 6, 116: 34, 124: 26, 133: 36, 150: 32 },
    opts: { kind: "bezier" },
  });
  if (bad) {
    // The shift of weight creeps, leaps and creeps on.
    const hips = track(perf.hips);
    const when = leap(84, 104, 94, 0.5);
    perf.hips = (/** @type {number} */ f) => hips(f > 84 && f < 104 ? when(f) : f);
    // The letter is held before the middle of the chest.
    Object.assign(perf.armR, { 1: [24, 4, -52, 98], 44: [25, 3, -52, 99], 56: [22, 10, -40, 104] });
    // The letter is flung out to the side on the frames of the other hand's rise.
    Object.assign(perf.armR, { 98: [5, 16, 0, 20], 110: [34, 78, 0, 26], 124: [3, 14, 0, 22] });
    perf.wristR[104] = [-26, 0, 0];
    perf.wristR[116] = [24, 0, 0];
    // Head and neck were keyed on the chest's frames, and only nod.
    for (const k of ["neck", "head"])
      for (const f of Object.keys(perf[k]).map(Number)) if (f > 70) delete perf[k][f];
    Object.assign(perf.neck, { 84: [1, -4, 0], 109: [7, -4, 0], 128: [8, -4, 0] });
    Object.assign(perf.head, { 84: [4, -6, 0], 109: [10, -6, 0], 128: [11, -6, 0] });
    for (const k of ["spine", "chest"])
      for (const f of Object.keys(perf[k]).map(Number))
        if (f > 100) perf[k][f] = [perf[k][f][0], perf[k][f][1] + 9, perf[k][f][2]];
    // The arm comes down at one speed into a pose that is held, wrist and all.
    for (const k of ["armR", "wristR"]) {
      const t = track(perf[k]);
      perf[k] = (/** @type {number} */ f) =>
        f < 66 || f > 97 ? t(f) : lerp(t(66), t(97), Math.min(1, (f - 66) / 10));
    }
  }
  const b = makeShot({
    name,
    fps: 24,
    last: 150,
    unit: 0.01,
    items: [
      { skel: sk, perf },
      {
        id: "carta",
        pose: follow([{ fig: "cartero", s: "R", from: 1, to: 150 }], () => ({ p: [0, 0, 0], q: ONE })),
        shapes: [{ kind: "box", size: [0.012, 0.2, 0.14], centre: [-0.02, -0.08, 0.02] }],
      },
    ],
    cameras: [{ id: "plano", eye: [0.9, 1.35, 4.2], at: [0, 1.02, 0], fov: 30 }],
  });
  if (bad) {
    pop(b.doc, "antebrazo_izq", "rotation.x", 123, 11);
  }
  b.doc.props = [{ node: "carta", mass: 0.02, heldBy: [{ node: "mano_der", frames: [1, 150] }] }];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "When he turns away, head and chest go as one block; the head has to lead and the chest to follow.",
    kind: "one-block",
    size: "ordinary",
    nodes: ["cabeza", "cuello", "pecho", "espalda"],
    frames: [76, 130],
    order: 3,
  },
  {
    what: "The weight jumps across: half of the way from one foot to the other is in a single frame.",
    kind: "spacing jumps",
    size: "ordinary",
    nodes: ["cadera"],
    frames: [90, 98],
    order: 1,
  },
  {
    what: "The arm with the letter drops and stops dead, nothing swings on in elbow or wrist.",
    kind: "hard-stop",
    size: "ordinary",
    nodes: ["brazo_der", "antebrazo_der", "mano_der"],
    frames: [66, 92],
    order: 4,
  },
  {
    what: "One frame at 123 where the left forearm kicks out.",
    kind: "pop",
    size: "ordinary",
    nodes: ["antebrazo_izq", "mano_izq", "dedos_izq"],
    frames: [122, 124],
    order: 2,
  },
  {
    what: "While he reads, hand and letter are before the chest and do not read; they want to be clear of the body.",
    kind: "hand lost in silhouette",
    size: "ordinary",
    nodes: ["mano_der", "dedos_der", "carta"],
    frames: [1, 60],
    order: 5,
  },
  {
    what: "Both arms make a big move at once: the letter is flung out while the other hand goes up to his head, and neither reads.",
    kind: "two moves compete",
    size: "ordinary",
    nodes: ["brazo_der", "antebrazo_der", "mano_der", "carta"],
    frames: [97, 124],
    order: 6,
  },
];
