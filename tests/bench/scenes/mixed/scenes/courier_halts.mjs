// @ts-check
import { full, versions } from "../../people/kit/declare.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { steps, straight } from "../../people/kit/steps.mjs";
import { erase, tick } from "../kit/edits.mjs";

export const name = "courier_halts";
export const about =
  "A courier waits, sets off, walks five steps, comes to a halt and looks up to his left at the number of a house.";

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "lahetti",
    stature: 1.79,
    spines: 3,
    words: {
      root: "lantio",
      spine: ["vyotaro", "selka", "rinta"],
      neck: "kaula",
      head: "paa",
      end: "paalaki",
      clav: "solisluu",
      up: "olkavarsi",
      fore: "kyynarvarsi",
      hand: "kasi",
      fing: "sormet",
      thigh: "reisi",
      shin: "saari",
      foot: "jalkatera",
      toe: "varpaat",
      tip: "varpaankarki",
    },
    side: (w, s) => `${w}.${s === "L" ? "vas" : "oik"}`,
    orders: { root: "yxz", arm: "zxy" },
  });
  const perf = /** @type {any} */ ({
    hips: { 1: [0.008, -0.014, 0], 10: [0.0, -0.014, 0.004], 19: [-0.035, -0.018, 0.012] },
    hipsRot: { 1: [0, 0, 0], 19: [1, 0, -1.5] },
    spine: { 1: [1, 0, 0], 19: [2, 0, 0] },
    chest: { 1: [1, 0, 0], 19: [3, 1, 0] },
    footL: { 1: [0.1, 0, 0.01, 6] },
    footR: { 1: [-0.1, 0, -0.01, -6] },
    head: { 1: [2, 0, 0], 20: [0, 0, 0], 98: [0, 0, 0], 110: [-7, 17, 2], 124: [-6, 16, 2] },
    neck: { 1: [2, 0, 0], 100: [1, 0, 0], 112: [-6, 16, 0], 124: [-5, 15, 0] },
    fingL: { 1: 20, 40: 26, 80: 22, 124: 18 },
    fingR: { 1: 24, 44: 20, 84: 27, 124: 22 },
  });
  steps(perf, sk, {
    f0: 20,
    lift: 0.06,
    heel: 20,
    toe: 10,
    dip: 0.01,
    arms: 22,
    sway: 0.5,
    list: straight(5, { len: 0.56, wide: 0.08, n: 15, first: "L" }),
    end: 9,
  });
  perf.chest[112] = [-2, 7, 0];
  perf.chest[124] = [-2, 7, 0];
  if (bad) {
    // The key that takes the weight onto the right foot was left out, and the next one has the wrong sign.
    delete perf.hips[19];
    perf.hips[20] = [0.01, -0.018, 0.012];
    perf.hips[28.25] = [0.045, -0.025, 0.143];
    // Arrives at walking speed while the last foot is still in the air.
    delete perf.hips[87.5];
    perf.hips[88] = { v: [-0.04, -0.025, 2.238], in: [0, 0, 0.037], out: [0, 0, 0] };
    perf.hips[95] = [-0.01, -0.027, 2.24];
    // The feet have no keys but for where they stand.
    perf.rollL = { 1: 0 };
    perf.rollR = { 1: 0 };
  }
  return full(
    makeShot({
      name,
      fps: 24,
      last: 124,
      shot: { stage: "splining" },
      items: [{ skel: sk, perf, body: true }],
    }),
  );
}
const both = versions(build);
export const { clean } = both;
export function flawed() {
  const doc = both.flawed();
  erase(doc, ["olkavarsi.vas", "kyynarvarsi.vas", "kasi.vas"]);
  tick(doc, "rinta", "rotation.x", 63, 3.5);
  return doc;
}
export const flaws = [
  {
    what: "He sets off without going over his standing foot: the hips swing out over the left foot just as it lifts.",
    kind: "no-weight-shift",
    size: "strong",
    nodes: ["lantio"],
    frames: [14, 35],
    order: 1,
  },
  {
    what: "He halts as if he had hit a pane of glass: full walking speed on 87, nothing on 89, and the last foot is still behind him in the air.",
    kind: "hard-stop",
    size: "ordinary",
    nodes: ["lantio"],
    frames: [84, 92],
    order: 2,
  },
  {
    what: "The feet leave the ground and come down flat like boards; no heel lifts and no heel strikes.",
    kind: "flat-feet",
    size: "ordinary",
    nodes: ["jalkatera.vas", "jalkatera.oik", "varpaat.vas", "varpaat.oik"],
    frames: [24, 96],
    order: 3,
  },
  {
    what: "The left arm hangs dead at his side the whole way, only the right one swings.",
    kind: "dead-arm",
    size: "ordinary",
    nodes: ["olkavarsi.vas", "kyynarvarsi.vas", "kasi.vas"],
    frames: [20, 104],
    order: 4,
  },
  {
    what: "A tick forward of the chest on 63.",
    kind: "pop",
    size: "barely",
    nodes: ["rinta"],
    frames: [62, 64],
    order: 5,
  },
];
