// @ts-check
import { track } from "../../people/kit/curve.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { straightRun } from "../kit/edits.mjs";
import { step } from "../kit/feet.mjs";

export const name = "chest_shove";
export const about =
  "A removal man braces himself behind a chest of 90 kg, strains until it gives, shoves it along in four bursts and straightens up.";

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "mover",
    stature: 1.83,
    spines: 3,
    words: {
      root: "Bacino",
      spine: ["Lombare", "Dorso", "Torace"],
      neck: "Collo",
      head: "Testa",
      end: "Testa_fine",
      clav: "Clavicola",
      up: "Braccio",
      fore: "Avambraccio",
      hand: "Mano",
      fing: "Dita",
      thigh: "Coscia",
      shin: "Gamba",
      foot: "Piede",
      toe: "Punta",
    },
    side: (w, s) => `${w}${s === "L" ? "Sx" : "Dx"}`,
    tips: false,
    orders: { root: "yxz", leg: "xzy" },
  });
  const course = {
    40: 0,
    54: 0.26,
    60: 0.28,
    63: 0.285,
    76: 0.54,
    80: 0.56,
    83: 0.565,
    96: 0.82,
    100: 0.84,
    103: 0.845,
    113: 0.97,
    118: 0.98,
    150: 0.98,
  };
  const way = track(course);
  // In the flawed version the chest's first keys were pulled forward without the hands.
  const chestWay = bad ? track({ ...course, 40: 0.13, 31: 0, 48: 0.24 }) : way;
  const behind = track({
    1: -0.1,
    14: -0.1,
    28: -0.07,
    38: -0.02,
    48: -0.05,
    62: -0.02,
    70: -0.05,
    82: -0.02,
    90: -0.05,
    102: -0.02,
    112: -0.05,
    124: -0.1,
    138: bad ? -0.37 : -0.17,
    150: bad ? -0.36 : -0.165,
  });
  const across = track({
    1: 0,
    14: 0.088,
    20: 0.085,
    27: 0.02,
    38: 0,
    50: 0.055,
    58: 0,
    69: -0.05,
    78: 0,
    89: 0.05,
    98: 0,
    108: -0.045,
    118: 0,
    150: 0,
  });
  const height = track({
    1: -0.012,
    12: -0.03,
    26: -0.09,
    38: -0.15,
    50: -0.12,
    60: -0.14,
    70: -0.12,
    81: -0.14,
    90: -0.12,
    101: -0.14,
    110: -0.115,
    118: -0.1,
    138: -0.012,
    150: -0.016,
  });
  const lean = track({
    1: 0,
    12: 2,
    28: 12,
    38: 17,
    50: 14,
    62: 17,
    70: 14,
    82: 17,
    90: 14,
    102: 17,
    112: 13,
    122: 9,
    138: 0,
  });
  const grasp = (/** @type {"L" | "R"} */ s) => ({
    w: { 12: 0, 28: 1, 115: 1, 132: 0 },
    pole: [s === "L" ? 0.9 : -0.9, -0.7, -0.3],
    at: (/** @type {number} */ f) => {
      const slip = bad && s === "L" && f > 82 ? 0.075 * Math.min(1, (f - 82) / 13) : 0;
      return [s === "L" ? 0.22 : -0.24, (s === "L" ? 0.98 : 0.94) - slip, way(f) + 0.415];
    },
    rot: () => handTurn(s, [s === "L" ? 0.15 : -0.15, 1, 0.1], [0, 0, 1]),
  });
  const perf = /** @type {any} */ ({
    hips: Object.assign((/** @type {number} */ f) => [across(f), height(f), way(f) + behind(f)], {
      frames: [1, 12, 26, 38, 50, 62, 70, 82, 90, 102, 112, 124, 138],
    }),
    hipsRot: Object.assign((/** @type {number} */ f) => [lean(f), 0, across(f) * -30], {
      frames: [12, 38, 62, 82, 102, 138],
    }),
    spine: {
      1: [1, 0, 0],
      12: [3, 0, 0],
      28: [12, 0, 0],
      38: [17, 0, 0],
      50: [12, 2, 0],
      62: [16, 0, 0],
      70: [12, -2, 0],
      82: [16, 0, 0],
      90: [12, 2, 0],
      102: [15, 0, 0],
      114: [11, 0, 0],
      140: [-3, 0, 0],
    },
    chest: {
      1: [1, 0, 0],
      13: [3, 0, 0],
      29: [10, 0, 0],
      39: [13, 0, 0],
      51: [8, 2, 0],
      63: [12, 0, 0],
      71: [8, -2, 0],
      83: [12, 0, 0],
      91: [8, 2, 0],
      103: [11, 0, 0],
      115: [8, 0, 0],
      142: [-4, 0, 0],
    },
    neck: { 1: [0, 0, 0], 29: [-8, 0, 0], 40: [4, 0, 0], 54: [-6, 0, 0], 116: [-6, 0, 0], 142: [2, 0, 0] },
    head: {
      1: [4, 0, 0],
      28: [-12, 0, 0],
      40: [6, 0, 3],
      55: [-10, 0, 0],
      64: [-4, 0, -2],
      76: [-10, 0, 0],
      85: [-4, 0, 2],
      98: [-10, 0, 0],
      117: [-8, 0, 0],
      141: [3, 0, 0],
    },
    footL: { 1: [0.12, 0, -0.06, 8] },
    footR: { 1: [-0.12, 0, -0.12, -8] },
    kneeL: { 1: 8 },
    kneeR: { 1: 8 },
    leans: (/** @type {number} */ f) => f > 20 && f < 126,
    armL: { 1: [3, 7, 0, 14], 115: [20, 16, 0, 40], 136: [2, 8, 0, 18], 150: [3, 8, 0, 16] },
    armR: { 1: [4, 8, 0, 18], 115: [20, 16, 0, 40], 136: [3, 9, 0, 22], 150: [4, 9, 0, 20] },
    handL: grasp("L"),
    handR: grasp("R"),
    fingL: { 1: 20, 20: 6, 28: 2, 118: 2, 132: 22 },
    fingR: { 1: 24, 20: 6, 28: 2, 119: 2, 134: 26 },
  });
  step(perf, "R", 13, 24, [-0.13, 0, -0.36, -14], { back: true, lift: 0.04 });
  step(perf, "R", 45, 57, [-0.12, 0, 0.2, -10], { heel: 30 });
  step(perf, "L", 65, 77, [0.12, 0, 0.47, 10], { heel: 30 });
  if (bad) {
    // The stand's second key was set at where the foot goes, not where it stood.
    perf.footR[66] = { v: [-0.12, 0, 0.2, -10], s: [0, 0, 0, 0] };
    perf.footR[80] = { v: [-0.1, 0, 0.255, -10], s: [0, 0, 0, 0] };
    delete perf.footR[60];
    delete perf.footR[84];
  }
  step(perf, "R", 85, 97, [-0.12, 0, 0.75, -10], { heel: 30 });
  step(perf, "L", 104, 115, [0.12, 0, 0.87, 8], { heel: 24, toe: 5 });
  const b = makeShot({
    name,
    fps: 24,
    last: 150,
    unit: 1,
    up: "z",
    shot: { stage: "splining" },
    items: [
      {
        id: "Cassone",
        pose: (/** @type {number} */ f) => ({ p: [0, 0.55, chestWay(f) + 0.665], q: [0, 0, 0, 1] }),
        shapes: [{ kind: "box", size: [0.9, 1.1, 0.5] }],
        colour: "#5a4030",
      },
      { skel: sk, perf, body: true },
    ],
  });
  return full(b, {
    contacts: [
      { node: "Cassone", with: "floor", frames: [1, 150], slides: true },
      { node: "ManoSx", with: "Cassone", frames: [28, 115] },
      { node: "ManoDx", with: "Cassone", frames: [28, 115] },
    ],
    props: [{ node: "Cassone", mass: 90 }],
  });
}
const both = versions(build);
export const { clean } = both;
export function flawed() {
  const doc = both.flawed();
  for (const node of ["BraccioDx", "AvambraccioDx"]) straightRun(doc, node, "rotation", 116, 131);
  return doc;
}
export const flaws = [
  {
    what: "The chest sets off by itself, nine frames before he has strained enough to move it, and leaves his hands behind.",
    kind: "moves-by-itself",
    size: "strong",
    nodes: ["Cassone", "ManoSx", "ManoDx"],
    frames: [31, 54],
    order: 1,
  },
  {
    what: "At the end he stands with his weight behind his heels; he would sit down.",
    kind: "off-balance",
    size: "strong",
    nodes: ["Bacino"],
    frames: [130, 150],
    order: 2,
  },
  {
    what: "The right foot creeps forward in the second burst while it is the one that shoves.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["PiedeDx", "PuntaDx", "CosciaDx", "GambaDx"],
    frames: [66, 85],
    order: 3,
  },
  {
    what: "The left hand slips a palm's width down the chest in the third burst.",
    kind: "grip-slip",
    size: "ordinary",
    nodes: ["ManoSx", "BraccioSx", "AvambraccioSx"],
    frames: [82, 96],
    order: 4,
  },
  {
    what: "The right arm drops off the chest on a straight line, with a corner at either end.",
    kind: "even spacing",
    size: "barely",
    nodes: ["BraccioDx", "AvambraccioDx", "ManoDx"],
    frames: [115, 132],
    order: 5,
  },
];
