// @ts-check
// A boxer's cross, slip and hook, blocked.
import { masses, names, person } from "../kit/bodies.mjs";
import { makeDocument } from "../kit/document.mjs";
import { bump, curvesOf } from "../kit/edits.mjs";
import { strike } from "../kit/people.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "boxer_combo";
export const about =
  "A boxer in guard throws a cross with her right, slips under the answer, comes back with a left hook and settles in guard. Blocked in step keys.";

const END = 72;
const rig = person(1.72, { mass: 62 });
const n = names({
  L: "_li",
  R: "_re",
  hips: "becken",
  waist: "lende",
  chest: "brust",
  neck: "hals",
  head: "kopf",
  crown: "kopf_ende",
  "thigh*": "oberschenkel*",
  "shin*": "unterschenkel*",
  "foot*": "fuss*",
  "ball*": "ballen*",
  "toe*": "zehe*",
  "clav*": "schulter*",
  "arm*": "oberarm*",
  "fore*": "unterarm*",
  "hand*": "hand*",
  "tip*": "hand_ende*",
});
const FL = { at: [0.13, 0, 0.3], yaw: 8 };
const FR = { at: [-0.16, 0, -0.18], yaw: -42, pitch: 14 };
/** Guard: weight between the feet, chin down, fists up. */
const guard = {
  hips: [-0.01, 0.79, 0.0],
  hipsR: [6, -28, 0],
  waist: [5, -4, 0],
  chest: [8, -6, 0],
  neck: [4, 14, 0],
  head: [4, 22, 0],
  clavL: [8, 8],
  clavR: [6, 8],
  armL: [48, -10, 16, 112],
  armR: [34, -14, 20, 128],
  handL: [8, 0, 0],
  handR: [4, 0, 0],
  footL: FL,
  footR: FR,
};
/** @type {[number, any][]} */
const POSES = [
  [1, guard],
  [
    9,
    {
      ...guard,
      hips: [0, 0.775, 0.015],
      waist: [7, -4, 1],
      chest: [9, -5, 0],
      armL: [46, -10, 18, 110],
      head: [5, 20, 0],
    },
  ],
  [
    15,
    {
      ...guard,
      hips: [-0.035, 0.755, -0.045],
      hipsR: [5, -36, 2],
      waist: [6, -9, 0],
      chest: [9, -16, 0],
      neck: [4, 22, 0],
      head: [5, 34, 0],
      armL: [54, -8, 14, 106],
      armR: [16, -12, 24, 134],
      clavR: [-8, 10],
      footR: { ...FR, pitch: 6 },
    },
  ],
  [
    20,
    {
      ...guard,
      hips: [-0.04, 0.74, -0.055],
      hipsR: [5, -40, 2],
      waist: [6, -11, 0],
      chest: [9, -19, 0],
      neck: [4, 24, 0],
      head: [5, 40, 0],
      armL: [56, -8, 14, 106],
      armR: [10, -12, 25, 138],
      clavR: [-12, 10],
      footR: { ...FR, pitch: 4 },
    },
  ],
  [
    23,
    {
      ...guard,
      hips: [0.045, 0.765, 0.1],
      hipsR: [9, 14, -2],
      waist: [6, 12, 0],
      chest: [9, 20, 0],
      neck: [4, -16, 0],
      head: [2, -28, 0],
      armL: [40, -8, 12, 124],
      armR: [100, -6, 40, 8],
      clavR: [22, 6],
      handR: [2, 0, 0],
      footR: { ...FR, yaw: -20, pitch: 40 },
    },
  ],
  [
    26,
    {
      ...guard,
      hips: [0.05, 0.76, 0.11],
      hipsR: [10, 17, -2],
      waist: [7, 14, 0],
      chest: [10, 23, 0],
      neck: [4, -18, 0],
      head: [2, -33, 0],
      armL: [38, -8, 12, 126],
      armR: [97, -6, 42, 14],
      clavR: [20, 6],
      handR: [6, 0, 0],
      footR: { ...FR, yaw: -20, pitch: 41 },
    },
  ],
  [
    32,
    {
      ...guard,
      hips: [0.01, 0.775, 0.045],
      hipsR: [7, -16, 0],
      waist: [5, 0, 0],
      chest: [8, 2, 0],
      neck: [4, 4, 0],
      head: [4, 10, 0],
      armR: [48, -14, 24, 112],
      footR: { ...FR, yaw: -34, pitch: 24 },
    },
  ],
  [
    37,
    {
      ...guard,
      hips: [0.05, 0.66, 0.04],
      hipsR: [16, -10, -6],
      waist: [14, 6, -8],
      chest: [14, 8, -8],
      neck: [-12, -2, 6],
      head: [-14, 4, 6],
      armL: [60, -10, 10, 118],
      armR: [50, -14, 14, 128],
      footR: { ...FR, yaw: -34, pitch: 28 },
    },
  ],
  [
    44,
    {
      ...guard,
      hips: [0.075, 0.67, 0.05],
      hipsR: [14, 14, -5],
      waist: [10, 14, -6],
      chest: [12, 22, -4],
      neck: [-10, -18, 4],
      head: [-10, -28, 4],
      armL: [14, -30, 52, 92],
      armR: [48, -14, 14, 130],
      clavL: [-12, 4],
      footR: { ...FR, yaw: -26, pitch: 32 },
    },
  ],
  [
    48,
    {
      ...guard,
      hips: [-0.02, 0.785, 0.02],
      hipsR: [4, -44, 2],
      waist: [3, -14, 2],
      chest: [5, -22, 2],
      neck: [2, 26, 0],
      head: [2, 46, 0],
      armL: [66, -72, 58, 88],
      armR: [32, -14, 18, 132],
      clavL: [18, 12],
      footL: { ...FL, yaw: -14, pitch: 22 },
    },
  ],
  [
    51,
    {
      ...guard,
      hips: [-0.025, 0.785, 0.015],
      hipsR: [4, -50, 2],
      waist: [3, -17, 2],
      chest: [5, -26, 2],
      neck: [2, 28, 0],
      head: [2, 54, 0],
      armL: [62, -74, 50, 98],
      armR: [32, -14, 18, 132],
      clavL: [16, 12],
      footL: { ...FL, yaw: -14, pitch: 22 },
    },
  ],
  [
    58,
    {
      ...guard,
      hips: [-0.015, 0.77, -0.005],
      hipsR: [6, -33, 0],
      armL: [50, -8, 22, 108],
      footL: { ...FL, yaw: 2, pitch: 6 },
    },
  ],
  [65, guard],
];

/** @param {boolean} bad */
function build(bad) {
  const poses = POSES.map(([f, s]) => /** @type {[number, any]} */ ([f, structuredClone(s)]));
  const at = (/** @type {number} */ f) => /** @type {any} */ (poses.find((q) => q[0] === f))[1];
  if (bad) {
    for (const f of [15, 20]) Object.assign(at(f), structuredClone(at(9)));
    for (const f of [32, 37]) at(f).footL = { at: [0.19, 0, f === 32 ? 0.36 : 0.25], yaw: 8 };
    for (const f of [48, 51]) Object.assign(at(f), { neck: [8, -12, 0], head: [16, -18, 0] });
    at(58).hips = [-0.2, 0.79, -0.14];
  }
  const take = perform(rig, [1, END], (p, f) => strike(p, poses.filter((q) => q[0] <= f).slice(-1)[0][1]));
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "step", poses: poses.map((q) => q[0]) }) }],
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  for (const c of curvesOf(doc, [n("armR"), n("foreR")], "rotation")) {
    c.keys = c.keys.filter((/** @type {any} */ k) => k[0] !== 32 && k[0] !== 37);
  }
  bump(doc, n("crown").replace("_ende", ""), "rotation.z", 9, 9);
  return doc;
}
export const flaws = [
  {
    what: "The cross comes out of nothing, there is no wind-up, the body stays in guard until the fist is out.",
    kind: "no anticipation",
    size: "strong",
    nodes: ["hips", "chest", "armR"].map(n),
    frames: [9, 23],
    order: 1,
  },
  {
    what: "She looks down and away from her opponent while she hits him with the hook.",
    kind: "eyes miss their mark",
    size: "ordinary",
    nodes: [n("neck"), n("head")],
    frames: [48, 57],
    order: 3,
  },
  {
    what: "Left foot is somewhere else on 32 and again on 37, it should be planted all through.",
    kind: "foot slides",
    size: "ordinary",
    nodes: ["thighL", "shinL", "footL"].map(n),
    frames: [32, 43],
    order: 2,
  },
  {
    what: "The right arm stays out straight through 32 and 37 while she ducks, someone forgot to key it back.",
    kind: "keys missing",
    size: "ordinary",
    nodes: ["armR", "foreR"].map(n),
    frames: [32, 43],
    order: 4,
  },
  {
    what: "At 58 her hips are behind and beside her back foot, she would fall.",
    kind: "weight not over feet",
    size: "ordinary",
    nodes: [n("hips")],
    frames: [58, 64],
    order: 5,
  },
  {
    what: "The head is tilted on 9 for no reason.",
    kind: "stray pose",
    size: "barely",
    nodes: [n("head")],
    frames: [9, 14],
    order: 6,
  },
];
export const truth = {
  plants: [
    { node: n("ballL"), frames: [1, END] },
    { node: n("ballR"), frames: [1, END] },
  ],
  ground: { nodes: [n("ballL"), n("ballR")], height: 0 },
  masses: masses(rig, n),
  balance: [{ frames: [1, END], feet: ["ballL", "ballR"].map(n), margin: 0.03 }],
  spikes: { ratio: 1e9 },
};
