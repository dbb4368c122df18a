// @ts-check
// A spider creeps, stops and threatens, blocked.
import { masses } from "../kit/bodies.mjs";
import { makeDocument } from "../kit/document.mjs";
import { curvesOf, shift } from "../kit/edits.mjs";
import { bothSides, makeRig } from "../kit/rig.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "spider_threat";
export const about =
  "A big spider creeps forward four legs at a time, stops dead, crouches, rears up with its forelegs raised, and lowers itself again. Blocked in step keys.";

const END = 84;
const H = 0.05;
const rig = makeRig(
  /** @type {any} */ ([
    ["thorax", null, [0, H, 0], 0.02, "yxz"],
    ["abdomen", "thorax", [0, 0.005, -0.02], 0.03, "yxz"],
    ["spinner", "abdomen", [0, 0.01, -0.06], 0],
    ["jaws", "thorax", [0, -0.004, 0.03], 0.003, "yxz"],
    ["fang", "jaws", [0, -0.012, 0.008], 0],
    ...bothSides(
      [1, 2, 3, 4].flatMap((i) => [
        [`hip${i}*`, "thorax", [0.018, 0, [0.018, 0.006, -0.006, -0.018][i - 1]], 0.002, "yzx"],
        [`knee${i}*`, `hip${i}*`, [[0.075, 0.068, 0.062, 0.072][i - 1], 0, 0], 0.001, "yzx"],
        [`claw${i}*`, `knee${i}*`, [[0.1, 0.088, 0.08, 0.1][i - 1], 0, 0], 0],
      ]),
    ),
  ]),
);
const n = (/** @type {string} */ r) => {
  const m = r.match(/^(hip|knee|claw)(\d)([LR])$/);
  return m
    ? `Leg${m[2]}${m[3] === "L" ? "Lft" : "Rgt"}_${{ hip: "A", knee: "B", claw: "End" }[m[1]]}`
    : `Spd_${r}`;
};
const FAN = [
  [0.075, 0.1],
  [0.105, 0.035],
  [0.1, -0.035],
  [0.08, -0.1],
];
const STEP = 0.035;
/** Frame, how far the body is, body height and pitch, how many steps each four have done, which four are up. */
const POSES = [
  [1, 0, 0.05, 0, 0, 0, ""],
  [10, 0.006, 0.046, 1, 0, 0, ""],
  [13, 0.014, 0.052, -1, 0.5, 0, "a"],
  [16, 0.026, 0.048, 1, 1, 0, ""],
  [19, 0.042, 0.052, 0, 1, 1, "b"],
  [22, 0.056, 0.048, 1, 1, 2, ""],
  [25, 0.074, 0.052, 0, 2, 2, "a"],
  [28, 0.09, 0.046, 2, 3, 2, ""],
  [31, 0.094, 0.047, 1, 3, 2.5, "b"],
  [34, 0.096, 0.048, 1, 3, 3, ""],
  [46, 0.092, 0.036, 4, 3, 3, ""],
  [51, 0.09, 0.032, 6, 3, 3, ""],
  [54, 0.078, 0.062, -34, 3, 3, "T"],
  [57, 0.074, 0.064, -40, 3, 3, "T"],
  [66, 0.076, 0.062, -36, 3, 3, "T"],
  [72, 0.088, 0.05, -6, 3, 3, ""],
  [78, 0.09, 0.047, -1, 3, 3, ""],
];

/** @param {boolean} bad */
function build(bad) {
  const take = perform(rig, [1, END], (p, f) => {
    const row = /** @type {any[]} */ (POSES.filter((q) => q[0] <= f).pop());
    const [at, z, y, pitch, a, b, up] = row;
    p.move("thorax", 0, bad && (at === 46 || at === 51) ? 0.004 : y, z);
    p.rot("thorax", pitch, 0, up === "a" ? 2 : up === "b" ? -2 : 0);
    p.rot("abdomen", -pitch * 0.55 - 4 + (up === "T" ? -6 : 0), up === "a" ? 4 : up === "b" ? -4 : 0, 0);
    p.rot("jaws", up === "T" ? 28 : 4, 0, 0);
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      for (let i = 1; i <= 4; i++) {
        const first = (i % 2 === 1) === (s === "L");
        const mine = bad && at > 11 && at < 34 ? Math.max(a, b) : first ? a : b;
        const lifted = up === (first ? "a" : "b") || (bad && (up === "a" || up === "b"));
        const [x, fz] = FAN[i - 1];
        let goal = [k * x, lifted ? 0.022 : 0, fz + mine * STEP];
        if (bad && at === 22 && i === 2 && s === "L") goal = [k * 0.07, 0, fz + mine * STEP + 0.085];
        if (up === "T" && i === 1)
          goal = [
            k * (0.06 + (at === 57 ? 0.012 : at === 66 ? 0.006 : 0)),
            0.2 - (s === "R" ? 0.014 : 0),
            z + 0.09 - (at === 54 ? 0.02 : 0),
          ];
        if (up === "T" && i === 2 && s === "R") goal = [k * 0.1, 0.05, z + 0.085];
        p.reach(
          `hip${i}${s}`,
          `knee${i}${s}`,
          `claw${i}${s}`,
          goal,
          up === "T" && i === 1 ? [k, 0.3, 0.2] : [k * 0.3, 1, 0],
          [0, 0, 1],
        );
      }
    }
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    sayUnit: true,
    bodies: [
      {
        rig,
        name: n,
        curves: keyed(take, { how: "step", poses: POSES.map((q) => /** @type {number} */ (q[0])) }),
      },
    ],
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  for (const c of doc.curves) c.keys = c.keys.filter((/** @type {any} */ k) => k[0] !== 54 && k[0] !== 66);
  shift(doc.curves, [57, 57], 13);
  for (const c of curvesOf(doc, [n("hip4R"), n("knee4R")])) {
    const key = c.keys.find((/** @type {any} */ k) => k[0] === 78);
    const was = c.keys.find((/** @type {any} */ k) => k[0] === 51);
    if (key && was) key[1] = was[1];
  }
  return doc;
}
export const flaws = [
  {
    what: "The threat, which the shot is about, is on for two frames only, 70 and 71.",
    kind: "pose too short",
    size: "strong",
    nodes: [n("thorax"), n("hip1L"), n("hip1R")],
    frames: [54, 72],
    order: 1,
  },
  {
    what: "In the creep all eight legs come up together, it hops like a toy; four should always stand.",
    kind: "wrong motion for the animal",
    size: "strong",
    nodes: [1, 2, 3, 4].flatMap((i) => [n(`hip${i}L`), n(`hip${i}R`)]),
    frames: [13, 33],
    order: 2,
  },
  {
    what: "The crouch pushes jaws and belly into the ground.",
    kind: "things go through things",
    size: "ordinary",
    nodes: [n("thorax"), n("fang")],
    frames: [46, 69],
    order: 3,
  },
  {
    what: "Second left leg is crossed over the first one at 22.",
    kind: "things go through things",
    size: "ordinary",
    nodes: [n("hip2L"), n("claw2L")],
    frames: [22, 24],
    order: 4,
  },
  {
    what: "Right hind claw leaves its spot at 78.",
    kind: "foot off its spot",
    size: "barely",
    nodes: [n("hip4R"), n("claw4R")],
    frames: [78, 84],
    order: 5,
  },
];
export const truth = {
  plants: [
    ["L", 1, 34, END],
    ["L", 3, 28, END],
    ["R", 4, 28, END],
    ["L", 2, 34, 50],
    ["R", 3, 34, END],
  ]
    .map(([s, i, a, b]) => ({ node: n(`claw${i}${s}`), frames: [a, b], limit: 0.001 }))
    .slice(1),
  ground: {
    nodes: [1, 2, 3, 4].flatMap((i) => [n(`claw${i}L`), n(`claw${i}R`)]).concat(n("fang"), n("jaws")),
    height: 0,
    under: 0.001,
  },
  masses: masses(rig, n),
  spikes: { ratio: 1e9 },
};
