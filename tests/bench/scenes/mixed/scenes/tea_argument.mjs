// @ts-check

import { heldThen } from "../../mixed/kit/edits.mjs";
import { turnTrack } from "../../mixed/kit/turns.mjs";
import { track } from "../../people/kit/curve.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { add } from "../../people/kit/math.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";

export const name = "tea_argument";
export const about =
  "At a table a woman puts her glass of tea aside and makes her point with an open right hand, looking at whoever sits across. The hand comes back to the table.";

const TOP = 0.73;

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "sevda",
    stature: 1.68,
    spines: 2,
    words: {
      root: "kalca",
      spine: ["bel", "gogus"],
      neck: "boyun",
      head: "kafa",
      end: "kafa_uc",
      clav: "koprucuk",
      up: "ustkol",
      fore: "onkol",
      hand: "el",
      fing: "parmaklar",
      thigh: "uyluk",
      shin: "baldir",
      foot: "ayak",
      toe: "ayakucu",
      tip: "ayakson",
    },
    side: (w, s) => `${s === "L" ? "sol" : "sag"}_${w}`,
    orders: { root: "yxz", all: "zxy" },
  });
  const rise = bad ? 0.065 : 0;
  const glass = track({
    1: [-0.1, TOP + 0.045, 0.4],
    16: [-0.1, TOP + 0.045, 0.4],
    27: [-0.2, TOP + 0.1, 0.425],
    38: [-0.3, TOP + 0.045 + rise, 0.42],
    130: [-0.3, TOP + 0.045 + rise, 0.42],
  });
  const off = [-0.058, 0.005, -0.012];
  const free = track({
    44: add(glass(44), off),
    52: [-0.38, TOP + 0.09 + rise / 2, 0.35],
    70: [-0.4, 1.03, 0.43],
    76: [-0.405, 1.005, 0.44],
    90: [-0.4, 0.995, 0.45],
    100: [-0.25, 0.9, 0.38],
    110: [-0.15, bad ? TOP - 0.042 : TOP + 0.003, 0.37],
    130: [-0.15, bad ? TOP - 0.042 : TOP + 0.003, 0.37],
  });
  // Where in its way the hand is; the flawed one creeps, leaps, and creeps on.
  const warp = track(
    bad ? { 44: 44, 60: { v: 53, s: 0.3 }, 62: { v: 66.5, s: 0.3 }, 76: 76, 130: 130 } : { 44: 44, 130: 130 },
  );
  const palm = (/** @type {number} */ f) =>
    f <= 44 ? add(glass(f), off) : free(bad && f < 76 ? warp(f) : f);
  const grip = handTurn("R", [0.45, -0.05, 1], [1, 0, -0.35]);
  const point = handTurn("R", [-0.35, 0.3, 0.9], [0.8, 0.5, 0.25]);
  const rest = handTurn("R", [0.45, 0.02, 1], [0.12, -1, 0]);
  const turns = turnTrack({ 1: grip, 46: grip, 70: point, 90: point, 110: rest, 130: rest });
  const flat = handTurn("L", [-0.5, 0.0, 1], [-0.1, -1, 0]);
  const left = track({
    1: [0.17, TOP + 0.003, 0.4],
    56: [0.17, TOP + 0.003, 0.4],
    66: [0.175, TOP + 0.075, 0.405],
    78: [0.18, TOP + 0.003, 0.41],
    130: [0.18, TOP + 0.003, 0.41],
  });
  const other = [0.3, 1.2, 1.6];
  const perf = /** @type {any} */ ({
    hips: {
      1: [0, -0.37, -0.02],
      40: [-0.006, -0.37, -0.018],
      70: [0.004, -0.368, -0.008],
      130: [0, -0.37, -0.014],
    },
    hipsRot: { 1: [-4, 0, 0], 40: [-3, -3, 0], 68: [2, 2, 0], 108: [-1, 0, 0], 130: [-1, 0, 0] },
    spine: { 1: [8, 0, 0], 40: [10, -4, -1], 58: [4, -3, 0], 72: [11, 3, 0], 110: [8, 0, 0], 130: [8, 0, 0] },
    chest: { 1: [8, 0, 0], 42: [11, -6, -2], 60: [3, -4, 0], 75: [10, 4, 0], 112: [8, 0, 0], 130: [8, 0, 0] },
    neck: { 1: [0, 0, 0], 130: [0, 0, 0] },
    head: { 1: [-4, 0, 0], 60: [-6, 0, 2], 76: [2, 0, -3], 130: [-3, 0, 0] },
    look: {
      w: { 1: 1, 130: 1 },
      at: (/** @type {number} */ f) => mark(f),
    },
    footL: { 1: [0.11, 0, 0.36, 8] },
    footR: { 1: [-0.12, 0, 0.28, -8] },
    rollR: { 1: 12 },
    kneeL: { 1: 4 },
    kneeR: { 1: 6 },
    leans: () => true,
    clavR: { 1: [0, 0], 44: [0, 3], 71: [6, 4], 90: [5, 4], 110: [0, 1] },
    clavL: { 1: [0, 2], 56: [0, 2], 67: [3, 2], 80: [0, 3] },
    handR: {
      w: { 1: 1 },
      pole: [-0.8, -0.6, -0.5],
      at: palm,
      rot: turns,
    },
    handL: { w: { 1: 1 }, pole: [0.8, -0.6, -0.5], at: left, rot: () => flat },
    fingR: { 1: 44, 42: 44, 52: 16, 70: 2, 90: 6, 110: 20 },
    fingL: { 1: 14, 58: 14, 67: 6, 80: 16 },
  });
  const gaze = track({
    1: [-0.1, TOP, 0.4],
    18: [-0.12, TOP, 0.4],
    36: [-0.3, TOP, 0.42],
    44: [-0.28, TOP, 0.44],
    56: other,
  });
  const miss = track({ 44: 0, 56: 0.3 });
  const mark = (/** @type {number} */ f) => add(gaze(f), [bad ? miss(f) : 0, 0, 0]);
  const b = makeShot({
    name,
    fps: 25,
    last: 130,
    shot: { stage: "splining" },
    items: [
      {
        id: "masa",
        still: [0, TOP - 0.02, 0.66],
        shapes: [{ kind: "box", size: [1.3, 0.04, 0.8] }],
        colour: "#7a5a3a",
      },
      { id: "sandalye", still: [0, 0.4, -0.05], shapes: [{ kind: "box", size: [0.42, 0.04, 0.4] }] },
      { id: "karsidaki", still: other, shapes: [{ kind: "sphere", radius: 0.1 }] },
      {
        id: "bardak",
        pose: (/** @type {number} */ f) => ({ p: glass(f), q: [0, 0, 0, 1] }),
        shapes: [{ kind: "capsule", radius: 0.03, from: [0, -0.015, 0], to: [0, 0.04, 0] }],
      },
      { skel: sk, perf, body: true },
    ],
    cameras: [{ id: "yakin", eye: [1.7, 1.3, 2.9], at: [-0.05, 0.92, 0.2], fov: 30 }],
  });
  return full(b, {
    surfaces: [
      {
        id: "masaustu",
        normal: [0, 1, 0],
        height: TOP * 100,
        edges: [
          [-65, 26],
          [65, 106],
        ],
      },
    ],
    contacts: [
      { node: "bardak", with: "masaustu", frames: [1, 16] },
      { node: "bardak", with: "masaustu", frames: [38, 130] },
    ],
    props: [{ node: "bardak", mass: 0.3, heldBy: [{ node: "sag_el", frames: [1, 44] }] }],
    gazes: [{ figure: "sevda", at: "karsidaki", frames: [60, 130] }],
  });
}
const both = versions(build);
export const { clean } = both;
export function flawed() {
  const doc = both.flawed();
  return heldThen(doc, "sag_el", "rotation", 46, 90, 110);
}
export const flaws = [
  {
    what: "She lets the glass go in the air: it stands a good six centimetres over the table from then on.",
    kind: "floating-prop",
    size: "strong",
    nodes: ["bardak", "sag_el"],
    frames: [38, 130],
    order: 1,
  },
  {
    what: "The hand leaps on its way up: it creeps off the glass, does most of the way in two frames, and creeps on.",
    kind: "spacing jumps",
    size: "ordinary",
    nodes: ["sag_el", "sag_onkol", "sag_ustkol"],
    frames: [56, 66],
    order: 2,
  },
  {
    what: "The hand that comes back ends up in the table top, four centimetres deep.",
    kind: "goes-through",
    size: "ordinary",
    nodes: ["sag_el", "sag_parmaklar", "sag_onkol"],
    frames: [102, 130],
    order: 3,
  },
  {
    what: "The wrist does nothing in the gesture, the hand is a paddle on the forearm.",
    kind: "dead-wrist",
    size: "ordinary",
    nodes: ["sag_el"],
    frames: [46, 106],
    order: 4,
  },
  {
    what: "She looks a little past the one across the table, by more than the width of a head.",
    kind: "look-misses",
    size: "barely",
    nodes: ["kafa", "boyun"],
    frames: [56, 130],
    order: 5,
  },
];
