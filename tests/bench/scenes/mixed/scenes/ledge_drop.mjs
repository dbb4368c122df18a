// @ts-check

import { erase, retime } from "../../mixed/kit/edits.mjs";
import { track } from "../../people/kit/curve.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";

export const name = "ledge_drop";
export const about =
  "A woman looks down from a ledge of 90 cm, crouches, jumps down, lands on both feet, gives way deep in the knees and stands up.";

const EDGE = 0.9;

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "nova",
    stature: 1.72,
    spines: 2,
    words: {
      root: "base",
      spine: ["lumbar", "thorax"],
      neck: "cervix",
      head: "cranium",
      end: "vertex",
      clav: "collar",
      up: "humerus",
      fore: "ulna",
      hand: "carpus",
      fing: "digits",
      thigh: "femur",
      shin: "tibia",
      foot: "tarsus",
      toe: "hallux",
      tip: "hallux_end",
    },
    side: (w, s) => `${w}${s === "L" ? "_sin" : "_dex"}`,
    orders: { root: "yxz", spine: "yxz", arm: "xzy" },
  });
  const perf = /** @type {any} */ ({
    hips: {
      1: [0.005, EDGE - 0.014, -0.1],
      12: [-0.004, EDGE - 0.016, -0.1],
      25: [0, EDGE - 0.26, -0.13],
      28: [0, EDGE - 0.27, -0.11],
      34: { v: [0, EDGE + 0.006, 0.08], in: [0, 0.048, 0.052], out: [0, -0.066, 0.054] },
      41: { v: [0, EDGE * 0.5 - 0.03, 0.455], s: [0, -0.065, 0.054] },
      49: { v: [0, -0.12, 0.88], in: [0, -0.07, 0.054], out: [0, -0.13, 0.048] },
      51: { v: [0, -0.29, 0.965], s: [0, -0.07, 0.032] },
      54: [0, -0.4, 1.01],
      58: [0, -0.375, 1.0],
      72: [0.012, -0.04, 1.06],
      80: [0.004, -0.02, 1.05],
      100: [-0.004, -0.014, 1.05],
    },
    hipsRot: {
      1: [0, 0, 0],
      12: [3, 0, 0],
      26: [26, 0, 0],
      34: [10, 0, 0],
      42: [4, 0, 0],
      49: [8, 0, 0],
      54: [26, 0, 0],
      59: [25, 0, 0],
      74: [2, 0, 0],
      100: [0, 0, 0],
    },
    spine: {
      1: [2, 0, 0],
      12: [6, 0, 0],
      27: [14, 0, 0],
      35: [-6, 0, 0],
      43: [6, 2, 0],
      50: [8, 0, 0],
      55: [20, 0, 0],
      61: [17, 0, 0],
      76: [1, 0, 0],
      100: [1, 0, 0],
    },
    chest: {
      1: [2, 0, 0],
      12: [8, 0, 0],
      28: [12, 0, 0],
      36: [-8, 0, 0],
      44: [5, 3, 0],
      51: [5, 0, 0],
      57: [16, 0, 0],
      63: [14, 0, 0],
      78: [-1, 0, 0],
      100: [0, 0, 0],
    },
    neck: {
      1: [4, 0, 0],
      13: [14, 0, 0],
      28: [-6, 0, 0],
      40: [4, 0, 0],
      52: [4, 0, 0],
      60: [-8, 0, 0],
      80: [0, 0, 0],
    },
    head: {
      1: [6, 0, 0],
      14: [20, 0, 0],
      28: [-8, 0, 0],
      40: [12, 0, 0],
      50: [6, 0, 0],
      57: [2, 0, 0],
      66: [-14, 0, 0],
      80: [0, 0, 0],
    },
    footL: {
      1: [0.1, EDGE, -0.12, 6],
      34: { v: [0.1, EDGE, -0.12, 6], in: [0, 0, 0, 0], out: [0, -0.082, 0.03, 0] },
      41: { v: [0.11, 0.62, 0.44, 6], s: [0, -0.07, 0.09, 0] },
      49: { v: [0.11, 0, 1.0, 8], in: [0, -0.06, 0.05, 0], out: [0, 0, 0, 0] },
    },
    footR: {
      1: [-0.1, EDGE, -0.13, -6],
      34: { v: [-0.1, EDGE, -0.13, -6], in: [0, 0, 0, 0], out: [0, -0.082, 0.025, 0] },
      41: { v: [-0.11, 0.58, 0.38, -6], s: [0, -0.065, 0.09, 0] },
      49: { v: [-0.11, 0, 0.97, -8], in: [0, -0.06, 0.055, 0], out: [0, 0, 0, 0] },
    },
    rollL: { 1: 0, 27: 0, 34: 34, 39: 40, 45: 26, 49: 14, 52: 0 },
    rollR: { 1: 0, 27: 0, 34: 34, 39: 44, 45: 28, 49: 14, 52: 0 },
    toesL: { 34: 0, 35: { v: -29, s: 6 }, 40: 0 },
    toesR: { 34: 0, 35: { v: -29, s: 6 }, 40: 0 },
    kneeL: { 1: 8, 28: 14, 49: 12, 54: 18, 74: 8 },
    kneeR: { 1: 8, 28: 14, 49: 12, 54: 18, 74: 8 },
    floor: (/** @type {number} */ f) => (f < 42 ? EDGE : 0),
    air: [[34, 49]],
    clavL: { 1: [0, 0], 30: [0, 0], 38: [8, 0], 52: [0, 3], 80: [0, 0] },
    clavR: { 1: [0, 0], 30: [0, 0], 39: [7, 0], 53: [0, 3], 80: [0, 0] },
    armL: {
      1: [3, 8, 0, 14],
      13: [8, 10, 0, 22],
      27: [-48, 14, 0, 26],
      36: [46, 34, 0, 40],
      43: [60, 52, 0, 46],
      51: [34, 34, 0, 44],
      57: [14, 22, 0, 40],
      66: [10, 16, 0, 34],
      82: [3, 8, 0, 16],
    },
    armR: {
      1: [4, 7, 0, 18],
      13: [5, 8, 0, 20],
      27: [-40, 18, 0, 34],
      37: [34, 46, 0, 30],
      44: [40, 66, 0, 30],
      52: [22, 46, 0, 36],
      58: [26, 18, 0, 52],
      67: [18, 14, 0, 40],
      84: [4, 8, 0, 18],
    },
    wristL: {
      1: [4, 0, 0],
      27: [10, 0, 0],
      38: [20, 0, 0],
      45: [-22, 0, 0],
      53: [18, 0, 0],
      60: [-6, 0, 0],
      84: [4, 0, 0],
    },
    wristR: {
      1: [5, 0, 0],
      27: [12, 0, 0],
      39: [18, 0, 0],
      46: [-26, 0, 0],
      54: [16, 0, 0],
      61: [-4, 0, 0],
      84: [4, 0, 0],
    },
    fingL: { 1: 20, 26: 30, 40: 6, 54: 16, 84: 20 },
    fingR: { 1: 22, 26: 34, 41: 4, 55: 18, 84: 24 },
  });
  if (bad) {
    // The three keys of the landing were never set.
    for (const f of [51, 54, 58]) delete perf.hips[f];
    perf.hips[49] = { v: [0, -0.07, 0.88], in: [0, -0.065, 0.054], out: [0, -0.02, 0.05] };
    perf.hips[54] = [0, -0.085, 1.0];
    for (const k of ["hipsRot", "spine", "chest"])
      for (const f of [54, 55, 57, 59, 61, 63]) delete perf[k][f];
    // The right side was copied from the left.
    for (const k of ["clav", "arm", "wrist", "fing"]) perf[`${k}R`] = perf[`${k}L`];
    perf.footR[49].v = [-0.11, -0.035, 0.97, -8];
  }
  return full(
    makeShot({
      name,
      fps: 24,
      last: 100,
      shot: { stage: "splining" },
      items: [
        {
          id: "ledge",
          still: [0, EDGE / 2, -0.4],
          shapes: [{ kind: "box", size: [2, EDGE, 1.04] }],
          colour: "#707478",
        },
        { skel: sk, perf, body: true },
      ],
    }),
    {
      surfaces: [
        {
          id: "top",
          normal: [0, 1, 0],
          height: EDGE * 100,
          edges: [
            [-100, -92],
            [100, 12],
          ],
        },
      ],
      onFloor: (/** @type {any} */ c) => c.frames[0] > 40,
      contacts: ["tarsus_sin", "tarsus_dex"].map((node) => ({ node, with: "top", frames: [1, 28] })),
    },
  );
}
const both = versions(build);
export const { clean } = both;
export function flawed() {
  const doc = both.flawed();
  // The key after the top was copied five frames on.
  const hang = track({ 34: 34, 37: 37, 43: { v: 38.5, s: 0.8 }, 49: 49 });
  retime(doc, "base", "translation.y", [34, 49], hang);
  return erase(doc, ["carpus_sin", "carpus_dex"]);
}
export const flaws = [
  {
    what: "She lands from 90 cm and gives nowhere: knees, hips and back stay as they are.",
    kind: "no-give",
    size: "strong",
    nodes: ["base", "femur_sin", "tibia_sin", "femur_dex", "tibia_dex"],
    frames: [49, 62],
    order: 1,
  },
  {
    what: "She hangs at the top of the jump for five frames and is then pulled down.",
    kind: "floaty-flight",
    size: "ordinary",
    nodes: ["base"],
    frames: [37, 48],
    order: 2,
  },
  {
    what: "The right foot stands three and a half centimetres deep in the ground from the landing on.",
    kind: "foot-sinks",
    size: "ordinary",
    nodes: ["tarsus_dex", "hallux_dex", "tibia_dex"],
    frames: [49, 100],
    order: 3,
  },
  {
    what: "Both arms do the very same, mirrored, through the whole jump.",
    kind: "twinning",
    size: "ordinary",
    nodes: ["humerus_sin", "ulna_sin", "humerus_dex", "ulna_dex"],
    frames: [13, 84],
    order: 4,
  },
  {
    what: "The wrists are not animated at all.",
    kind: "dead-wrist",
    size: "barely",
    nodes: ["carpus_sin", "carpus_dex"],
    frames: [20, 84],
    order: 5,
  },
];
