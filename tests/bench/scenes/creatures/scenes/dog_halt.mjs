// @ts-check
// A dog trots in and halts.
import { beast, masses, names } from "../kit/bodies.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { bump, curvesOf, erase, tidy } from "../kit/edits.mjs";
import { fourLegs, laid, runOut, trail } from "../kit/gaits.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "dog_halt";
export const about =
  "A dog trots in and brakes to a halt. It settles, then turns its head to its left towards a noise.";

const HIP = 0.5;
const rig = beast({
  hip: HIP,
  body: 0.5,
  mass: 22,
  wide: 0.08,
  neck: [0, 0.17, 0.1],
  head: [0, -0.02, 0.19],
  tail: [0, -0.02, -0.11],
  tails: 4,
});
const n = names(
  {
    L: "near",
    R: "off",
    hips: "Croup",
    loin: "Back",
    chest: "Withers",
    neck: "Neck",
    head: "Skull",
    nose: "Nose",
    tail1: "Tail_1",
    tail2: "Tail_2",
    tail3: "Tail_3",
    tail4: "Tail_4",
    "thigh*": "Stifle_*",
    "shin*": "Gaskin_*",
    "hock*": "Hock_*",
    "hoof*": "HindPaw_*",
    "upper*": "Shoulder_*",
    "lower*": "Elbow_*",
    "wrist*": "Wrist_*",
    "pad*": "ForePaw_*",
  },
  "dog:",
);
const V = 0.82 / 16;
const END = 84;

/** @param {boolean} bad */
function build(bad) {
  const zAt = (/** @type {number} */ f) => runOut(f, V, 44, 62);
  const bodyZ = bad ? (/** @type {number} */ f) => runOut(f, V, 51.5, 54.5) : zAt;
  const a = /** @type {[number, number][]} */ ([
    [1, 9],
    [17, 25],
    [33, 41],
    [49, END + 60],
  ]);
  const b = /** @type {[number, number][]} */ ([
    [-7, 1],
    [9, 17],
    [25, 33],
    [41, 50],
    [57, END + 60],
  ]);
  const plants = {
    foreL: laid(a, zAt, 0.41, 0.08),
    hindR: laid(a, zAt, -0.03, -0.07),
    foreR: laid(b, zAt, 0.4, -0.08),
    hindL: laid(b, zAt, -0.03, 0.07),
  };
  plants.foreL[3].at[2] = zAt(END) + 0.44;
  plants.hindR[3].at[2] = zAt(END) - 0.05;
  const trot = (/** @type {number} */ f) =>
    val(f, [
      [40, 1],
      [58, 0],
    ]);
  const wave = (/** @type {number} */ f) => Math.cos(((f - 5) / 8) * 2 * Math.PI) * trot(f);
  const sway = (/** @type {number} */ f) => Math.sin(((f - 1) / 16) * 2 * Math.PI) * trot(f);
  const brake = (/** @type {number} */ f) =>
    val(f, [
      [44, 0],
      [56, 1],
      [66, -0.25],
      [74, 0],
    ]);
  const look = (/** @type {number} */ f) =>
    val(f, [
      [64, 0],
      [67, -0.06],
      [75, 1.05],
      [80, 1],
    ]);
  const take = perform(rig, [1, END], (p, f) => {
    const drop = 0.012 * wave(f) + 0.012;
    p.move("hips", 0.006 * sway(f), HIP * 0.97 - drop - 0.02 * brake(f), bodyZ(f));
    p.rot("hips", 1.2 * wave(f - 1) + 3 * brake(f), 2.5 * sway(f), 2 * sway(f + 2));
    p.rot("loin", -1.5 * wave(f - 2) + 2 * brake(f - 1), -2 * sway(f), -1 * sway(f));
    p.rot("chest", 1 * wave(f - 2), -2 * sway(f) + 3 * look(f - 2), -1.5 * sway(f));
    p.rot("neck", -6 + 3 * wave(f - 3) + 12 * brake(f - 3) - 4 * look(f), 22 * look(f), 0);
    p.rot("head", 10 - 3.5 * wave(f - 4) - 4 * brake(f - 5), 30 * look(f + 1), -8 * look(f));
    trail(p, ["tail1", "tail2", "tail3", "tail4"], f, 2, (g, i) => [
      [14, -10, -14, -12][i] + 4 * wave(g) - 14 * brake(g) * [0.5, 1, 1, 1.2][i],
      7 * sway(g) + 6 * look(g),
      0,
    ]);
    fourLegs(p, f, plants, { hip: HIP, lift: 0.1 });
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    shot: { stage: "splining" },
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.2, place: 0.001 }) }],
    more: {
      figures: [
        {
          id: "dog",
          parts: { root: n("hips"), head: n("head") },
          limbs: [
            ...["L", "R"].flatMap((s) =>
              [
                ["hind leg", ["thigh", "shin", "hock", "hoof"]],
                ["foreleg", ["upper", "lower", "wrist", "pad"]],
              ].map(([what, js]) => ({
                id: `${s === "L" ? "near" : "off"} ${what}`,
                kind: "leg",
                side: s === "L" ? "left" : "right",
                nodes: /** @type {string[]} */ (js).map((j) => n(j + s)),
                sole: { toe: n(/** @type {string[]} */ (js)[3] + s), thickness: 0 },
              })),
            ),
            { id: "tail", kind: "tail", nodes: [1, 2, 3, 4].map((i) => n(`tail${i}`)) },
          ],
        },
      ],
      surfaces: [{ id: "pavement", normal: [0, 1, 0], height: 0 }],
      contacts: [
        ["padL", 49],
        ["hoofR", 49],
        ["padR", 57],
        ["hoofL", 57],
      ].map(([j, f]) => ({ node: n(`${j}`), with: "pavement", frames: [f, END] })),
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  erase(doc, ["tail2", "tail3", "tail4"].map(n));
  bump(doc, n("hips"), "translation.y", 29, -2.2);
  for (const c of curvesOf(doc, ["thighR", "shinR", "hockR"].map(n), "rotation")) {
    c.keys = c.keys.filter((/** @type {any} */ k) => k[0] < 57 || k[0] > 83);
  }
  bump(doc, n("thighR"), "rotation.x", 84, 5);
  return tidy(doc);
}
export const flaws = [
  {
    what: "He stops dead: at full trot on 51 and still on 55, no slowing down, there is no weight in it.",
    kind: "stop too hard",
    size: "strong",
    nodes: [n("hips")],
    frames: [50, 56],
    order: 1,
  },
  {
    what: "The tail past its first joint is a stick, nothing drags behind the trot or swings through after the halt.",
    kind: "no drag",
    size: "ordinary",
    nodes: ["tail2", "tail3", "tail4"].map(n),
    frames: [1, 84],
    order: 3,
  },
  {
    what: "Off hind paw creeps over the ground all through the settle instead of standing.",
    kind: "foot slides",
    size: "ordinary",
    nodes: ["thighR", "hoofR"].map(n),
    frames: [56, 84],
    order: 2,
  },
  {
    what: "Little bump down of the whole body on 29.",
    kind: "pop",
    size: "barely",
    nodes: [n("hips")],
    frames: [28, 30],
    order: 4,
  },
];
export const truth = {
  plants: [
    ["padL", 1, 9],
    ["padL", 17, 25],
    ["padL", 33, 41],
    ["padL", 49, 84],
    ["padR", 9, 17],
    ["padR", 25, 33],
    ["padR", 41, 50],
    ["padR", 57, 84],
    ["hoofR", 1, 9],
    ["hoofR", 17, 25],
    ["hoofR", 33, 41],
    ["hoofR", 49, 84],
    ["hoofL", 9, 17],
    ["hoofL", 25, 33],
    ["hoofL", 41, 50],
    ["hoofL", 57, 84],
  ].map(([j, a, b]) => ({ node: n(`${j}`), frames: [a, b] })),
  ground: { nodes: ["padL", "padR", "hoofL", "hoofR"].map(n), height: 0 },
  masses: masses(rig, n),
  balance: [{ frames: [66, 84], feet: ["padL", "padR", "hoofL", "hoofR"].map(n) }],
};
