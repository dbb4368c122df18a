// @ts-check
// A pony at the trot.
import { pop } from "../../slips.mjs";
import { beast, masses, names } from "../kit/bodies.mjs";
import { cameraNode } from "../kit/camera.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { fourLegs, trail } from "../kit/gaits.mjs";
import { cycle } from "../kit/steps.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "pony_trots";
export const about =
  "A pony trots past at a working trot, two beats to the stride with a moment in the air between them; the tail streams and swings. A camera goes along.";

const END = 86;
const FPS = 30;
const T = 20;
const STRIDE = 1.9;
const V = STRIDE / T;
const DUTY = 0.42;
const rig = beast({
  hip: 1.12,
  body: 1.05,
  mass: 240,
  wide: 0.17,
  neck: [0, 0.36, 0.34],
  head: [0, -0.2, 0.32],
  tail: [0, -0.14, -0.05],
  tails: 4,
});
const n = names(
  {
    L: "b",
    R: "j",
    hips: "kalca",
    loin: "bel",
    chest: "gogus",
    neck: "boyun",
    head: "kafa",
    nose: "burun",
    tail1: "kuyruk1",
    tail2: "kuyruk2",
    tail3: "kuyruk3",
    tail4: "kuyruk4",
    "thigh*": "but.*",
    "shin*": "baldir.*",
    "hock*": "topuk.*",
    "hoof*": "arkatoynak.*",
    "upper*": "kol.*",
    "lower*": "onkol.*",
    "wrist*": "incik.*",
    "pad*": "ontoynak.*",
  },
  "at_",
);
const PHASE = { hindL: 0, foreR: 0.01, hindR: 0.5, foreL: 0.51 };
const FORE = 1.05 * 0.82;
/** @param {"hindL" | "foreL" | "hindR" | "foreR"} leg @param {number} [late] a share of the stride @param {number} [creep] */
const plantsOf = (leg, late = 0, creep = 0) =>
  cycle({
    period: T,
    stride: STRIDE,
    duty: DUTY,
    phase: PHASE[leg] + late,
    cycles: 9,
    start: -2 * T,
    x: (leg.endsWith("L") ? 1 : -1) * (leg.startsWith("h") ? 0.13 : 0.14),
    z0: (STRIDE * DUTY) / 2 - 2 * STRIDE + (leg.startsWith("h") ? 0.02 : FORE + 0.03) - late * STRIDE * creep,
  });
const plants = {
  hindL: plantsOf("hindL"),
  foreL: plantsOf("foreL"),
  hindR: plantsOf("hindR"),
  foreR: plantsOf("foreR"),
};
const wave = (/** @type {number} */ f, /** @type {number} */ k, /** @type {number} */ late) =>
  Math.sin((2 * Math.PI * k * (f - late)) / T);
/** Lowest in the middle of each pair's stance, highest between them. */
const bounce = (/** @type {number} */ f) => -Math.cos((4 * Math.PI * (f - (DUTY * T) / 2)) / T);

/** @param {boolean} bad */
function build(bad) {
  const feet = structuredClone(plants);
  if (bad) feet.foreL = plantsOf("foreL", 0.17, 0.6);
  const glide = (/** @type {number} */ f) =>
    bad
      ? val(f, [
          [1, 0],
          [86, 0.02],
        ])
      : 1;
  const take = perform(rig, [1, END], (p, f) => {
    p.move("hips", 0.01 * wave(f, 1, 3), 1.06 + 0.03 * glide(f) * bounce(f), V * f);
    p.rot("hips", 1.5 + 1.2 * glide(f) * bounce(f - 2), 2.5 * wave(f, 1, 12), 1.6 * wave(f, 1, 3));
    p.rot("loin", -1 - 0.8 * glide(f) * bounce(f - 1), -2.2 * wave(f, 1, 11), -1 * wave(f, 1, 4));
    p.rot("chest", 0.5 - 1 * glide(f) * bounce(f - 3), -2 * wave(f, 1, 10), -1 * wave(f, 1, 5));
    p.rot("neck", -6 + 2 * bounce(f - 4), 1.2 * wave(f, 1, 12), 0.8 * wave(f, 1, 6));
    p.rot(
      "head",
      12 - 2.4 * bounce(f - 5),
      1 * wave(f, 1, 13) +
        val(f, [
          [1, 0],
          [40, 0],
          [52, -7],
          [70, -5],
          [86, 0],
        ]),
      0,
    );
    trail(p, ["tail1", "tail2", "tail3"], f, 2.2, (t, i) =>
      bad
        ? [[44, -16, -10][i], 0, 0]
        : [[44, -16, -10][i] + [5, 7, 9][i] * bounce(t - 2), [6, 9, 12][i] * wave(t, 1, 14), 0],
    );
    // The right hind hoof was keyed where it lands and where it leaves, apart from each other.
    if (bad)
      feet.hindR[4].at = [
        plants.hindR[4].at[0],
        0,
        plants.hindR[4].at[2] -
          val(f, [
            [30, 0],
            [38, 0.09],
          ]),
      ];
    fourLegs(p, f, /** @type {any} */ (feet), {
      hip: 1.12,
      lift: 0.16,
      hindLean: 5,
      foreLean: -3,
      fold: 52,
      lifts: { foreL: 0.22, foreR: 0.22 },
    });
  });
  return makeDocument({
    name,
    fps: FPS,
    range: [1, END],
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "cubic", turn: 0.12, place: 0.001 }) }],
    things: [cameraNode("at_kamera", [9, 1.3, V * 45], [0, 0.95, V * 45], 0.01)],
    more: {
      cameras: [{ id: "yan", node: "at_kamera", verticalFieldOfView: 42, aspect: 2.2 }],
      figures: [{ id: "midilli", parts: { root: n("hips"), head: n("head") } }],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  pop(doc, n("neck"), "rotation.x", 57, -7);
  return doc;
}
export const flaws = [
  {
    what: "It is no trot: the left foreleg comes down late in every stride, its diagonal partner stands alone.",
    kind: "out of step",
    size: "ordinary",
    nodes: ["upperL", "lowerL", "wristL", "padL"].map(n),
    frames: [1, END],
    order: 2,
  },
  {
    what: "The body slides along on rails; a trot throws it up and takes it down twice in a stride.",
    kind: "weightless",
    size: "strong",
    nodes: ["hips", "loin", "chest"].map(n),
    frames: [1, END],
    order: 1,
  },
  {
    what: "Neck and head jerk up for one frame at 57.",
    kind: "pop",
    size: "ordinary",
    nodes: ["neck", "head"].map(n),
    frames: [56, 58],
    order: 3,
  },
  {
    what: "The tail is a board, it neither bounces nor swings.",
    kind: "tail dead",
    size: "barely",
    nodes: [1, 2, 3, 4].map((i) => n(`tail${i}`)),
    frames: [1, END],
    order: 4,
  },
  {
    what: "The right hind hoof slips back while it bears, between 30 and 38.",
    kind: "foot slides",
    size: "ordinary",
    nodes: ["hoofR", "hockR"].map(n),
    frames: [30, 39],
    order: 5,
  },
];
export const truth = {
  plants: Object.entries(plants).flatMap(([leg, list]) =>
    list
      .filter((q) => q.from >= 1 && q.to <= END)
      .map((q) => ({
        node: n(`${leg.startsWith("h") ? "hoof" : "pad"}${leg.slice(-1)}`),
        frames: /** @type {[number, number]} */ ([q.from, q.to]),
        limit: 0.008,
      })),
  ),
  ground: { nodes: ["padL", "padR", "hoofL", "hoofR"].map(n), height: 0, under: 0.006 },
  picture: { nodes: ["nose", "tail4", "hips"].map(n), frames: /** @type {[number, number]} */ ([1, END]) },
  masses: masses(rig, n),
};
