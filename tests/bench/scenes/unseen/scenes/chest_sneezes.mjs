// @ts-check
// A wooden chest has to sneeze, and is thrown back by it.
import { names } from "../../creatures/kit/bodies.mjs";
import { cameraNode } from "../../creatures/kit/camera.mjs";
import { valueAt } from "../../creatures/kit/curve.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { bump, erase, tidy } from "../../creatures/kit/edits.mjs";
import { add, sub, turn } from "../../creatures/kit/math.mjs";
import { bothSides, heading, makeRig } from "../../creatures/kit/rig.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { drift, follow, soft } from "../kit-B/motion.mjs";

export const name = "chest_sneezes";
export const about =
  "A wooden chest, which is alive and has no legs, feels a tickle, draws two breaths with its lid, the second far bigger, sneezes, is thrown back off the floor, rocks until it stands, and peeps out.";

const FPS = 24;
const END = 116;
const range = /** @type {[number, number]} */ ([1, END]);
const HALF = 0.25;
const rig = makeRig(
  /** @type {any} */ ([
    ["box", null, [0, 0, 0], 14, "yxz"],
    ["lid", "box", [0, 0.42, -HALF], 5, "yxz"],
    ["rim", "lid", [0, 0.03, 0.5], 0],
    ["hasp", "rim", [0, -0.01, 0.015], 0.3],
    ["haspEnd", "hasp", [0, -0.12, 0], 0],
    ["toeF", "box", [0, 0, HALF], 0],
    ["toeB", "box", [0, 0, -HALF], 0],
    ...bothSides([
      ["ring*", "box", [0.41, 0.3, 0], 0.3],
      ["ringEnd*", "ring*", [0.01, -0.09, 0], 0],
    ]),
  ]),
);
const n = names({
  L: "g",
  R: "d",
  box: "coffre",
  lid: "couvercle",
  rim: "bord",
  hasp: "moraillon",
  haspEnd: "moraillon_bout",
  toeF: "arete_av",
  toeB: "arete_ar",
  "ring*": "anneau_*",
  "ringEnd*": "anneau_bout_*",
});

const HIT = 69;
const DOWN = 73;
const K = (/** @type {number} */ i, /** @type {number} */ o = i) => ({
  interpolation: "cubic",
  in: i,
  out: o,
});
/** Keys of how far it leans, in degrees; below zero it leans back on its rear edge. @param {{ weak?: boolean, dead?: boolean }} bad @returns {any[]} */
const lean = ({ weak, dead }) => [
  [24, 0, K(0)],
  [35, -3.2, K(0)],
  [39, -3, K(0)],
  [45, -1, K(0)],
  [60, weak ? -3.2 : -9.5, K(0)],
  [65, weak ? -3.4 : -10.5, K(0)],
  [HIT, 0, K(4.6, -2.6)],
  [DOWN, -10.4, K(-2.6, dead ? 10.4 : -1.6)],
  ...(dead
    ? [[74, 0, K(10.4, 0)]]
    : [
        [74.3, -11.6, K(0)],
        [78, 0, K(5.4, -1.9)],
        [79.3, -1.3, K(0)],
        [80.6, 0, K(1.9, -0.8)],
        [81.3, -0.28, K(0)],
        [82, 0, K(0.8, 0)],
      ]),
];
/** Keys of the lid. @param {{ weak?: boolean, through?: boolean, still?: boolean }} bad @returns {any[]} */
const lidKeys = ({ weak, through, still }) => [
  [1, -1.5, K(0)],
  [10, -1.2, K(0)],
  [13, -5, K(0)],
  [15, -2, K(0)],
  [18, -6.5, K(0)],
  [21, -2.5, K(0)],
  [25, -3, K(0)],
  [35, -21, K(0)],
  [39, -20, K(-0.1)],
  [46, -11, K(0)],
  [59, weak ? -21 : -44, K(weak ? -0.4 : -0.8)],
  [64, weak ? -22 : -47, K(0)],
  [65, weak ? -22 : -46.5, K(weak ? 0.5 : 1.2)],
  [HIT, -3, K(9, 0)],
  [72, -17, K(-3, -2)],
  [73, -18, K(0)],
  [76, through ? 9 : 0, K(9, -4.5)],
  [78, -4.8, K(0)],
  [80, 0, K(4.5, -1.5)],
  [81, -0.9, K(0)],
  [82, 0, K(1.5, 0)],
  ...(still
    ? []
    : [
        [88, 0, K(0)],
        [95, -10, K(-0.3)],
        [99, -10.5, K(0)],
        [102, -8, K(0)],
        [104, -11, K(0)],
        [112, -6.5, K(0.3)],
        [116, -6, K(0)],
      ]),
];

/** @param {{ weak?: boolean, dead?: boolean, through?: boolean, still?: boolean, pivot?: boolean }} bad */
function build(bad) {
  const pitchAt = (/** @type {number} */ f) => valueAt(lean(bad), f, "cubic");
  /** Where the box stands when it leans on its edge. @param {number} pitch @param {number} back */
  const onEdge = (pitch, back) => {
    const edge = [0, 0, pitch < 0 ? -HALF : HALF];
    const at = sub(edge, turn(heading(0, pitch), edge));
    return [at[0], at[1], at[2] + back];
  };
  const centre = (/** @type {number[]} */ at, /** @type {number} */ pitch) =>
    add(at, turn(heading(0, pitch), [0, HALF, 0]));
  const BACK = -0.075;
  const up = centre(onEdge(0, 0), 0);
  const down = centre(onEdge(pitchAt(DOWN), BACK), pitchAt(DOWN));
  const T = (DOWN - HIT) / FPS;
  const vy = (9.81 * T) / 2 + (down[1] - up[1]) / T;
  const place = (/** @type {number} */ f) => {
    const pitch = pitchAt(f);
    if (f <= HIT) return bad.pivot && f > 46 ? [0, 0, 0] : onEdge(pitch, 0);
    if (f >= DOWN) return onEdge(pitch, BACK);
    const t = (f - HIT) / FPS;
    const c = [0, up[1] + vy * t - (9.81 * t * t) / 2, up[2] + ((down[2] - up[2]) * t) / T];
    return sub(c, turn(heading(0, pitch), [0, HALF, 0]));
  };
  const breath = (/** @type {number} */ f) =>
    bad.still && f > 82
      ? 0
      : drift(f, 40, 1) *
        valueAt(
          [
            [1, 1],
            [10, 1],
            [13, 0],
            [84, 0],
            [96, 1],
          ],
          f,
          "smooth",
        );
  const tremble = soft(
    [
      [56, 0],
      [62, 1],
      [65, 1],
      [67, 0],
    ],
    1,
  );
  const lidAt = (/** @type {number} */ f) =>
    valueAt(lidKeys(bad), f, "cubic") -
    Math.max(0, 0.9 + breath(f)) *
      (f < 13 || f > 90 ? 1 : 0) *
      valueAt(
        [
          [10, 1],
          [13, 0],
          [90, 0],
          [96, 1],
        ],
        f,
        "smooth",
      ) -
    (bad.weak ? 0.4 : 1) * tremble(f) * Math.sin(2.1 * f);
  // What hangs keeps to the vertical, late, and is thrown by the jolts.
  const jolt = soft(
    [
      [67, 0],
      [69, 12],
      [71, 0],
      [73, -10],
      [75, 0],
      [78, 6],
      [79, 0],
    ],
    0.8,
  );
  const hang = follow((f) => -(lidAt(f) + pitchAt(f)) + jolt(f), range, { fps: FPS, hz: 2.6, damp: 0.14 });
  const ring = follow((f) => -pitchAt(f) + 1.4 * jolt(f), range, { fps: FPS, hz: 3, damp: 0.12 });
  const ring2 = follow((f) => -pitchAt(f) + 1.2 * jolt(f - 0.7), range, { fps: FPS, hz: 2.8, damp: 0.13 });
  const wag = soft(
    [
      [46, 0],
      [58, 2.4],
      [66, 2.2],
      [69, 0],
      [90, 0],
      [98, -3.5],
      [112, -3],
    ],
    2,
  );
  const take = perform(rig, range, (p, f) => {
    const at = place(f);
    p.move("box", at[0], at[1], at[2]);
    p.rot("box", pitchAt(f), 0, 0);
    p.rot("lid", Math.min(bad.through ? 20 : 0, lidAt(f)), 0, 0);
    // The hasp hangs down; the front of the box stops it on the way in.
    const [swing, front] = [0.92 * hang(f), -lidAt(f)];
    p.rot("hasp", (swing + front - Math.hypot(swing - front, 3)) / 2, 0, 0.8 * wag(f));
    p.rot("ringL", ring(f), 0, 0);
    p.rot("ringR", ring2(f), 0, 0);
  });
  const doc = makeDocument({
    name: "coffre_atchoum",
    fps: FPS,
    range,
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.12, place: 0.0005 }) }],
    things: [cameraNode("camera_a", [2.6, 0.9, 2.2], [0, 0.3, -0.05], 0.01)],
    more: {
      surfaces: [{ id: "plancher", height: 0 }],
      cameras: [{ id: "plan_a", node: "camera_a", verticalFieldOfView: 26, aspect: 1.7778 }],
    },
  });
  const node = (/** @type {string} */ role) => doc.nodes.find((/** @type {any} */ x) => x.id === n(role));
  node("box").shapes = [{ kind: "box", size: [80, 42, 50], centre: [0, 21, 0] }];
  node("lid").shapes = [{ kind: "box", size: [80, 8, 50], centre: [0, 4, 25] }];
  return doc;
}
export const clean = () => build({});
export function flawed() {
  const doc = build({ weak: true, dead: true, through: true, still: true, pivot: true });
  erase(doc, ["hasp", "ringL", "ringR"].map(n));
  bump(doc, n("lid"), "rotation.x", 42, -6);
  return tidy(doc);
}
/** @type {import('../../scenes.d.ts').Flaw[]} */
export const flaws = [
  {
    what: "After the hop it comes down on its edge and is flat and dead one frame later. A box that size rocks, claps and settles.",
    kind: "landing without give",
    size: "strong",
    nodes: [n("box")],
    frames: [72, 80],
    order: 1,
  },
  {
    what: "The second breath is the same as the first. The big one has to be far bigger, or the sneeze comes out of nothing.",
    kind: "no anticipation",
    size: "ordinary",
    nodes: ["box", "lid"].map(n),
    frames: [46, 66],
    order: 2,
  },
  {
    what: "When it leans back for the big one its rear edge sinks into the floor; it turns about its middle.",
    kind: "goes through the ground",
    size: "ordinary",
    nodes: ["box", "toeB"].map(n),
    frames: [46, 69],
    order: 3,
  },
  {
    what: "Stone dead from 82 to the end. Where is the peep, is it still alive?",
    kind: "dead hold",
    size: "ordinary",
    nodes: ["box", "lid"].map(n),
    frames: [82, 116],
    order: 4,
  },
  {
    what: "The lid claps down right into the box at 76.",
    kind: "goes through itself",
    size: "ordinary",
    nodes: ["lid", "rim"].map(n),
    frames: [74, 79],
    order: 5,
  },
  {
    what: "Hasp and rings never swing, they look painted on.",
    kind: "part forgotten",
    size: "barely",
    nodes: ["hasp", "ringL", "ringR"].map(n),
    frames: [1, 116],
    order: 6,
  },
  {
    what: "The lid ticks open for a frame at 42 on its way down.",
    kind: "pop",
    size: "barely",
    nodes: [n("lid")],
    frames: [40, 44],
    order: 7,
  },
];
export const truth = {
  air: [{ frames: /** @type {[number, number]} */ ([HIT, DOWN]) }],
  ground: { nodes: [n("toeF"), n("toeB")], height: 0, under: 0.003 },
  masses: { [n("box")]: 1 },
  picture: { nodes: [n("box"), n("rim"), n("ringL"), n("ringR")], frames: range },
};
