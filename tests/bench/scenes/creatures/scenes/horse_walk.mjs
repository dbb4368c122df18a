// @ts-check
// A horse at a walk, in four beats.
import { beast, masses, names } from "../kit/bodies.mjs";
import { makeDocument } from "../kit/document.mjs";
import { bump, curvesOf, drop, erase, tidy } from "../kit/edits.mjs";
import { fourLegs, trail } from "../kit/gaits.mjs";
import { cycle } from "../kit/steps.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "horse_walk";
export const about =
  "A tired horse walks along a road at a steady pace. Its head nods with each foreleg and its tail swings.";

const HIP = 1.45;
const T = 30;
const STRIDE = 1.5;
const END = 91;
const rig = beast({
  hip: HIP,
  body: 1.25,
  mass: 480,
  wide: 0.17,
  neck: [0, 0.62, 0.55],
  head: [0, -0.3, 0.42],
  tail: [0, -0.2, -0.03],
  tails: 4,
  hind: [0.36, 0.42, 0.34],
  fore: [0.36, 0.4, 0.32],
});
const n = names({
  L: "izq",
  R: "der",
  hips: "grupa",
  loin: "lomo",
  chest: "cruz",
  neck: "cuello",
  head: "cabeza",
  nose: "hocico",
  tail1: "cola1",
  tail2: "cola2",
  tail3: "cola3",
  tail4: "cola4",
  "thigh*": "muslo_*",
  "shin*": "pierna_*",
  "hock*": "corvejon_*",
  "hoof*": "casco_tras_*",
  "upper*": "brazo_*",
  "lower*": "antebrazo_*",
  "wrist*": "cana_*",
  "pad*": "casco_del_*",
});
const BEATS = { hindL: 0, foreL: 0.25, hindR: 0.5, foreR: 0.75 };

/** @param {boolean} bad */
function build(bad) {
  const v = STRIDE / T;
  const z = (/** @type {number} */ f) => v * (f - 1);
  const duty = 0.62;
  const plants = Object.fromEntries(
    Object.entries(BEATS).map(([k, phase]) => {
      const fore = k.startsWith("fore");
      return [
        k,
        cycle({
          period: T,
          stride: STRIDE,
          duty,
          phase,
          start: 1,
          cycles: 7,
          x: (k.endsWith("L") ? 1 : -1) * 0.15,
          z0: (v * duty * T) / 2 + (fore ? 1.25 * 0.82 : -0.02),
        }),
      ];
    }),
  );
  // A beat: the body is lowest as a fore or hind foot takes the weight, twice in a cycle.
  const wave = (/** @type {number} */ f, /** @type {number} */ k = 1, /** @type {number} */ at = 0) =>
    Math.cos(2 * Math.PI * ((f - 1) / T - at) * k);
  const take = perform(rig, [1, END], (p, f) => {
    p.move(
      "hips",
      0.025 * wave(f, 1, 0.31),
      HIP * 0.965 - 0.014 * wave(f, 2, 0.06),
      z(f) + 0.006 * wave(f, 2, 0.2),
    );
    p.rot("hips", 0.8 * wave(f, 2, 0.2), 2 * wave(f, 1, 0.02), 2.2 * wave(f, 1, 0.3));
    p.rot("loin", 0.5 * wave(f, 2, 0.22), -1.8 * wave(f, 1, 0.05), -1 * wave(f, 1, 0.33));
    p.rot("chest", -1 * wave(f, 2, 0.2), -1.6 * wave(f, 1, 0.08), -2.5 * wave(f, 1, 0.33));
    p.rot("neck", 16 + 4.5 * wave(f, 2, 0.37), 1.5 * wave(f, 1, 0.15), 0);
    p.rot("head", 22 - 3 * wave(f, 2, 0.43), 1.2 * wave(f, 1, 0.2), 0);
    trail(p, ["tail1", "tail2", "tail3", "tail4"], f, 3, (g, i) => [
      [20, -10, -6, -3][i] + 1.6 * wave(g, 2, 0.2),
      0,
      (4 + 3 * i) * wave(g, 1, 0.1),
    ]);
    fourLegs(p, f, plants, {
      hip: HIP,
      lift: 0.13,
      fold: 38,
      hindLean: 2,
      lifts: bad ? { hindR: -0.035 } : {},
    });
  });
  return makeDocument({
    name,
    fps: 25,
    range: [1, END],
    up: "z",
    sayUnit: false,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.06, place: 0.001 }) }],
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  erase(doc, [n("neck"), n("head")], "rotation.x");
  for (const [node, x] of [
    ["neck", 16],
    ["head", 22],
  ])
    doc.curves.push({ node: n(`${node}`), channel: "rotation.x", keys: [[1, x]] });
  // A copied key: the body stands where it was four frames before, and catches up.
  const go = curvesOf(doc, [n("hips")], "translation.y")[0];
  go.keys = go.keys.filter((/** @type {any} */ k) => k[0] < 46 || k[0] > 53);
  const v = STRIDE / T;
  go.keys.push(
    [46, -v * 45, { interpolation: "linear" }],
    [49, -v * 45.6, { interpolation: "linear" }],
    [53, -v * 52],
  );
  go.keys.sort((/** @type {any} */ a, /** @type {any} */ b) => a[0] - b[0]);
  bump(doc, n("lowerL"), "rotation.x", 67, 9);
  drop(curvesOf(doc, [n("tail1"), n("tail2"), n("tail3"), n("tail4")], "rotation.z"), [2, 90]);
  return tidy(doc);
}
export const flaws = [
  {
    what: "Head and neck are carried like a plank, no nod with the forelegs, a walking horse has no life without it.",
    kind: "head stiff",
    size: "ordinary",
    nodes: [n("neck"), n("head")],
    frames: [1, 91],
    order: 2,
  },
  {
    what: "The body stalls at 46 and rushes to catch up by 53, a hitch in the middle of an even walk.",
    kind: "hitch",
    size: "strong",
    nodes: [n("hips")],
    frames: [46, 53],
    order: 1,
  },
  {
    what: "The off hind hoof swings through the road instead of over it.",
    kind: "foot sinks",
    size: "ordinary",
    nodes: ["thighR", "shinR", "hockR", "hoofR"].map(n),
    frames: [1, 91],
    order: 3,
  },
  {
    what: "Near knee snaps on 67.",
    kind: "knees snap",
    size: "barely",
    nodes: [n("lowerL"), n("padL")],
    frames: [66, 68],
    order: 5,
  },
  {
    what: "The tail hangs dead sideways, the sway of the croup should swing it.",
    kind: "tail dead",
    size: "barely",
    nodes: ["tail1", "tail2", "tail3", "tail4"].map(n),
    frames: [1, 91],
    order: 4,
  },
];
export const truth = {
  plants: Object.entries(BEATS)
    .flatMap(([k, phase]) =>
      [0, 1, 2].map((c) => {
        const from = 1 + (c + phase) * T;
        return {
          node: n(k.startsWith("fore") ? `pad${k.slice(-1)}` : `hoof${k.slice(-1)}`),
          frames: /** @type {[number, number]} */ ([
            Math.ceil(from),
            Math.min(END, Math.floor(from + 0.62 * T)),
          ]),
        };
      }),
    )
    .filter((p) => p.frames[1] > p.frames[0]),
  ground: { nodes: ["padL", "padR", "hoofL", "hoofR"].map(n), height: 0 },
  masses: masses(rig, n),
};
