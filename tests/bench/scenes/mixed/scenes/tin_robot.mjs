// @ts-check
import { val } from "../../creatures/kit/curve.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { curvesOf, drop, straight, tidy } from "../../creatures/kit/edits.mjs";
import { bothSides, heading, makeRig } from "../../creatures/kit/rig.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { erase } from "../../mixed/kit/edits.mjs";

export const name = "tin_robot";
export const about =
  "A toy robot rolls in on two wheels with a block between its hands, stops, bends down, sets the block on the floor, lets go, straightens up, rolls back a little and looks to either side.";

const FPS = 24;
const END = 132;
const WHEEL = 0.032;
const HALF = 0.025;
const DOWN = 84;
const rig = makeRig([
  ["base", null, [0, WHEEL, 0], 0.4, "yxz"],
  ["wheelL", "base", [0.05, 0, 0], 0.05, "xyz"],
  ["wheelR", "base", [-0.05, 0, 0], 0.05, "xyz"],
  ["waist", "base", [0, 0.05, 0], 0.1, "yxz"],
  ["torso", "waist", [0, 0.05, 0], 0.2, "yxz"],
  ["head", "torso", [0, 0.075, 0], 0.08, "yxz"],
  ["wire1", "head", [0, 0.05, 0], 0.002],
  ["wire2", "wire1", [0, 0.03, 0], 0.002],
  ["bobble", "wire2", [0, 0.03, 0], 0.004],
  ...bothSides([
    ["upper*", "torso", [0.055, 0.045, 0], 0.02, "xzy"],
    ["lower*", "upper*", [0, -0.075, 0], 0.02, "xzy"],
    ["grab*", "lower*", [0, -0.085, 0], 0.01, "xzy"],
    ["grabEnd*", "grab*", [0, -0.03, 0], 0],
  ]),
]);
const WORDS = /** @type {Record<string, string>} */ ({
  base: "chassis",
  wheel: "wheel",
  waist: "hinge",
  torso: "boiler",
  head: "dome",
  wire1: "aerial_a",
  wire2: "aerial_b",
  bobble: "aerial_c",
  upper: "crank",
  lower: "piston",
  grab: "claw",
  grabEnd: "claw_end",
});
/** @param {string} r */
const n = (r) => `tin_${WORDS[r] ?? `${WORDS[r.slice(0, -1)]}_${r.endsWith("L") ? "A" : "B"}`}`;
const block = makeRig([["block", null, [0, HALF, 0], 0.06, "yxz"]]);

const V = 0.26 / FPS;
/** How far it has rolled. @param {number} f @param {boolean} bad */
function zAt(f, bad) {
  const stop = bad ? 48 : 40;
  const back =
    -0.09 *
    val(f, [
      [100, 0],
      [110, 0.52],
      [120, 1],
      [END, 1],
    ]);
  if (f <= stop) return V * (f - 1);
  if (bad) return V * 47 + back;
  const u = Math.min(1, (f - 40) / 16);
  return V * 39 + V * 16 * (u - u ** 3 + u ** 4 / 2) + back;
}

/** The aerial is a spring that is shaken by the head: its angle and where it was. @param {boolean} bad */
function aerial(bad) {
  const out = [0];
  let [a, w] = [0, 0];
  const steps = 8;
  const dt = 1 / FPS / steps;
  const head = (/** @type {number} */ f) => zAt(f, bad) + 0.22 * Math.sin((bend(f) * Math.PI) / 180);
  for (let f = 1; f < END; f++) {
    const push = (head(f + 1) - 2 * head(f) + head(Math.max(0, f - 1))) * FPS * FPS;
    for (let i = 0; i < steps; i++) {
      w += (-380 * a - 7 * w - (push / 0.06) * 1.3) * dt;
      a += w * dt;
    }
    out.push((a * 180) / Math.PI);
  }
  return out;
}
const bend = (/** @type {number} */ f) =>
  val(f, [
    [40, 0],
    [48, 3],
    [56, -1],
    [61, 0],
    [64, -2],
    [80, 38],
    [DOWN, 39],
    [92, 38],
    [106, -1.5],
    [112, 0],
    [END, 0],
  ]);

/** @param {boolean} bad */
function build(bad) {
  const low = bad ? -0.012 : 0;
  const high = (/** @type {number} */ f) =>
    val(f, [
      [1, 0.135],
      [62, 0.135],
      [65, 0.138],
      [DOWN - 3, HALF + low + 0.003],
      [DOWN, HALF + low],
      [END, HALF + low],
    ]);
  const ahead = (/** @type {number} */ f) =>
    val(f, [
      [1, 0.115],
      [62, 0.115],
      [DOWN - 4, 0.158],
      [DOWN, 0.158],
    ]);
  const put = zAt(DOWN, bad) + ahead(DOWN);
  const where = (/** @type {number} */ f) => [0, high(f), f >= DOWN ? put : zAt(f, bad) + ahead(f)];
  const spring = aerial(bad);
  const open = (/** @type {number} */ f, /** @type {string} */ s) => {
    const late = bad && s === "L" ? 5 : 0;
    return val(f - late, [
      [DOWN + 1, 0],
      [DOWN + 8, 0.03],
      [DOWN + 12, 0.028],
    ]);
  };
  const away = (/** @type {number} */ f) =>
    val(f, [
      [DOWN + 7, 0],
      [108, 1],
    ]);
  const look = (/** @type {number} */ f) =>
    val(f, [
      [106, 0],
      [114, 1],
      [118, 1],
      [127, -0.8],
      [END, -0.8],
    ]);
  const take = perform(rig, [1, END], (p, f) => {
    const z = zAt(f, bad);
    p.move("base", 0, WHEEL, z);
    for (const s of ["L", "R"]) p.rot(`wheel${s}`, (z / WHEEL) * (180 / Math.PI));
    p.rot("waist", bend(f) * 0.62, 0, 0);
    p.rot("torso", bend(f - 1) * 0.38, 0, 0);
    p.rot("head", bend(f - 2) * -0.25, 42 * look(f), 0);
    p.rot("wire1", spring[f - 1] * 0.6, 0, 0);
    p.rot("wire2", spring[Math.max(0, f - 2)] * 0.7, 0, 0);
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      const [, y, bz] = where(f);
      const held = [k * (HALF + 0.006 + open(f, s)), y + 0.012, bz];
      const hang = p.point("torso", [k * 0.064, -0.055, 0.085]);
      const u = away(f);
      const palm = held.map((v, i) => v + (hang[i] - v) * u);
      const q = heading(0, -62 + 30 * u);
      p.reach(`upper${s}`, `lower${s}`, `grab${s}`, [palm[0], palm[1], palm[2] - 0.022], [k * 0.6, -0.3, -1]);
      p.face(`grab${s}`, q);
    }
  });
  const brick = perform(block, [1, END], (p, f) => {
    const [x, y, z] = where(f);
    p.move("block", x, y, z);
  });
  const doc = makeDocument({
    name,
    fps: FPS,
    range: [1, END],
    unit: 0.01,
    bodies: [
      { rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.2, place: 0.0003 }) },
      { rig: block, name: () => "block", curves: keyed(brick, { how: "bezier", place: 0.0003 }) },
    ],
    more: {
      surfaces: [{ id: "lino", normal: [0, 1, 0], height: 0 }],
      contacts: [{ node: "block", with: "lino", frames: [DOWN, END] }],
      props: [
        {
          node: "block",
          mass: 0.06,
          heldBy: ["L", "R"].map((s) => ({ node: n(`grab${s}`), frames: [1, DOWN] })),
        },
      ],
    },
  });
  const box = (
    /** @type {string} */ id,
    /** @type {number[]} */ size,
    /** @type {number[]} */ centre = [0, 0, 0],
  ) => {
    doc.nodes.find((/** @type {any} */ x) => x.id === id).shapes = [{ kind: "box", size, centre }];
  };
  box("block", [5, 5, 5]);
  box(n("base"), [7, 6, 9], [0, 1, 0]);
  box(n("torso"), [8.6, 9, 7], [0, 1, 0]);
  box(n("head"), [6, 4.4, 6], [0, 2.4, 0]);
  return doc;
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  erase(doc, ["wire1", "wire2"].map(n));
  drop(curvesOf(doc, ["wheelL", "wheelR"].map(n)), [99, END]);
  straight(curvesOf(doc, [n("head")], "rotation.y"), [118, 127]);
  return tidy(doc);
}
export const flaws = [
  {
    what: "It stops dead from full speed on 48; no slowing down, nothing pitches.",
    kind: "hard-stop",
    size: "strong",
    nodes: [n("base")],
    frames: [46, 51],
    order: 1,
  },
  {
    what: "The block is set down more than a centimetre into the floor and stands in it.",
    kind: "goes-through",
    size: "ordinary",
    nodes: ["block"],
    frames: [80, 132],
    order: 2,
  },
  {
    what: "The wheels do not turn while it rolls back.",
    kind: "wheels skid",
    size: "ordinary",
    nodes: ["wheelL", "wheelR"].map(n),
    frames: [100, 120],
    order: 3,
  },
  {
    what: "The aerial is a stick; on a spring it has to swing when the robot stops and bends.",
    kind: "no drag",
    size: "ordinary",
    nodes: ["wire1", "wire2", "bobble"].map(n),
    frames: [40, 124],
    order: 4,
  },
  {
    what: "The left claw lets go five frames after the right one.",
    kind: "hand comes late",
    size: "barely",
    nodes: ["grabL", "lowerL", "upperL"].map(n),
    frames: [85, 98],
    order: 5,
  },
  {
    what: "The look across goes over on a straight line, with a corner at either end.",
    kind: "even spacing",
    size: "barely",
    nodes: [n("head")],
    frames: [117, 128],
    order: 6,
  },
];
export const truth = {
  ground: { nodes: ["grabEndL", "grabEndR", "grabL", "grabR"].map(n), height: 0 },
};
