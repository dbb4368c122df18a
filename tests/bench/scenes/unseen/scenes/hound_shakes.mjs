// @ts-check
// A wet hound walks up, stops, and shakes the water off.
import { masses, names } from "../../creatures/kit/bodies.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { at, bump, curvesOf, hold, tidy } from "../../creatures/kit/edits.mjs";
import { fourLegs, runOut } from "../../creatures/kit/gaits.mjs";
import { bothSides, makeRig } from "../../creatures/kit/rig.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { drift, follow, soft, stretches, walkPlants } from "../kit-B/motion.mjs";

export const name = "hound_shakes";
export const about =
  "A wet hound walks up and stops, lowers its head and shakes: the roll starts at the head and runs through the body into the tail. Then it lifts its head and looks to its left.";

const HIP = 0.57;
const END = 128;
const FPS = 30;
const rig = makeRig(
  /** @type {any} */ ([
    ["hips", null, [0, 0.64, 0], 6, "yxz"],
    ["loin", "hips", [0, 0.02, 0.2], 6],
    ["chest", "loin", [0, -0.01, 0.24], 8],
    ["neck", "chest", [0, 0.07, 0.14], 2],
    ["head", "neck", [0, 0.15, 0.13], 2],
    ["nose", "head", [0, -0.04, 0.2], 0],
    ["tail1", "hips", [0, 0.03, -0.07], 0.2],
    ["tail2", "tail1", [0, -0.03, -0.12], 0.1],
    ["tail3", "tail2", [0, -0.02, -0.12], 0.1],
    ["tail4", "tail3", [0, 0.01, -0.12], 0],
    ...bothSides([
      ["ear*", "head", [0.055, 0.04, 0.02], 0],
      ["lobe*", "ear*", [0.03, -0.06, 0], 0],
      ["flap*", "lobe*", [0.01, -0.06, 0.01], 0],
      ["thigh*", "hips", [0.09, -0.01, 0], 1.4, "xzy"],
      ["shin*", "thigh*", [0, -0.225, 0.001], 0.7],
      ["hock*", "shin*", [0, -0.23, 0], 0.3],
      ["hoof*", "hock*", [0, -0.175, 0], 0],
      ["upper*", "chest", [0.09, -0.05, 0.04], 1.2, "xzy"],
      ["lower*", "upper*", [0, -0.2, 0], 0.6],
      ["wrist*", "lower*", [0, -0.23, 0], 0.3],
      ["pad*", "wrist*", [0, -0.17, 0], 0],
    ]),
  ]),
);
const n = names(
  {
    L: "lewa",
    R: "prawa",
    hips: "zad",
    loin: "ledzwie",
    chest: "klatka",
    neck: "kark",
    head: "leb",
    nose: "nos",
    tail1: "ogon_1",
    tail2: "ogon_2",
    tail3: "ogon_3",
    tail4: "ogon_4",
    "ear*": "ucho_*",
    "lobe*": "ucho_srodek_*",
    "flap*": "ucho_koniec_*",
    "thigh*": "udo_*",
    "shin*": "golen_*",
    "hock*": "staw_*",
    "hoof*": "tylna_lapa_*",
    "upper*": "ramie_*",
    "lower*": "lokiec_*",
    "wrist*": "nadgarstek_*",
    "pad*": "przednia_lapa_*",
  },
  "ogar_",
);

const PERIOD = 30;
const V = 0.68 / PERIOD;
const zAt = (/** @type {number} */ f) => runOut(f, V, 34, 58);
const steps = { period: PERIOD, stand: 19.5, stop: 58, zAt, end: END };
const plants = {
  hindL: walkPlants({ ...steps, first: 4, off: -0.03, x: 0.08, endOff: -0.02 }),
  foreL: walkPlants({ ...steps, first: 11.5, off: 0.49, x: 0.085, endOff: 0.5 }),
  hindR: walkPlants({ ...steps, first: 19, off: -0.03, x: -0.08, endOff: -0.07 }),
  foreR: walkPlants({ ...steps, first: 26.5, off: 0.49, x: -0.085, endOff: 0.46 }),
};
const going = soft(
  [
    [38, 1],
    [58, 0],
  ],
  3,
);
const wave = (/** @type {number} */ f) => Math.cos(((f - 4) / PERIOD) * 4 * Math.PI) * going(f);
const sway = (/** @type {number} */ f) => Math.sin(((f - 4) / PERIOD) * 2 * Math.PI) * going(f);
const brake = soft(
  [
    [40, 0],
    [55, 1],
    [64, -0.15],
    [70, 0],
  ],
  3,
);
// How low the head is for the shake, with the body drawn back a little before it.
const low = soft(
  [
    [54, 0],
    [59, -0.12],
    [69, 1],
    [96, 1],
    [110, -0.08],
    [116, 0],
  ],
  3,
);
const gather = soft(
  [
    [56, 0],
    [70, 1],
    [80, 0.3],
    [98, 0.3],
    [110, 0],
  ],
  4,
);
const power = soft(
  [
    [66, 0],
    [76, 1],
    [88, 1],
    [103, 0],
  ],
  3,
);
const look = soft(
  [
    [106, 0],
    [109, -0.05],
    [118, 1.04],
    [124, 1],
  ],
  2,
);
/** The roll of a part that the shake reaches `late` frames after the head. @param {number} f @param {number} late */
const shake = (f, late) => power(f - late) * Math.sin((2 * Math.PI * 4.3 * (f - late)) / FPS);
const range = /** @type {[number, number]} */ ([1, END]);
const earRoll = follow((f) => 40 * shake(f, 0) + 6 * sway(f), range, { fps: FPS, hz: 5, damp: 0.4 });
const earNod = follow((f) => 8 * wave(f - 4) + 22 * low(f) + 10 * look(f), range, {
  fps: FPS,
  hz: 2.6,
  damp: 0.35,
});

/** @param {boolean} bad nothing runs through the body: croup and ribs were keyed on the frames of the head */
const act = (bad) =>
  perform(rig, range, (p, f) => {
    const hipsLate = bad ? 0 : 8;
    const ribsLate = bad ? 0 : 4;
    const still = 1 - going(f);
    const breath = drift(f, 38, 1) * still * (1 - power(f));
    p.move(
      "hips",
      0.012 * sway(f - 3) + 0.006 * shake(f, hipsLate),
      HIP - 0.02 - 0.009 * wave(f) - 0.014 * brake(f) - 0.022 * gather(f) + 0.002 * breath,
      zAt(f) - 0.028 * gather(f) + 0.012 * brake(f),
    );
    const hipRoll = 2.5 * sway(f + 2) + 8 * shake(f, hipsLate);
    const chestRoll = -2 * sway(f - 4) + 13 * shake(f, ribsLate);
    const headRoll = 34 * shake(f, 0);
    p.rot("hips", 1 * wave(f - 2) + 2 * brake(f) - 3 * gather(f), 3 * sway(f), hipRoll);
    p.rot(
      "loin",
      -1 * wave(f - 3) + 1.5 * brake(f - 2) + 2 * gather(f),
      -3 * sway(f),
      (chestRoll - hipRoll) / 2,
    );
    p.rot(
      "chest",
      0.8 * wave(f - 4) + 3 * low(f) + 0.7 * breath,
      -2 * sway(f) + 4 * look(f - 3),
      (chestRoll - hipRoll) / 2,
    );
    p.rot(
      "neck",
      6 + 3 * wave(f - 5) + 5 * brake(f - 3) + 34 * low(f) - 8 * look(f - 1) - 0.8 * breath,
      18 * look(f - 1),
      (headRoll - chestRoll) * 0.35,
    );
    p.rot(
      "head",
      4 - 3 * wave(f - 6) - 3 * brake(f - 5) - 12 * low(f - 1) + 4 * look(f),
      26 * look(f),
      (headRoll - chestRoll) * 0.65 - 7 * look(f),
    );
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      const out = 0.55 * (earRoll(f) - headRoll);
      p.rot(`ear${s}`, 0.25 * (earNod(f) - 26 * low(f)), 0, out + k * 14 * power(f - 1));
      p.rot(
        `lobe${s}`,
        0.3 * (earNod(f - 2) - 26 * low(f)),
        0,
        0.8 * (earRoll(f - 1.2) - 34 * shake(f, 1.2)),
      );
      p.rot(`flap${s}`, 0.2 * (earNod(f - 3) - 26 * low(f)), 0, 0);
    }
    for (const i of [1, 2, 3]) {
      const g = f - 2.4 * i;
      p.rot(
        `tail${i}`,
        [0, 22, -10, -16][i] + 3 * wave(g) - 5 * brake(g) + 6 * gather(g) + 2 * drift(g, 50, 3) * still,
        8 * sway(g - 4) +
          [0, 4, 9, 12][i] * shake(f, 10 + 1.8 * i) +
          5 * look(g) +
          3 * drift(g, 41, 2) * still,
        [0, -4, 0, 0][i] * shake(f, hipsLate),
      );
    }
    fourLegs(p, f, plants, { hip: HIP, lift: 0.065, hindLean: 6, foreLean: 2, fold: 40 });
  });

/** @param {boolean} bad */
function build(bad) {
  const take = act(bad);
  return makeDocument({
    name: "hound_0140",
    fps: FPS,
    range,
    unit: 0.01,
    shot: { stage: "splining" },
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.15, place: 0.0008 }) }],
    more: {
      figures: [
        {
          id: "hound",
          parts: { root: n("hips"), head: n("head") },
          limbs: [
            ...["L", "R"].flatMap((s) =>
              [
                ["hind", ["thigh", "shin", "hock", "hoof"]],
                ["fore", ["upper", "lower", "wrist", "pad"]],
              ].map(([what, js]) => ({
                id: `${what} ${s === "L" ? "left" : "right"}`,
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
      surfaces: [{ id: "yard", normal: [0, 1, 0], height: 0 }],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  const tails = curvesOf(doc, ["tail1", "tail2", "tail3"].map(n), "rotation.y");
  for (const c of tails) {
    const rest = at(c, 60);
    c.keys = c.keys.filter((/** @type {any} */ k) => k[0] <= 60 || k[0] >= 112);
    c.keys.push([62, Number(rest.toFixed(4))], [110, Number(rest.toFixed(4))]);
    c.keys.sort((/** @type {any} */ a, /** @type {any} */ b) => a[0] - b[0]);
  }
  // The body was set over by hand while the front legs stay keyed as they were.
  for (const f of [80, 86, 92]) bump(doc, n("hips"), "translation.z", f, f === 86 ? 4.5 : 3);
  // After the shake everything but the legs is held to the end.
  const top = [
    "hips",
    "loin",
    "chest",
    "neck",
    "head",
    "earL",
    "earR",
    "lobeL",
    "lobeR",
    "tail1",
    "tail2",
    "tail3",
  ];
  hold(curvesOf(doc, top.map(n)), [116, END]);
  // A step of the right hind leg was set a little high.
  for (const [node, by] of /** @type {[string, number][]} */ ([
    ["thighR", -5],
    ["shinR", 9],
  ]))
    for (const f of [20, 26, 32, 37]) bump(doc, n(node), "rotation.x", f, by);
  bump(doc, n("earL"), "rotation.z", 46, 26);
  for (const c of doc.curves) {
    const last = c.keys.findIndex((/** @type {any} */ k) => k[0] > END);
    if (last >= 0) c.keys.length = last;
  }
  return tidy(doc);
}

/** @type {import('../../scenes.d.ts').Flaw[]} */
export const flaws = [
  {
    what: "The shake hits head, ribs and croup on the same frames, like a block on a spit. It has to start in the head and travel back through the body.",
    kind: "all at once",
    size: "strong",
    nodes: ["hips", "loin", "chest"].map(n),
    frames: [66, 106],
    order: 1,
  },
  {
    what: "The tail just hangs there through the whole shake; the roll should end in it and whip it.",
    kind: "part forgotten",
    size: "ordinary",
    nodes: ["tail1", "tail2", "tail3"].map(n),
    frames: [64, 110],
    order: 3,
  },
  {
    what: "All four feet skate forward and back while it shakes, the body was pushed and the legs were not planted again.",
    kind: "feet slide",
    size: "ordinary",
    nodes: ["hips", "hoofL", "hoofR", "padL", "padR"].map(n),
    frames: [74, 98],
    order: 2,
  },
  {
    what: "Dead after 116, no breath, no tail, not an ear: it turns into a statue for the last half second.",
    kind: "dead hold",
    size: "ordinary",
    nodes: ["hips", "chest", "head"].map(n),
    frames: [116, 128],
    order: 5,
  },
  {
    what: "Right hind foot doesn't get down to the ground on its step at 20, it treads air.",
    kind: "foot floats",
    size: "ordinary",
    nodes: ["thighR", "shinR", "hoofR"].map(n),
    frames: [19, 38],
    order: 4,
  },
  {
    what: "One bad key on the left ear at 46, it flicks for no reason.",
    kind: "pop",
    size: "barely",
    nodes: ["earL", "lobeL"].map(n),
    frames: [44, 48],
    order: 6,
  },
];
const feet = { L: "L", R: "R" };
export const truth = {
  plants: Object.keys(feet).flatMap((s) => [
    ...stretches(n(`hoof${s}`), plants[/** @type {"hindL"} */ (`hind${s}`)], range),
    ...stretches(n(`pad${s}`), plants[/** @type {"foreL"} */ (`fore${s}`)], range),
  ]),
  ground: { nodes: ["padL", "padR", "hoofL", "hoofR"].map(n), height: 0 },
  masses: masses(rig, n),
  balance: [{ frames: [60, END], feet: ["padL", "padR", "hoofL", "hoofR"].map(n) }],
};
