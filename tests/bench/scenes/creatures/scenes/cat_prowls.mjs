// @ts-check
// A cat goes along a wall.
import { pop } from "../../slips.mjs";
import { beast, foreOf, hindOf, masses, names } from "../kit/bodies.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { fourLegs, trail } from "../kit/gaits.mjs";
import { cycle } from "../kit/steps.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "cat_prowls";
export const about =
  "A cat prowls along a wall at an even walk, head low; half way it looks aside to its left and on again. Shoulders roll, the spine sways, the tail follows.";

const END = 112;
const T = 26;
const STRIDE = 0.4;
const V = STRIDE / T;
const rig = beast({
  hip: 0.27,
  body: 0.3,
  mass: 4.5,
  wide: 0.05,
  neck: [0, 0.03, 0.07],
  head: [0, -0.02, 0.06],
  tail: [0, 0, -0.065],
  tails: 5,
});
const n = names({
  L: "vas",
  R: "oik",
  hips: "lantio",
  loin: "lanne",
  chest: "rinta",
  neck: "niska",
  head: "paa",
  nose: "kuono",
  tail1: "hanta_1",
  tail2: "hanta_2",
  tail3: "hanta_3",
  tail4: "hanta_4",
  tail5: "hanta_5",
  "thigh*": "reisi_*",
  "shin*": "saari_*",
  "hock*": "kinner_*",
  "hoof*": "takatassu_*",
  "upper*": "olka_*",
  "lower*": "kyynar_*",
  "wrist*": "ranne_*",
  "pad*": "etutassu_*",
});
const DUTY = 0.66;
const PHASE = { hindL: 0, foreL: 0.24, hindR: 0.5, foreR: 0.74 };
const FORE = 0.3 * 0.82;
/** @param {"hindL" | "foreL" | "hindR" | "foreR"} leg */
const plantsOf = (leg) =>
  cycle({
    period: T,
    stride: STRIDE,
    duty: DUTY,
    phase: PHASE[leg],
    cycles: 8,
    start: -T,
    x: (leg.endsWith("L") ? 1 : -1) * (leg.startsWith("h") ? 0.04 : 0.032),
    z0: (STRIDE * DUTY) / 2 - STRIDE + (leg.startsWith("h") ? 0.01 : FORE + 0.005),
  });
const plants = {
  hindL: plantsOf("hindL"),
  foreL: plantsOf("foreL"),
  hindR: plantsOf("hindR"),
  foreR: plantsOf("foreR"),
};
const wave = (/** @type {number} */ f, /** @type {number} */ k, /** @type {number} */ late) =>
  Math.sin((2 * Math.PI * k * (f - late)) / T);

/** @param {boolean} bad */
function build(bad) {
  const feet = structuredClone(plants);
  // The body stops in mid step and catches up when the paw is down.
  const when = (/** @type {number} */ f) =>
    bad && f > 66 && f < 80
      ? val(f, [
          [66, 66],
          [69, 68.2],
          [75, 69.6],
          [80, 80],
        ])
      : f;
  const aside = (/** @type {number} */ f) =>
    val(f, [
      [46, 0],
      [58, 1],
      [74, 0.94],
      [88, 0],
      [112, 0],
    ]);
  const take = perform(rig, [1, END], (p, f) => {
    p.move("hips", 0.006 * wave(f, 1, 2), 0.238 + 0.005 * wave(f, 2, 4), V * when(f));
    p.rot("hips", 2 + 1.4 * wave(f, 2, 1), 5 * wave(f, 1, 21), 3.5 * wave(f, 1, 4));
    p.rot("loin", -1 - 1.2 * wave(f, 2, 3), -5 * wave(f, 1, 19.5), -2 * wave(f, 1, 5));
    p.rot("chest", 3 + 1.5 * wave(f, 2, 6), -6 * wave(f, 1, 18.5) + 3 * aside(f - 4), -4.5 * wave(f, 1, 9));
    const block = bad ? 0 : 1;
    p.rot(
      "neck",
      16 - (bad ? 0 : 2.2 * wave(f, 2, 7)),
      block * (3.4 * wave(f, 1, 18.5) + 22 * aside(f - 1)),
      block * 2.2 * wave(f, 1, 9),
    );
    p.rot(
      "head",
      -4 - (bad ? 0 : 1.6 * wave(f, 2, 8) + 4 * aside(f)),
      block * (2.2 * wave(f, 1, 18.5) + 30 * aside(f)) + (bad ? 2 : 0),
      block * 2 * wave(f, 1, 9),
    );
    trail(p, ["tail1", "tail2", "tail3", "tail4"], f, bad ? 0 : 3.4, (t, i) =>
      bad && i > 0
        ? [[0, -14, -18, -16][i], 0, 0]
        : [[38, -14, -18, -16][i] + 2.5 * wave(t, 2, 5), (bad ? 26 : [7, 8, 9, 11][i]) * wave(t, 1, 17), 0],
    );
    // A forepaw was keyed a second time further on.
    if (bad)
      feet.foreR[3].at = [
        plants.foreR[3].at[0],
        0,
        plants.foreR[3].at[2] +
          val(f, [
            [47, 0],
            [60, 0.055],
          ]),
      ];
    fourLegs(p, f, /** @type {any} */ (feet), {
      hip: 0.27,
      lift: 0.045,
      hindLean: 6,
      foreLean: -4,
      fold: 48,
    });
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.12, place: 0.0006 }) }],
    things: [{ id: "muuri", translation: [-40, 30, 130], shapes: [{ kind: "box", size: [10, 60, 420] }] }],
    more: {
      figures: [
        {
          id: "kissa",
          parts: { root: n("hips"), head: n("head") },
          limbs: [
            ...["L", "R"].flatMap((s) => [
              {
                id: `takajalka ${n(`hoof${s}`).slice(-3)}`,
                kind: "leg",
                side: s === "L" ? "left" : "right",
                nodes: hindOf(s).map(n),
              },
              {
                id: `etujalka ${n(`pad${s}`).slice(-3)}`,
                kind: "leg",
                side: s === "L" ? "left" : "right",
                nodes: foreOf(s).map(n),
              },
            ]),
            { id: "hanta", kind: "tail", nodes: [1, 2, 3, 4, 5].map((i) => n(`tail${i}`)) },
          ],
        },
      ],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  pop(doc, n("hockR"), "rotation.x", 31, 17);
  return doc;
}
export const flaws = [
  {
    what: "Between 68 and 78 the body all but stops in the air before the next paw is down, then shoots forward to catch up.",
    kind: "slows before the foot",
    size: "strong",
    nodes: [n("hips")],
    frames: [66, 81],
    order: 1,
  },
  {
    what: "The right forepaw creeps forward under its weight.",
    kind: "foot slides",
    size: "ordinary",
    nodes: [n("padR"), n("wristR")],
    frames: [46, 62],
    order: 2,
  },
  {
    what: "The right hock kicks for a single frame at 31.",
    kind: "pop",
    size: "ordinary",
    nodes: [n("hockR"), n("hoofR")],
    frames: [30, 32],
    order: 3,
  },
  {
    what: "The head is nailed to the chest: it sways with it, and never looks aside.",
    kind: "one-block",
    size: "ordinary",
    nodes: [n("head"), n("neck")],
    frames: [1, END],
    order: 4,
  },
  {
    what: "The tail swings from its root like a stick, no wave goes down it.",
    kind: "no drag",
    size: "barely",
    nodes: [1, 2, 3, 4].map((i) => n(`tail${i}`)),
    frames: [1, END],
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
      })),
  ),
  ground: { nodes: ["padL", "padR", "hoofL", "hoofR"].map(n), height: 0 },
  masses: masses(rig, n),
};
