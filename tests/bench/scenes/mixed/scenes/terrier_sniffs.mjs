// @ts-check
import { beast, masses, names } from "../../creatures/kit/bodies.mjs";
import { val } from "../../creatures/kit/curve.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { bump, curvesOf, erase, tidy } from "../../creatures/kit/edits.mjs";
import { fourLegs, laid, runOut, trail } from "../../creatures/kit/gaits.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { tick } from "../kit/edits.mjs";

export const name = "terrier_sniffs";
export const about =
  "A terrier trots along, pulls up at a scent, puts its nose to the ground, sniffs, and looks up with its tail going.";

const HIP = 0.28;
const END = 112;
const V = 0.5 / 12;
const rig = beast({
  hip: HIP,
  body: 0.3,
  mass: 8,
  wide: 0.05,
  neck: [0, 0.125, 0.085],
  head: [0, -0.015, 0.12],
  tail: [0, 0.045, -0.02],
  tails: 3,
});
rig.joints.push(
  ...["L", "R"].flatMap((s) => [
    { id: `ear${s}`, parent: "head", at: [s === "L" ? 0.03 : -0.03, 0.035, -0.01], mass: 0.02, order: "yxz" },
    { id: `flap${s}`, parent: `ear${s}`, at: [s === "L" ? 0.01 : -0.01, 0.03, 0.01], mass: 0, order: "yxz" },
    {
      id: `earTip${s}`,
      parent: `flap${s}`,
      at: [s === "L" ? 0.01 : -0.01, -0.02, 0.02],
      mass: 0,
      order: "yxz",
    },
  ]),
);
for (const j of rig.joints) rig.by.set(j.id, j);
const n = names({
  L: "links",
  R: "rechts",
  hips: "bekken",
  loin: "lende",
  chest: "schoft",
  neck: "nek",
  head: "kop",
  nose: "neus",
  tail1: "staart1",
  tail2: "staart2",
  tail3: "staart3",
  "thigh*": "dij_*",
  "shin*": "scheen_*",
  "hock*": "hiel_*",
  "hoof*": "achterteen_*",
  "upper*": "schouder_*",
  "lower*": "elleboog_*",
  "wrist*": "pols_*",
  "pad*": "voorteen_*",
  "ear*": "oor_*",
  "flap*": "oorflap_*",
  "earTip*": "oorpunt_*",
});

/** @param {boolean} bad */
function build(bad) {
  const zAt = (/** @type {number} */ f) => runOut(f, V, 34, 50);
  const a = /** @type {[number, number][]} */ ([
    [1, 7],
    [13, 19],
    [25, 31],
    [39, END + 60],
  ]);
  const b = /** @type {[number, number][]} */ ([
    [-5, 1],
    [7, 13],
    [19, 25],
    [31, 38],
    [46, END + 60],
  ]);
  // The left foreleg's steps were pushed three frames on.
  const lame = a.map(([from, to]) => /** @type {[number, number]} */ ([from + 3, to + 3]));
  const plants = {
    foreL: laid(bad ? [[-9, -2], ...lame] : a, zAt, 0.24, 0.05),
    hindR: laid(a, zAt, -0.02, -0.045),
    foreR: laid(b, zAt, 0.235, -0.05),
    hindL: laid(b, zAt, -0.02, 0.045),
  };
  const last = plants.foreL[plants.foreL.length - 1];
  last.at[2] = zAt(END) + 0.25;
  plants.hindR[3].at[2] = zAt(END) - 0.035;
  const trot = (/** @type {number} */ f) =>
    val(f, [
      [31, 1],
      [46, 0],
    ]);
  const wave = (/** @type {number} */ f) => Math.cos(((f - 4) / 6) * 2 * Math.PI) * trot(f);
  const sway = (/** @type {number} */ f) => Math.sin(((f - 1) / 12) * 2 * Math.PI) * trot(f);
  const brake = (/** @type {number} */ f) =>
    val(f, [
      [34, 0],
      [45, 1],
      [54, -0.2],
      [62, 0],
    ]);
  const down = (/** @type {number} */ f) =>
    val(f, [
      [52, 0],
      [55, -0.05],
      [67, 1.02],
      [72, 1],
      [84, 0.99],
      [87, 1.02],
      [98, -0.06],
      [104, 0],
    ]);
  const sniff = (/** @type {number} */ f) =>
    Math.sin(((f - 69) / 5) * 2 * Math.PI) *
    val(f, [
      [68, 0],
      [71, 1],
      [82, 1],
      [86, 0],
    ]);
  const wag = (/** @type {number} */ f) =>
    Math.sin((f / 9) * 2 * Math.PI) *
    val(f, [
      [58, 0],
      [70, 0.4],
      [90, 0.5],
      [100, 1],
      [112, 1],
    ]);
  const look = (/** @type {number} */ f) =>
    val(f, [
      [92, 0],
      [103, 1.05],
      [108, 1],
    ]);
  const take = perform(rig, [1, END], (p, f) => {
    p.move(
      "hips",
      0.004 * sway(f) + 0.004 * wag(f),
      HIP * 0.965 - 0.007 * wave(f) - 0.007 - 0.012 * brake(f) - (bad ? 0.032 : 0.004) * down(f),
      zAt(f) - 0.012 * down(f),
    );
    p.rot("hips", 1 * wave(f - 1) + 3 * brake(f) + 3 * down(f), 2 * sway(f) + 1.5 * wag(f), 2 * sway(f + 2));
    p.rot("loin", -1.2 * wave(f - 2) + 2 * brake(f - 1) + 3 * down(f - 1), -2 * sway(f), -1 * sway(f));
    p.rot(
      "chest",
      1 * wave(f - 2) + (bad ? 9 : 7) * down(f - 1),
      -1.5 * sway(f) + 3 * look(f - 2),
      -1.5 * sway(f),
    );
    p.rot(
      "neck",
      -4 +
        2.5 * wave(f - 2) +
        10 * brake(f - 3) +
        (bad ? 109 : 104) * down(f - 2) +
        1.2 * sniff(f) -
        4 * look(f),
      18 * look(f - 1),
      0,
    );
    p.rot(
      "head",
      8 -
        3 * wave(f - 3) -
        4 * brake(f - 4) +
        (bad ? -48 : -44) * down(f - 3) +
        2.2 * sniff(f - 1) -
        10 * look(f),
      20 * look(f),
      -7 * look(f),
    );
    trail(p, ["tail1", "tail2", "tail3"], f, 1.5, (g, i) => [
      [-12, 8, 10][i] + 3 * wave(g) - 8 * brake(g) + 14 * down(g) * (i ? 0.3 : 1),
      4 * sway(g) + [16, 12, 10][i] * wag(g),
      0,
    ]);
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      p.rot(
        `ear${s}`,
        -2 + 4 * wave(f - 4) - 7 * brake(f - 4) - 14 * down(f - 5) - 8 * look(f - 3),
        0,
        k * (4 - 5 * look(f - 3)),
      );
      p.rot(
        `flap${s}`,
        6 + 9 * wave(f - 5) - 12 * brake(f - 6) - 26 * down(f - 6) - 9 * look(f - 5) + 3 * sniff(f - 2),
        0,
        0,
      );
    }
    fourLegs(p, f, plants, { hip: HIP, lift: 0.06 });
  });
  return makeDocument({
    name,
    fps: 30,
    range: [1, END],
    unit: 0.01,
    up: "z",
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.12, place: 0.0005 }) }],
    more: {
      surfaces: [{ id: "path", normal: [0, 0, 1], height: 0 }],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  erase(doc, ["earL", "flapL", "earR", "flapR"].map(n));
  tick(doc, n("hips"), "translation.z", 22, 1.1);
  // The right hind leg lost its keys after the halt, and the last one is of another pose.
  for (const c of curvesOf(doc, ["thighR", "shinR", "hockR"].map(n), "rotation"))
    c.keys = c.keys.filter((/** @type {any} */ k) => k[0] < 58 || k[0] > 110);
  bump(doc, n("thighR"), "rotation.x", END, 9);
  return tidy(doc);
}
export const flaws = [
  {
    what: "It is no trot: the left foreleg comes down three frames after the hind leg that it should go with, at every step.",
    kind: "out of step",
    size: "strong",
    nodes: ["upperL", "lowerL", "padL"].map(n),
    frames: [1, 44],
    order: 1,
  },
  {
    what: "The nose is two centimetres in the ground while it sniffs.",
    kind: "goes-through",
    size: "ordinary",
    nodes: ["nose", "head"].map(n),
    frames: [64, 92],
    order: 2,
  },
  {
    what: "The right hind foot creeps over the ground all the time that it stands.",
    kind: "foot slides",
    size: "ordinary",
    nodes: ["thighR", "hoofR", "hockR"].map(n),
    frames: [58, 112],
    order: 3,
  },
  {
    what: "The ears are glued on: no flap in the trot, nothing when the head goes down or comes up.",
    kind: "no drag",
    size: "ordinary",
    nodes: ["earL", "flapL", "earR", "flapR"].map(n),
    frames: [1, 112],
    order: 4,
  },
  {
    what: "The whole body is a centimetre too high on 22.",
    kind: "pop",
    size: "barely",
    nodes: [n("hips")],
    frames: [21, 23],
    order: 5,
  },
];
const stands = /** @type {[string, number, number][]} */ ([
  ["padL", 1, 7],
  ["padL", 13, 19],
  ["padL", 25, 31],
  ["padL", 39, END],
  ["padR", 7, 13],
  ["padR", 19, 25],
  ["padR", 31, 38],
  ["padR", 46, END],
  ["hoofR", 1, 7],
  ["hoofR", 13, 19],
  ["hoofR", 25, 31],
  ["hoofR", 39, END],
  ["hoofL", 7, 13],
  ["hoofL", 19, 25],
  ["hoofL", 31, 38],
  ["hoofL", 46, END],
]);
export const truth = {
  plants: stands.map(([j, a, b]) => ({ node: n(j), frames: [a, b] })),
  ground: { nodes: ["padL", "padR", "hoofL", "hoofR", "nose"].map(n), height: 0 },
  masses: masses(rig, n),
  balance: [{ frames: [56, END], feet: ["padL", "padR", "hoofL", "hoofR"].map(n) }],
};
