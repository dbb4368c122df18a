// @ts-check
// A hare hops and sits up; a key on every frame.
import { beast, foreOf, hindOf, masses, names } from "../kit/bodies.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { curvesOf, erase } from "../kit/edits.mjs";
import { centreAt } from "../kit/rig.mjs";
import { footAt, paw } from "../kit/steps.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "hare_hops";
export const about =
  "A hare makes three hops over a field, stops on its fours, and rises on its haunches to listen. There is a key on every frame.";

const FPS = 30;
const T = 13;
const AIR = 5;
const HOP = 0.62;
const END = 96;
const G = 9.81 / FPS / FPS;
const base = beast({
  hip: 0.2,
  body: 0.2,
  mass: 3.8,
  wide: 0.04,
  neck: [0, 0.05, 0.05],
  head: [0, -0.01, 0.08],
  tail: [0, 0.02, -0.03],
  tails: 2,
  hind: [0.65, 0.7, 0.55],
  fore: [0.6, 0.62, 0.25],
});
base.joints.push(
  ...["L", "R"].flatMap((s) => [
    { id: `ear${s}`, parent: "head", at: [s === "L" ? 0.02 : -0.02, 0.03, 0], mass: 0.02, order: "yxz" },
    { id: `earMid${s}`, parent: `ear${s}`, at: [0, 0.05, -0.02], mass: 0.01, order: "yxz" },
    { id: `earTip${s}`, parent: `earMid${s}`, at: [0, 0.05, -0.02], mass: 0, order: "yxz" },
  ]),
);
for (const j of base.joints) base.by.set(j.id, j);
const rig = base;
const n = names({
  L: "L",
  R: "R",
  hips: "pelvis",
  loin: "spine1",
  chest: "spine2",
  hoofL: "hindtoe.L",
  hoofR: "hindtoe.R",
  padL: "foretoe.L",
  padR: "foretoe.R",
  "thigh*": "thigh.*",
  "shin*": "shin.*",
  "hock*": "metatarsus.*",
  "upper*": "upperarm.*",
  "lower*": "forearm.*",
  "wrist*": "metacarpus.*",
  "ear*": "ear.*",
  "earMid*": "ear_mid.*",
  "earTip*": "ear_end.*",
});

// One hop: hind feet push on 0 to 4, flight, forefeet catch from 9, hind feet come down again on 13.
const starts = [1, 14, 27];
const LAND = 40;
/** The arc of the centre of mass. @param {number} f @param {number} gravity */
function height(f, gravity) {
  const v = (G * AIR) / 2;
  const rest = 0.225;
  const stance = T - AIR;
  const dip = (v * stance) / Math.PI;
  for (const s of starts) {
    const t = f - s;
    if (t >= 4 && t <= 4 + AIR) return rest + gravity * (v * (t - 4) - (G * (t - 4) ** 2) / 2);
  }
  const from = starts
    .map((s) => s + 4 + AIR)
    .filter((s) => s <= f)
    .pop();
  if (from === 36 && f > 36)
    return (
      rest -
      0.02 +
      val(f, [
        [36, 0.02],
        [41, -0.05],
        [50, 0.008],
        [56, 0],
        [63, 0],
        [67, -0.022],
        [79, 0.12],
        [85, 0.112],
      ])
    );
  const u = (f - (from ?? 1 - 4)) / stance;
  return rest - dip * Math.sin(Math.PI * u);
}

/** @param {boolean} bad */
function build(bad) {
  const v = HOP / T;
  const zAt = (/** @type {number} */ f) =>
    f <= 34
      ? v * (f - 1)
      : v * 33 +
        val(f, [
          [34, 0],
          [36, v * 1.9],
          [40, v * 4.9],
          [50, v * 7.2],
          [63, v * 7.2],
          [67, v * 7.2 + 0.012],
          [79, v * 7.2 - 0.035],
          [85, v * 7.2 - 0.03],
        ]);
  const hind = (/** @type {number} */ x) =>
    [...starts, LAND].map((s) => ({
      from: s,
      to: s === LAND ? END + 9 : s + 4,
      at: [x, 0, v * (s + 1) - (s === LAND ? 0.075 : 0)],
    }));
  const fore = (/** @type {number} */ x, /** @type {number} */ late) => [
    { from: -4 + late, to: -0.5 + late, at: [x, 0, v * -1.5 + 0.06 + late * 0.02] },
    ...starts.map((s, i) =>
      i < 2
        ? { from: s + 9 + late, to: s + 12.5 + late, at: [x, 0, v * (s + 10) + 0.04 + late * 0.02] }
        : { from: s + 9 + late, to: 41 + late, at: [x, 0, v * 37 + 0.035 + late * 0.015] },
    ),
    { from: 50 + 2 * late, to: 66, at: [x, 0, zAt(60) + 0.11 + late * 0.012] },
    { from: 90, to: END + 9, at: [x, 0, 99] },
  ];
  const plants = { hindL: hind(0.05), hindR: hind(-0.05), foreL: fore(0.03, 0), foreR: fore(-0.03, 1) };
  const lag = (/** @type {number} */ f) =>
    Math.sin(((f - 3) / T) * 2 * Math.PI) *
    val(f, [
      [36, 1],
      [42, 0],
    ]);
  const stretch = (/** @type {number} */ f) =>
    Math.cos(((f - 7) / T) * 2 * Math.PI) *
    val(f, [
      [34, 1],
      [41, -0.3],
      [50, 0],
      [51, 0],
    ]);
  const up = (/** @type {number} */ f) =>
    val(f, [
      [62, 0],
      [66, -0.1],
      [78, 1.06],
      [84, 1],
      [96, 1.01],
    ]);
  const take = perform(rig, [1, END], (p, f) => {
    const rear = up(f);
    p.rot("hips", -2 + 3 * stretch(f) - 4 * lag(f) - 62 * rear, 0, 0);
    p.rot("loin", 2 - 2 * stretch(f) - 5 * lag(f - 1) + 8 * rear, 0, 0);
    p.rot("chest", -4 + 5 * stretch(f) - 3 * lag(f - 1) + 6 * rear, 0, 0);
    p.rot(
      "neck",
      -12 - 6 * stretch(f - 1) + 6 * lag(f - 2) + 16 * up(f - 2),
      14 *
        val(f, [
          [80, 0],
          [84, 1],
          [96, 1],
        ]),
      0,
    );
    p.rot(
      "head",
      8 - 4 * stretch(f - 1) + 4 * lag(f - 3) + 26 * up(f - 3),
      22 *
        val(f, [
          [79, 0],
          [85, 1],
          [96, 1],
        ]),
      0,
    );
    p.rot("tail1", -10 + 14 * lag(f - 2), 0, 0);
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      const prick = bad
        ? 0
        : val(f, [
            [72, 0],
            [78, 1.1],
            [83, 1],
            [96, 1],
          ]);
      p.rot(`ear${s}`, -38 - 16 * lag(f - 2) + 40 * prick, 10 * k, -8 * k - 6 * k * prick);
      p.rot(
        `earMid${s}`,
        -12 -
          14 * lag(f - 4) +
          16 *
            val(f - 2, [
              [72, 0],
              [78, 1.1],
              [83, 1],
              [96, 1],
            ]) *
            (bad ? 0 : 1),
        0,
        0,
      );
    }
    const folded = val(f, [
      [66, 0],
      [72, 1],
      [96, 1],
    ]);
    const legs = () => {
      for (const s of ["L", "R"]) {
        const h = footAt(plants[/** @type {'hindL'} */ (`hind${s}`)], f, 0.07, 0.8);
        const hipZ = p.world(`thigh${s}`).p[2];
        paw(p, hindOf(s), h.at, -28 + 130 * (hipZ - h.at[2]) + 46 * h.up - 18 * rear, [0, 0.2, 1]);
        const g = footAt(plants[/** @type {'foreL'} */ (`fore${s}`)], Math.min(f, 66), 0.03, 0.8);
        const sh = p.world(`upper${s}`).p;
        const hang = [sh[0], sh[1] - 0.085, sh[2] + 0.035];
        const at = g.at.map((x, i) => x + (hang[i] - x) * folded);
        paw(p, foreOf(s), at, 60 * (sh[2] - at[2]) * (1 - folded) + 10 * g.up + 48 * folded, [0, -0.2, -1]);
      }
    };
    centreAt(p, [0, height(f, bad && f < 36 && f > 26 ? 1.9 : 1), zAt(f)], legs);
  });
  return makeDocument({
    name,
    fps: FPS,
    range: [1, END],
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "every" }) }],
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  // Frames pasted over: the whole stands still for a frame in the first flight.
  for (const c of doc.curves) {
    const v = c.keys.find((/** @type {any} */ k) => k[0] === 7)[1];
    for (const k of c.keys) if (k[0] === 8) k[1] = v;
  }
  erase(doc, [n("tail1")]);
  for (const t of curvesOf(doc, [n("neck"), n("head")], "rotation.y")) {
    for (const k of t.keys) if (k[0] > 79) k[1] *= k[0] < 82 ? 0 : 1;
  }
  return doc;
}
export const flaws = [
  {
    what: "The third hop goes up twice as high in the same time, it is flung down and lands like a stone.",
    kind: "wrong gravity",
    size: "ordinary",
    nodes: [n("hips")],
    frames: [30, 37],
    order: 1,
  },
  {
    what: "A doubled frame in the first flight, the whole hare hangs at 7 and 8.",
    kind: "doubled frame",
    size: "ordinary",
    nodes: [n("hips")],
    frames: [7, 9],
    order: 2,
  },
  {
    what: "The ears stay laid back when it sits up to listen, as if they were glued on.",
    kind: "part left out",
    size: "ordinary",
    nodes: ["earL", "earR", "earMidL", "earMidR"].map(n),
    frames: [70, 96],
    order: 3,
  },
  {
    what: "The turn of the head at the end snaps, it starts at full way on 82.",
    kind: "start too hard",
    size: "barely",
    nodes: [n("neck"), n("head")],
    frames: [80, 83],
    order: 4,
  },
  {
    what: "The scut does nothing through the hops.",
    kind: "tail dead",
    size: "barely",
    nodes: [n("tail1"), n("tail2")],
    frames: [1, 42],
    order: 5,
  },
];
export const truth = {
  plants: [...starts, LAND]
    .flatMap((s) =>
      ["L", "R"].map((x) => ({
        node: n(`hoof${x}`),
        frames: /** @type {[number, number]} */ ([s, s === LAND ? END : s + 4]),
      })),
    )
    .concat(
      [10, 23].flatMap((s) => [
        { node: n("padL"), frames: [s, s + 3], limit: 0.013 },
        { node: n("padR"), frames: [s + 1, s + 4], limit: 0.013 },
      ]),
      [
        { node: n("padL"), frames: [36, 41] },
        { node: n("padL"), frames: [50, 66] },
        { node: n("padR"), frames: [52, 66] },
      ],
    ),
  air: starts.map((s) => ({ frames: /** @type {[number, number]} */ ([s + 4, s + 9]) })),
  ground: { nodes: ["padL", "padR", "hoofL", "hoofR"].map(n), height: 0, under: 0.008 },
  masses: masses(rig, n),
  balance: [
    {
      frames: /** @type {[number, number]} */ ([80, 96]),
      feet: ["hoofL", "hoofR", "hockL"].map(n),
      margin: 0.03,
    },
  ],
};
