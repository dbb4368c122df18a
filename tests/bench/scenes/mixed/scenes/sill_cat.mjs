// @ts-check
import { beast, foreOf, hindOf, masses, names } from "../../creatures/kit/bodies.mjs";
import { val } from "../../creatures/kit/curve.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { curvesOf } from "../../creatures/kit/edits.mjs";
import { centreAt } from "../../creatures/kit/rig.mjs";
import { footAt, paw } from "../../creatures/kit/steps.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { track } from "../../people/kit/curve.mjs";
import { pop } from "../../slips.mjs";

export const name = "sill_cat";
export const about =
  "A cat measures the height of a sill, crouches and shifts its hindquarters, leaps up, lands forefeet first, and looks round with a swishing tail.";

const FPS = 30;
const END = 116;
const TOP = 0.5;
const UP = 47;
const TOUCH = 58;
const HIND = 62;
const rig = beast({
  hip: 0.25,
  body: 0.3,
  mass: 4.2,
  wide: 0.042,
  neck: [0, 0.06, 0.06],
  head: [0, -0.012, 0.06],
  tail: [0, 0.012, -0.058],
  tails: 6,
  hind: [0.44, 0.48, 0.32],
  fore: [0.42, 0.46, 0.2],
});
const n = names({
  L: "g",
  R: "d",
  hips: "bassin",
  loin: "reins",
  chest: "poitrail",
  neck: "encolure",
  head: "tete",
  nose: "truffe",
  "thigh*": "cuisse_*",
  "shin*": "jarret_*",
  "hock*": "canon_arr_*",
  "hoof*": "patte_arr_*",
  "upper*": "bras_*",
  "lower*": "avbras_*",
  "wrist*": "canon_av_*",
  "pad*": "patte_av_*",
  tail1: "queue_a",
  tail2: "queue_b",
  tail3: "queue_c",
  tail4: "queue_d",
  tail5: "queue_e",
  tail6: "queue_f",
});

const T = (TOUCH - UP) / FPS;
const [y0, z0, y1, z1] = [0.315, 0.285, 0.73, 0.8];
const vy = ((y1 - y0) / T + 4.905 * T) / FPS;
const vz = (z1 - z0) / T / FPS;
const vEnd = vy - (9.81 * T) / FPS;

/** @param {boolean} bad */
function build(bad) {
  const standY = 0.262;
  const rise = track({
    1: standY,
    14: standY + 0.004,
    22: standY,
    36: bad ? standY : 0.165,
    41: { v: bad ? standY - 0.005 : 0.158, s: 0 },
    [UP]: { v: y0, s: vy },
  });
  const ahead = track({
    1: 0.18,
    16: 0.184,
    34: bad ? 0.18 : 0.152,
    40: { v: bad ? 0.182 : 0.154, s: 0 },
    [UP]: { v: z0, s: vz },
  });
  const after = bad
    ? track({ [TOUCH]: { v: y1, s: vEnd }, 62: TOP + standY, [END]: TOP + standY })
    : track({
        [TOUCH]: { v: y1, s: vEnd },
        65: TOP + 0.185,
        75: TOP + standY + 0.008,
        82: TOP + standY,
        [END]: TOP + standY + 0.002,
      });
  const on = track({ [TOUCH]: { v: z1, s: vz }, 68: 0.975, 76: 0.965, 84: 0.968, [END]: 0.97 });
  const com = (/** @type {number} */ f) => {
    if (f <= UP) return [0, rise(f), ahead(f)];
    if (f >= TOUCH) return [0, after(f), on(f)];
    const t = (f - UP) / FPS;
    return [0, y0 + vy * FPS * t - 4.905 * t * t, z0 + vz * FPS * t];
  };
  const short = bad ? 0.17 : 0;
  const plants = {
    hindL: [
      { from: -9, to: UP, at: [0.045, 0, 0.04] },
      { from: HIND, to: END + 9, at: [0.045, TOP, 0.82 - short] },
    ],
    hindR: [
      { from: -9, to: UP, at: [-0.045, 0, 0.025] },
      { from: HIND + 1, to: END + 9, at: [-0.045, TOP, 0.8 - short] },
    ],
    foreL: [
      { from: -9, to: 42, at: [0.036, 0, 0.335] },
      { from: TOUCH, to: END + 9, at: [0.036, TOP, 1.075] },
    ],
    foreR: [
      { from: -9, to: 42.5, at: [-0.036, 0, 0.35] },
      { from: TOUCH + 1, to: END + 9, at: [-0.036, TOP, 1.085] },
    ],
  };
  const pitch = track({
    1: 2,
    18: 0,
    34: 5,
    40: 4,
    [UP]: -46,
    52: -36,
    [TOUCH]: 2,
    62: 14,
    70: 2,
    80: 1,
    [END]: 1,
  });
  const arch = track({ 1: 0, 34: 10, 41: 12, [UP]: -16, 52: -10, [TOUCH]: 8, 63: 14, 72: 2, [END]: 2 });
  const headUp = track({
    1: 4,
    8: -12,
    20: -20,
    30: -16,
    40: -20,
    [UP]: 14,
    52: 12,
    [TOUCH]: 4,
    64: -18,
    74: -4,
    84: -8,
    96: -4,
    [END]: -4,
  });
  const look = track({ 1: -8, 10: 4, 76: 0, 82: 4, 90: 34, 100: 32, 110: 20, [END]: 18 });
  const wiggle = (/** @type {number} */ f) =>
    bad
      ? 0
      : Math.sin((f - 28) * 0.95) *
        val(f, [
          [27, 0],
          [31, 1],
          [38, 1],
          [42, 0],
        ]);
  const swish = (/** @type {number} */ f) =>
    14 *
      Math.sin(f / 6.5) *
      val(f, [
        [1, 0.5],
        [22, 0.5],
        [32, 1],
        [44, 0.2],
        [64, 0.2],
        [80, 1.3],
        [116, 1.1],
      ]) +
    7 * wiggle(f);
  const lift = track({ 1: 18, 24: 14, 36: 6, 42: 13, 50: 16, 58: 8, 66: 26, 78: 10, 92: 16, [END]: 15 });
  const take = perform(rig, [1, END], (p, f) => {
    p.rot("hips", pitch(f), 3.4 * wiggle(f), 2 * wiggle(f));
    p.rot("loin", -0.5 * arch(f), -2 * wiggle(f), 0);
    p.rot("chest", -0.6 * arch(f - 1), -1.4 * wiggle(f), 0);
    p.rot("neck", headUp(f) * 0.7 - 0.35 * pitch(f), look(f - 1) * 0.5, 0);
    p.rot("head", headUp(f - 1) * 0.6 - 0.3 * pitch(f - 1), look(f) * 0.7, 0.1 * look(f));
    for (let i = 1; i <= 5; i++) {
      const late = f - 2 * i;
      p.rot(
        `tail${i}`,
        lift(late) * (i === 1 ? 1.2 : 0.55) - (i === 1 ? 12 : 0),
        swish(late) * (0.5 + 0.16 * i),
        0,
      );
    }
    const legs = () => {
      for (const s of ["L", "R"]) {
        const h = footAt(plants[/** @type {'hindL'} */ (`hind${s}`)], f, 0.2, 0.9);
        const hip = p.world(`thigh${s}`).p;
        const trailing = val(f, [
          [40, 0],
          [47, 1],
          [54, 0.7],
          [61, 0],
        ]);
        paw(p, hindOf(s), h.at, 24 + 90 * (hip[2] - h.at[2]) * (1 - trailing) + 34 * trailing, [0, 0.1, 1]);
        const g = footAt(plants[/** @type {'foreL'} */ (`fore${s}`)], f, 0.24, 0.85);
        const sh = p.world(`upper${s}`).p;
        paw(p, foreOf(s), g.at, 8 + 60 * (sh[2] - g.at[2]) + 30 * g.up, [0, -0.1, -1]);
      }
    };
    centreAt(p, com(f), legs);
  });
  return makeDocument({
    name,
    fps: FPS,
    range: [1, END],
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.07, place: 0.0006 }) }],
    things: [{ id: "rebord", translation: [0, 25, 109], shapes: [{ kind: "box", size: [120, 50, 84] }] }],
    more: {
      surfaces: [
        { id: "sol", height: 0 },
        {
          id: "dessus",
          height: TOP * 100,
          edges: [
            [-60, 67],
            [60, 151],
          ],
        },
      ],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  // The tail was keyed on the first frame.
  for (const c of curvesOf(
    doc,
    [1, 2, 3, 4, 5].map((i) => n(`tail${i}`)),
    "rotation",
  ))
    c.keys = [c.keys[0].slice(0, 2)];
  pop(doc, n("head"), "rotation.y", 86, -6);
  return doc;
}

export const flaws = [
  {
    what: "It stands on straight legs, and the next moment it is on its way up; nothing has been gathered for such a leap.",
    kind: "no anticipation",
    size: "strong",
    nodes: [n("hips"), n("thighL"), n("thighR"), n("shinL"), n("shinR")],
    frames: [26, 47],
    order: 1,
  },
  {
    what: "The hind feet come down on air; the sill only begins farther on.",
    kind: "foot-misses-support",
    size: "ordinary",
    nodes: ["hoofL", "hoofR"].map(n),
    frames: [60, 116],
    order: 2,
  },
  {
    what: "No give in the landing: the legs take the leap like the legs of a table.",
    kind: "landing without give",
    size: "ordinary",
    nodes: [n("hips"), n("chest"), n("padL"), n("padR")],
    frames: [58, 76],
    order: 3,
  },
  {
    what: "The tail has been forgotten, it is dragged along like a wire.",
    kind: "tail dead",
    size: "ordinary",
    nodes: [1, 2, 3, 4, 5, 6].map((i) => n(`tail${i}`)),
    frames: [1, 116],
    order: 4,
  },
  {
    what: "As the head turns, it flicks back for a single frame.",
    kind: "pop",
    size: "barely",
    nodes: [n("head")],
    frames: [85, 87],
    order: 5,
  },
];
export const truth = {
  plants: ["L", "R"].flatMap((s) => [
    { node: n(`hoof${s}`), frames: /** @type {[number, number]} */ ([1, UP]), limit: 0.009 },
    { node: n(`hoof${s}`), frames: /** @type {[number, number]} */ ([HIND + 1, END]) },
    { node: n(`pad${s}`), frames: /** @type {[number, number]} */ ([1, 42]) },
    { node: n(`pad${s}`), frames: /** @type {[number, number]} */ ([TOUCH + 1, END]) },
  ]),
  air: [{ frames: /** @type {[number, number]} */ ([UP, TOUCH]) }],
  ground: { nodes: ["padL", "padR", "hoofL", "hoofR"].map(n), height: 0, under: 0.008 },
  spikes: { except: /** @type {[number, number][]} */ ([[41, 66]]) },
  masses: masses(rig, n),
  balance: [
    { frames: /** @type {[number, number]} */ ([1, 36]), feet: ["padL", "padR", "hoofL", "hoofR"].map(n) },
    { frames: /** @type {[number, number]} */ ([70, END]), feet: ["padL", "padR", "hoofL", "hoofR"].map(n) },
  ],
};
