// @ts-check
// A tusker walks up to a tree, takes a branch, and pulls until it slips.
import { masses, names } from "../../creatures/kit/bodies.mjs";
import { val } from "../../creatures/kit/curve.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { bump, curvesOf, erase, shift } from "../../creatures/kit/edits.mjs";
import { fourLegs, runOut } from "../../creatures/kit/gaits.mjs";
import { bothSides, makeRig, Pose } from "../../creatures/kit/rig.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { drift, follow, soft, stretches, walkPlants } from "../kit-B/motion.mjs";

export const name = "tusker_branch";
export const about =
  "A four-ton tusker walks up and stops, lifts its trunk to a branch, curls round its tip and leans back to pull it down; the branch slips and whips up, and the beast rocks and looks after it.";

const FPS = 24;
const END = 144;
const range = /** @type {[number, number]} */ ([1, END]);
const HIP = 1.76;
const GRAB = 82;
const SLIP = 108;
const TRUNK = ["trunk1", "trunk2", "trunk3", "trunk4", "trunk5", "trunk6"];
const rig = makeRig(
  /** @type {any} */ ([
    ["hips", null, [0, 1.9, 0], 900, "yxz"],
    ["loin", "hips", [0, 0.12, 0.6], 900],
    ["chest", "loin", [0, 0, 0.75], 900],
    ["neck", "chest", [0, 0.22, 0.5], 150],
    ["head", "neck", [0, 0.18, 0.38], 400],
    ["crown", "head", [0, 0.3, 0.15], 0],
    ...TRUNK.map((t, i) => [
      t,
      i === 0 ? "head" : TRUNK[i - 1],
      i === 0 ? [0, -0.22, 0.36] : [0, -0.32 + 0.015 * i, 0.02],
      [40, 30, 22, 16, 10, 6][i],
    ]),
    ["finger", "trunk6", [0, -0.2, 0.02], 0],
    ["tail1", "hips", [0, 0.05, -0.42], 4],
    ["tail2", "tail1", [0, -0.32, -0.05], 3],
    ["tail3", "tail2", [0, -0.34, -0.02], 2],
    ["tuft", "tail3", [0, -0.25, 0], 0],
    ...bothSides([
      ["ear*", "head", [0.28, 0.08, -0.08], 12],
      ["earTip*", "ear*", [0.38, -0.3, -0.22], 0],
      ["thigh*", "hips", [0.34, -0.1, 0], 120, "xzy"],
      ["shin*", "thigh*", [0, -0.85, 0.001], 60],
      ["hock*", "shin*", [0, -0.67, 0], 30],
      ["hoof*", "hock*", [0, -0.28, 0], 0],
      ["upper*", "chest", [0.34, -0.12, 0.12], 110, "xzy"],
      ["lower*", "upper*", [0, -0.84, 0], 60],
      ["wrist*", "lower*", [0, -0.74, 0], 30],
      ["pad*", "wrist*", [0, -0.3, 0], 0],
    ]),
  ]),
);
const n = names({
  hips: "C_pelvis",
  loin: "C_barrel",
  chest: "C_shoulders",
  neck: "C_neck",
  head: "C_head",
  crown: "C_crown",
  ...Object.fromEntries(TRUNK.map((t, i) => [t, `C_trunk_0${i + 1}`])),
  finger: "C_trunk_tip",
  tail1: "C_tail_01",
  tail2: "C_tail_02",
  tail3: "C_tail_03",
  tuft: "C_tail_tip",
  "ear*": "*_ear",
  "earTip*": "*_ear_tip",
  "thigh*": "*_rear_femur",
  "shin*": "*_rear_tibia",
  "hock*": "*_rear_ankle",
  "hoof*": "*_rear_sole",
  "upper*": "*_front_humerus",
  "lower*": "*_front_radius",
  "wrist*": "*_front_wrist",
  "pad*": "*_front_sole",
});

const PERIOD = 46;
const V = 1.12 / PERIOD;
/** @param {boolean} bad */
const way = (bad) => (/** @type {number} */ f) => (bad ? runOut(f, V, 48.5, 51.5) : runOut(f, V, 36, 64));
const zAt = way(false);
const walk = { period: PERIOD, stand: 33, stop: 62, zAt, end: END };
const plants = {
  hindL: walkPlants({ ...walk, first: 2, off: -0.02, x: 0.3, endOff: 0.06 }),
  foreL: walkPlants({ ...walk, first: 12, off: 1.47, x: 0.3, endOff: 1.52 }),
  hindR: walkPlants({ ...walk, first: 25, off: -0.02, x: -0.3, endOff: -0.12 }),
  foreR: walkPlants({ ...walk, first: 35, off: 1.47, x: -0.3, endOff: 1.4 }),
};
const going = soft(
  [
    [40, 1],
    [66, 0],
  ],
  5,
);
const wave = (/** @type {number} */ f) => Math.cos(((f - 2) / PERIOD) * 4 * Math.PI) * going(f);
const sway = (/** @type {number} */ f) => Math.sin(((f - 2) / PERIOD) * 2 * Math.PI) * going(f);
const raise = soft(
  [
    [45, 0],
    [50, -0.04],
    [77, 1],
    [GRAB, 1],
  ],
  5,
);
const curl = soft(
  [
    [64, 0],
    [80, 1],
    [SLIP - 2, 1],
    [SLIP + 5, 0.35],
    [SLIP + 20, 0.15],
  ],
  3,
);
const pull = soft(
  [
    [86, 0],
    [92, 0.25],
    [98, 0.55],
    [105, 0.9],
    [SLIP, 1],
    [SLIP + 22, 0],
  ],
  4,
);
const loose = soft(
  [
    [SLIP, 0],
    [SLIP + 7, 1],
    [SLIP + 14, 0.7],
    [SLIP + 24, 0.72],
  ],
  3,
);
const rock = follow(
  (f) =>
    val(f, [
      [86, 0],
      [SLIP - 1, -1],
      [SLIP + 1, 0],
    ]),
  range,
  {
    fps: FPS,
    hz: 0.8,
    damp: 0.5,
  },
);
const sag = follow((f) => 9 * wave(f - 3) + 6 * sway(f), range, { fps: FPS, hz: 0.9, damp: 0.4 });
const earSwing = follow((f) => 10 * wave(f - 4) + 14 * pull(f) - 8 * loose(f), range, {
  fps: FPS,
  hz: 1.1,
  damp: 0.35,
});

/** @param {{ hard?: boolean, flat?: boolean, lazy?: boolean }} bad @param {number[][]} tips where the tip of the trunk is, frame by frame */
const act = (bad, tips) => {
  const z = way(Boolean(bad.hard));
  return (/** @type {Pose} */ p, /** @type {number} */ f) => {
    const up = bad.flat ? 0 : 1;
    const still = 1 - going(f);
    const breath = drift(f, 62, 1) * still;
    const lean = bad.lazy ? 0 : rock(f);
    p.move(
      "hips",
      0.055 * sway(f - 2) * up,
      HIP - 0.028 * wave(f) * up + 0.03 * lean + 0.004 * breath,
      z(f) + 0.13 * lean,
    );
    p.rot("hips", 0.8 * wave(f - 2) * up - 2.5 * lean, 2 * sway(f), 2.2 * sway(f + 4) * up);
    p.rot("loin", -0.6 * wave(f - 3) * up + 1.2 * lean + 0.4 * breath, -2 * sway(f), -1.6 * sway(f) * up);
    p.rot("chest", 0.5 * wave(f - 5) * up + 0.8 * lean, -1.2 * sway(f), -1.8 * sway(f - 4) * up);
    const tug = bad.lazy ? 0.2 * pull(f) : pull(f);
    p.rot("neck", 5 + 2.2 * wave(f - 6) - 7 * raise(f) + 9 * tug, 1.5 * sway(f - 6), 0);
    p.rot(
      "head",
      4 + 2.4 * wave(f - 8) - 15 * raise(f - 1) + 13 * tug - 5 * loose(f - 3) - 0.6 * breath,
      0,
      0,
    );
    const r = raise(f);
    TRUNK.forEach((t, i) => {
      const g = f - 2.5 * i;
      const late = raise(f - 0.8 * i);
      const hang = [4, 3, 2, -3, -6, -8][i] + sag(g) * [0.3, 0.4, 0.5, 0.6, 0.6, 0.5][i] * (1 - r);
      const lifted = [-58, -34, -18, -6, 4, 2][i];
      const wrap = [0, 0, 0, -6, -34, -58][i];
      const drop = [12, 9, 5, 2, 0, 0][i];
      const back = [10, 12, 14, 8, 4, 0][i];
      const settle = 2.2 * drift(g, 46, 2) * still * [0.4, 0.6, 0.8, 1, 1, 1][i] * 0.6;
      p.rot(
        t,
        hang * (1 - late) +
          lifted * late +
          wrap * curl(f - 0.5 * (i - 3)) +
          drop * pull(f - 0.5 * i) +
          back * loose(f - 1.6 * i) +
          settle,
        0,
        sway(g - 4) * 3 * (1 - late),
      );
    });
    tips[f] = p.point("finger");
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      p.rot(
        `ear${s}`,
        0,
        k * (-14 + 0.6 * earSwing(f) + 5 * drift(f, 58, 3) * still),
        k * 0.3 * earSwing(f - 2),
      );
    }
    [1, 2, 3].forEach((i) => {
      const g = f - 4 * i;
      p.rot(
        `tail${i}`,
        -6 + 2 * wave(g) - 7 * lean * (i === 1 ? 1 : 0.6),
        0,
        7 * sway(g) + 7 * drift(g, 50, 5) * still * (i / 3),
      );
    });
    fourLegs(p, f, plants, { hip: HIP, lift: 0.22, hindLean: 2, foreLean: 0, fold: 34 });
  };
};

const branch = makeRig(
  /** @type {any} */ ([
    ["bough", null, [0, 0, 0], 0, "yxz"],
    ["limb", "bough", [0, 0, -1.5], 0, "yxz"],
    ["twig", "limb", [0, 0, -1.2], 0, "yxz"],
  ]),
);
const bn = (/** @type {string} */ role) => `tree_${role}`;

/** @param {{ hard?: boolean, flat?: boolean, lazy?: boolean, limp?: boolean }} bad */
function build(bad) {
  /** @type {number[][]} */ const good = [];
  const first = new Pose(rig);
  act({}, good)(first, GRAB);
  const rest = good[GRAB];
  const root = [0, rest[1] + 0.55, rest[2] + 1.65];
  /** @type {number[][]} */ const tips = [];
  const take = perform(rig, range, act(bad, tips));
  const ring = follow((f) => (f < SLIP ? 1 : 0), range, { fps: FPS, hz: 1.7, damp: 0.16 });
  const fall = tips[SLIP].map((v, i) => v - rest[i]);
  const wood = perform(branch, range, (p, f) => {
    p.move("bough", root[0], root[1], root[2]);
    let at = rest;
    if (f >= GRAB && f <= SLIP) at = tips[f];
    if (f > SLIP) {
      const k = bad.limp ? Math.max(0, 1 - (f - SLIP) / 24) : ring(f) / ring(SLIP);
      at = rest.map((v, i) => v + fall[i] * k);
    }
    const air =
      0.008 *
      drift(f, 40, 6) *
      (f < GRAB ? Math.min(1, (GRAB - f) / 20) : f > SLIP ? Math.min(1, (f - SLIP) / 20) : 0);
    p.reach("bough", "limb", "twig", [at[0], at[1] + air, at[2]], [0, 1, 0.2]);
  });
  return makeDocument({
    name: "tusker_0210",
    fps: FPS,
    range,
    up: "z",
    unit: 0.01,
    bodies: [
      { rig, name: n, curves: keyed(take, { how: "smooth", turn: 0.06, place: 0.001 }) },
      { rig: branch, name: bn, curves: keyed(wood, { how: "smooth", turn: 0.1, place: 0.002 }) },
    ],
    more: {
      figures: [
        {
          id: "tusker",
          parts: { root: n("hips"), head: n("head"), neck: n("neck") },
          limbs: [
            ...["L", "R"].flatMap((s) =>
              [
                ["rear", ["thigh", "shin", "hock", "hoof"]],
                ["front", ["upper", "lower", "wrist", "pad"]],
              ].map(([what, js]) => ({
                id: `${what} leg ${s}`,
                kind: "leg",
                side: s === "L" ? "left" : "right",
                nodes: /** @type {string[]} */ (js).map((j) => n(j + s)),
                sole: { toe: n(/** @type {string[]} */ (js)[3] + s), thickness: 0 },
              })),
            ),
            { id: "trunk", kind: "tentacle", nodes: [...TRUNK, "finger"].map(n) },
          ],
        },
      ],
      surfaces: [{ id: "savanna", normal: [0, 0, 1], height: 0 }],
      contacts: [{ node: n("finger"), with: bn("twig"), frames: [GRAB, SLIP] }],
    },
  });
}
export const clean = () => build({});
export function flawed() {
  const doc = build({ hard: true, flat: true, lazy: true, limp: true });
  // The trunk was worked over in the pull and the branch was not: they part.
  for (const [f, by] of [
    [92, 10],
    [96, 16],
    [100, 9],
  ])
    bump(doc, n("trunk2"), "rotation.x", f, by);
  shift(curvesOf(doc, ["upperR", "lowerR", "wristR"].map(n), "rotation"), [18, 40], 4);
  erase(doc, ["earL", "earR"].map(n));
  return doc;
}
/** @type {import('../../scenes.d.ts').Flaw[]} */
export const flaws = [
  {
    what: "Four tons walk in and stop within three frames. It needs the last step and a half to run out.",
    kind: "stop too hard",
    size: "strong",
    nodes: [n("hips")],
    frames: [46, 56],
    order: 1,
  },
  {
    what: "No effort in the pull: the trunk bends down all alone, body and head stand by. It has to lean back with all it has, and rock when the branch slips.",
    kind: "no effort",
    size: "ordinary",
    nodes: ["hips", "chest", "neck", "head"].map(n),
    frames: [86, 120],
    order: 2,
  },
  {
    what: "The walk has no weight: the body rides level and dead straight, nothing drops on the steps or shifts over the standing side.",
    kind: "no weight",
    size: "ordinary",
    nodes: [n("hips")],
    frames: [1, 50],
    order: 4,
  },
  {
    what: "The trunk comes away from the branch in the middle of the pull and the branch goes on coming.",
    kind: "hand off the thing",
    size: "ordinary",
    nodes: ["trunk2", "finger"].map(n).concat("tree_twig"),
    frames: [90, 103],
    order: 3,
  },
  {
    what: "When it slips the branch drifts back up at one speed and stops. It is bent wood: it whips past and rings out.",
    kind: "no spring",
    size: "ordinary",
    nodes: ["tree_bough", "tree_limb", "tree_twig"],
    frames: [108, 134],
    order: 5,
  },
  {
    what: "Right front leg is late on its step, it drags behind the body and then skids when it should stand.",
    kind: "foot slides",
    size: "ordinary",
    nodes: ["upperR", "lowerR", "wristR", "padR"].map(n),
    frames: [18, 46],
    order: 6,
  },
  {
    what: "Ears are nailed to the head all through.",
    kind: "part forgotten",
    size: "barely",
    nodes: ["earL", "earR"].map(n),
    frames: [1, 144],
    order: 7,
  },
];
export const truth = {
  plants: ["L", "R"].flatMap((s) => [
    ...stretches(n(`hoof${s}`), plants[/** @type {"hindL"} */ (`hind${s}`)], range),
    ...stretches(n(`pad${s}`), plants[/** @type {"foreL"} */ (`fore${s}`)], range),
  ]),
  ground: { nodes: ["padL", "padR", "hoofL", "hoofR", "finger"].map(n), height: 0, under: 0.006 },
  masses: masses(rig, n),
  balance: [{ frames: [66, END], feet: ["padL", "padR", "hoofL", "hoofR"].map(n) }],
};
