// @ts-check
// An ant with a seed in its jaws stops, feels about, and turns off to its right.
import { names } from "../../creatures/kit/bodies.mjs";
import { valueAt } from "../../creatures/kit/curve.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { bump, curvesOf, erase, shift, straight } from "../../creatures/kit/edits.mjs";
import { add, mul, turn } from "../../creatures/kit/math.mjs";
import { bothSides, heading, makeRig } from "../../creatures/kit/rig.mjs";
import { footAt } from "../../creatures/kit/steps.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { drift, follow, soft, stretches } from "../kit-B/motion.mjs";

export const name = "ant_seed";
export const about =
  "An ant carries a seed on six legs, three at a time. It stops and feels about with its antennae, one and then the other, turns to its right on the spot and hurries off.";

const FPS = 25;
const END = 120;
const range = /** @type {[number, number]} */ ([1, END]);
const MM = 0.001;
const mm = (/** @type {number[]} */ v) => mul(v, MM);
const rig = makeRig(
  /** @type {any} */ ([
    ["thorax", null, mm([0, 2.9, 0]), 0.3, "yxz"],
    ["head", "thorax", mm([0, 0.35, 1.9]), 0.25, "yxz"],
    ["jaws", "head", mm([0, -0.45, 1.15]), 0],
    ["waist", "thorax", mm([0, 0.1, -1.8]), 0.05],
    ["gaster", "waist", mm([0, 0.25, -0.7]), 0.4],
    ["sting", "gaster", mm([0, -0.3, -2.4]), 0],
    ...bothSides([
      ["scape*", "head", mm([0.35, 0.35, 0.7]), 0, "yxz"],
      ["whip*", "scape*", mm([0.5, 0.7, 1.2]), 0, "yxz"],
      ["feeler*", "whip*", mm([0.2, -0.5, 1.7]), 0],
      ...["a", "b", "c"].flatMap((row, i) => [
        [`femur_${row}*`, "thorax", mm([0.6, -0.3, [1.2, 0, -1.2][i]]), 0.01, "yzx"],
        [`tibia_${row}*`, `femur_${row}*`, mm([2.4, 1.5 + 0.2 * i, 0]), 0.01, "yzx"],
        [`foot_${row}*`, `tibia_${row}*`, mm([1.2, -3.3 - 0.3 * i, 0]), 0],
      ]),
    ]),
  ]),
);
const n = names({
  L: "li",
  R: "re",
  thorax: "rumpf",
  head: "kopf",
  jaws: "kiefer",
  waist: "stiel",
  gaster: "hinterleib",
  sting: "hinterleib_ende",
  "scape*": "fuehler_*_1",
  "whip*": "fuehler_*_2",
  "feeler*": "fuehler_*_ende",
  ...Object.fromEntries(
    ["a", "b", "c"].flatMap((row, i) => [
      [`femur_${row}*`, `bein${i + 1}_*_schenkel`],
      [`tibia_${row}*`, `bein${i + 1}_*_schiene`],
      [`foot_${row}*`, `bein${i + 1}_*_fuss`],
    ]),
  ),
});
const HOME = /** @type {Record<string, number[]>} */ ({
  a: mm([2.7, 0, 3.5]),
  b: mm([3.7, 0, 0.2]),
  c: mm([2.9, 0, -3.7]),
});

const yaw = soft(
  [
    [66, 0],
    [92, -58],
  ],
  4,
);
/** How far along its own nose it has come, in mm; the walk speeds up as it leaves. @param {boolean} bad */
const speedOf = (bad) =>
  bad
    ? soft(
        [
          [30, 0.5],
          [42, 0],
          [89.6, 0],
          [90.4, 0.9],
        ],
        0.4,
      )
    : soft(
        [
          [30, 0.5],
          [42, 0],
          [76, 0],
          [92, 0.32],
          [106, 0.62],
        ],
        4,
      );
/** @param {boolean} bad */
function pathOf(bad) {
  const speed = speedOf(bad);
  /** @type {number[][]} */ const at = [];
  let p = [0, 0, -12 * MM];
  for (let i = 0; i <= 260 * 4; i++) {
    at[i] = p;
    const f = i / 4 - 60;
    const a = (yaw(f) * Math.PI) / 180;
    p = add(p, mul([Math.sin(a), 0, Math.cos(a)], (speed(f) * MM) / 4));
  }
  return (/** @type {number} */ f) => {
    const t = (f + 60) * 4;
    const i = Math.floor(t);
    return add(at[i], mul(add(at[i + 1], mul(at[i], -1)), t - i));
  };
}
// Swings of the two sets of three: left front, right middle, left rear, and the others.
const STARTS = /** @type {Record<string, number[]>} */ ({
  A: [-27, -17, -7, 3, 13, 23, 33, 66, 76, 86, 96, 106, 116],
  B: [-22, -12, -2, 8, 18, 28, 38, 71, 81, 91, 101, 111, 121],
});
const SETS = /** @type {Record<string, string>} */ ({ aL: "A", bR: "A", cL: "A", aR: "B", bL: "B", cR: "B" });
/** @param {ReturnType<typeof pathOf>} path @param {string} leg @param {string} set */
function plantsOf(path, leg, set) {
  const [row, side] = leg;
  const [x, y, z] = HOME[row];
  const home = [side === "L" ? x : -x, y, z];
  const starts = STARTS[set];
  return starts.map((s, i) => {
    const from = s + 5;
    const to = starts[i + 1] ?? 132;
    const mid = (from + to) / 2;
    return { from, to, at: add(path(mid), turn(heading(yaw(mid), 0), home)) };
  });
}
const goodPath = pathOf(false);
const plants = Object.fromEntries(
  Object.entries(SETS).map(([leg, set]) => [leg, plantsOf(goodPath, leg, set)]),
);

const stop = soft(
  [
    [32, 0],
    [42, 1],
    [64, 1],
    [74, 0],
  ],
  3,
);
const feelL = soft(
  [
    [40, 0],
    [44, 1],
    [47, 0.3],
    [50, 0.8],
    [55, 0.1],
    [62, 0.4],
    [70, 0],
  ],
  1.5,
);
const feelR = soft(
  [
    [46, 0],
    [51, 1.1],
    [55, 0.6],
    [58, 1],
    [64, 0.2],
    [72, 0],
  ],
  1.5,
);
const glance = soft(
  [
    [43, 0],
    [49, 1],
    [53, 0.85],
    [60, -1],
    [68, -1.1],
    [84, -0.4],
    [94, 0],
  ],
  3,
);
/** @param {number} f -1 to 1 in time with the steps */
const beat = (f) => Math.sin((2 * Math.PI * (f - 3)) / 10) * (1 - stop(f));
const tailYaw = follow((f) => yaw(f) + 2.5 * beat(f), range, { fps: FPS, hz: 2.2, damp: 0.5 });
const tailDip = follow((f) => 7 * stop(f) + 2 * beat(f + 2), range, { fps: FPS, hz: 2.4, damp: 0.35 });

/** @param {{ gait?: boolean, start?: boolean, twins?: boolean }} bad */
function build(bad) {
  const path = pathOf(Boolean(bad.start));
  const feet = Object.fromEntries(
    Object.entries(SETS).map(([leg, set]) => [
      leg,
      plantsOf(path, leg, bad.gait && leg === "bL" ? "A" : set),
    ]),
  );
  /** @type {{ p: number[], q: number[] }[]} */ const jaws = [];
  const take = perform(rig, range, (p, f) => {
    const [x, , z] = path(f);
    const s = stop(f);
    const y = 2.75 + 0.06 * Math.abs(beat(f)) - 0.12 * s + 0.035 * drift(f, 33, 1) * s;
    const a = (yaw(f) * Math.PI) / 180;
    const side = 0.16 * beat(f + 1) * MM;
    p.move("thorax", x + side * Math.cos(a), y * MM, z - side * Math.sin(a) - 0.15 * s * MM);
    p.rot("thorax", -7 * s + 0.8 * drift(f, 40, 2) * s, yaw(f) + 2.2 * beat(f), 2 * beat(f + 2));
    p.rot("head", 6 - 4 * s + 1.5 * beat(f - 2) + 2 * drift(f, 27, 3) * s, 15 * glance(f) - 1.8 * beat(f), 0);
    jaws[f] = p.world("jaws");
    p.rot("waist", -4 + 3 * s + 0.6 * (tailDip(f) - 7 * s), 0.6 * (tailYaw(f) - yaw(f)), 0);
    p.rot("gaster", 5 + tailDip(f - 1), 0.8 * (tailYaw(f - 1) - yaw(f - 1)), 0);
    for (const k of [1, -1]) {
      const left = k === 1 || bad.twins;
      const feel = left ? feelL : feelR;
      const seed = left ? 1 : 4.2;
      const d = drift(f, left ? 19 : 23, seed);
      const side = k === 1 ? "L" : "R";
      p.rot(
        `scape${side}`,
        4 + 16 * feel(f) + 4 * d,
        k * (12 - 26 * feel(f) + 7 * drift(f, 29, seed + 2)),
        0,
      );
      p.rot(
        `whip${side}`,
        6 + 24 * feel(f - 1.5) + 7 * drift(f - 2, left ? 19 : 23, seed),
        k * (4 - 12 * feel(f - 2)),
        0,
      );
    }
    for (const [leg, list] of Object.entries(feet)) {
      const [row, sd] = leg;
      const at = footAt(list, f, 0.9 * MM, 0.9);
      p.reach(`femur_${row}${sd}`, `tibia_${row}${sd}`, `foot_${row}${sd}`, at.at, [0, 1, 0], [0, 0, 1]);
    }
  });
  const seed = makeRig(
    /** @type {any} */ ([
      ["korn", null, [0, 0, 0], 0, "yxz"],
      ["korn_spitze", "korn", mm([0, 0.9, 1.6]), 0],
    ]),
  );
  const carried = perform(seed, range, (p, f) => {
    const [x, y, z] = jaws[f].p;
    p.move("korn", x, y, z);
    p.face("korn", jaws[f].q);
  });
  const habit = { how: "cubic", turn: 0.25, place: 0.00001 };
  return makeDocument({
    name: "ameise_07_b",
    fps: FPS,
    range,
    unit: MM,
    bodies: [
      { rig, name: n, curves: keyed(take, habit) },
      { rig: seed, name: (r) => r, curves: keyed(carried, habit) },
    ],
    more: {
      figures: [
        {
          id: "ameise",
          parts: { root: n("thorax"), head: n("head") },
          limbs: [
            ...Object.keys(SETS).map((leg) => ({
              id: `bein ${leg}`,
              kind: "leg",
              side: leg[1] === "L" ? "left" : "right",
              nodes: ["femur", "tibia", "foot"].map((b) => n(`${b}_${leg}`)),
            })),
            ...["L", "R"].map((s) => ({
              id: `fuehler ${s}`,
              kind: "other",
              side: s === "L" ? "left" : "right",
              nodes: [`scape${s}`, `whip${s}`, `feeler${s}`].map(n),
            })),
          ],
        },
      ],
      props: [{ node: "korn", heldBy: [{ node: n("jaws"), frames: [1, END] }] }],
    },
  });
}
export const clean = () => build({});
export function flawed() {
  const doc = build({ gait: true, start: true, twins: true });
  straight(curvesOf(doc, ["femur_cR", "tibia_cR"].map(n), "rotation"), [71, 86]);
  shift(curvesOf(doc, ["korn"]), [94, END], 2);
  for (const c of curvesOf(doc, ["korn"])) {
    c.keys = c.keys.filter((/** @type {any} */ k) => k[0] <= END);
    if (c.keys[c.keys.length - 1][0] < END) c.keys.push([END, valueAt(c.keys, END, c.interpolation)]);
  }
  erase(doc, ["waist", "gaster"].map(n));
  bump(doc, n("head"), "rotation.x", 57, -7);
  return doc;
}
/** @type {import('../../scenes.d.ts').Flaw[]} */
export const flaws = [
  {
    what: "All three legs of the left side come up at the same time; it would fall on its side. The middle one goes with the other three.",
    kind: "gait out of order",
    size: "strong",
    nodes: ["femur_b", "tibia_b", "foot_b"].map((j) => n(`${j}L`)),
    frames: [1, 120],
    order: 1,
  },
  {
    what: "It shoots off at 90 from nothing to full speed within a frame, the legs haven't even pushed.",
    kind: "start too hard",
    size: "ordinary",
    nodes: [n("thorax")],
    frames: [88, 94],
    order: 2,
  },
  {
    what: "Right hind foot is dragged over the ground and through it during the turn, no step there.",
    kind: "foot slides",
    size: "ordinary",
    nodes: ["femur_cR", "tibia_cR", "foot_cR"].map(n),
    frames: [71, 87],
    order: 4,
  },
  {
    what: "The seed comes loose from the jaws when it leaves, it is two frames behind.",
    kind: "prop not held",
    size: "ordinary",
    nodes: ["korn", n("jaws")],
    frames: [92, 120],
    order: 3,
  },
  {
    what: "Both antennae do the very same thing at the same time. They should feel one after the other.",
    kind: "twins",
    size: "ordinary",
    nodes: ["scapeL", "scapeR", "whipL", "whipR"].map(n),
    frames: [38, 74],
    order: 5,
  },
  {
    what: "The hind part is stuck on like a block, it never swings out in the turn or settles at the halt.",
    kind: "no drag",
    size: "barely",
    nodes: ["waist", "gaster"].map(n),
    frames: [32, 110],
    order: 6,
  },
  {
    what: "Head hitches up for a frame on 57.",
    kind: "pop",
    size: "barely",
    nodes: [n("head")],
    frames: [55, 59],
    order: 7,
  },
];
export const truth = {
  plants: Object.entries(plants).flatMap(([leg, list]) =>
    stretches(n(`foot_${leg}`), list, range).map((s) => ({ ...s, limit: 0.0001 })),
  ),
  ground: { nodes: [...Object.keys(SETS).map((leg) => n(`foot_${leg}`)), "korn"], height: 0, under: 0.00008 },
};
