// @ts-check
// An eel swims and glides in water.
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { curvesOf, hold, straight } from "../kit/edits.mjs";
import { makeRig } from "../kit/rig.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "eel_turn";
export const about =
  "An eel swims along the bottom with waves that run down its body, bends to its right, and glides on with a fading beat.";

const END = 110;
const N = 9;
const rig = makeRig(
  /** @type {any} */ ([
    ["b0", null, [0, 0, 0], 0.3, "yxz"],
    ["snout", "b0", [0, 0, 0.09], 0],
    ...Array.from({ length: N }, (_, i) => [
      `b${i + 1}`,
      `b${i}`,
      [0, 0, -0.085],
      i < N - 1 ? 0.24 - 0.02 * i : 0,
      "yxz",
    ]),
  ]),
);
const n = (/** @type {string} */ r) =>
  r === "snout" ? "ulv_nos" : r === "b0" ? "al_huvud" : `al_led_${r.slice(1).padStart(2, "0")}`;

/** @param {boolean} bad */
function build(bad) {
  const power = (/** @type {number} */ f) =>
    val(f, [
      [1, 1],
      [60, 1],
      [96, 0.25],
      [110, 0.2],
    ]);
  const speed = (/** @type {number} */ f) =>
    val(f, [
      [1, 0.03],
      [62, 0.031],
      [84, bad ? 0.05 : 0.022],
      [110, bad ? 0.052 : 0.011],
    ]);
  const yaw = (/** @type {number} */ f) =>
    val(f, [
      [40, 0],
      [72, -52],
      [90, -58],
      [110, -58],
    ]);
  const beat = 20;
  // The head's path: the heading summed up; the body then lies along the path, and the wave upon it.
  /** @type {number[][]} */ const path = [];
  let at = [0, 0];
  for (let f = -60; f <= END; f++) {
    const y = (yaw(f) * Math.PI) / 180;
    at = [at[0] + speed(f) * Math.sin(y), at[1] + speed(f) * Math.cos(y)];
    path[f + 60] = at;
  }
  /** The bend between a joint and the one before it. @param {number} f @param {number} i */
  const bend = (f, i) => {
    const late = bad ? 0.6 : 0.085 / speed(f);
    const turned = yaw(f - late * i) - yaw(f - late * (i - 1));
    const size = 4 + 2.6 * i;
    return turned + size * power(f - 1.2 * i) * Math.sin(2 * Math.PI * (f / beat - (bad ? 0.02 : 0.1) * i));
  };
  const take = perform(rig, [1, END], (p, f) => {
    const w = Math.sin((2 * Math.PI * f) / beat) * power(f);
    const [x, z] = path[f + 60];
    const y = yaw(f);
    p.move(
      "b0",
      x + 0.012 * w * Math.cos((y * Math.PI) / 180),
      0.16 +
        val(f, [
          [1, 0],
          [34, 0.02],
          [76, -0.03],
          [110, 0.03],
        ]),
      z - 0.012 * w * Math.sin((y * Math.PI) / 180),
    );
    p.rot(
      "b0",
      val(f, [
        [1, -3],
        [20, -2],
        [55, 5],
        [96, -5],
        [110, -3],
      ]),
      y - 5 * Math.sin(2 * Math.PI * (f / beat - 0.06)) * power(f),
      val(f, [
        [36, 0],
        [56, 14],
        [84, 4],
        [110, 0],
      ]),
    );
    for (let i = 1; i <= N; i++)
      p.rot(
        `b${i}`,
        0.4 *
          val(f - 2 * i, [
            [1, 0],
            [30, -2],
            [64, 4],
            [100, -3],
            [110, -2],
          ]),
        bend(f, i),
        0,
      );
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "smooth", turn: 0.5, place: 0.002 }) }],
    more: {
      surfaces: [
        { id: "yta", height: 200 },
        { id: "botten", height: 0 },
      ],
      surroundings: [{ medium: "water", below: "yta" }],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  hold(curvesOf(doc, [n("b4"), n("b5")], "rotation.y"), [24, 36]);
  straight(curvesOf(doc, [n("b0")], "translation.y"), [34, 76]);
  const roll = curvesOf(doc, [n("b0")], "rotation.z")[0];
  roll.keys = [
    [1, 0],
    [36, 0],
    [50, 0],
    [53, 14],
    [84, 14],
    [88, 0],
    [110, 0],
  ];
  delete roll.interpolation;
  return doc;
}
export const flaws = [
  {
    what: "The wave does not run: all joints swing together and it wags like a stick instead of a wave from head to tail.",
    kind: "chain in phase",
    size: "strong",
    nodes: [1, 2, 3, 4, 5, 6, 7, 8, 9].map((i) => n(`b${i}`)),
    frames: [1, 110],
    order: 1,
  },
  {
    what: "It gets faster as the beat dies away, as if it were pulled on a string.",
    kind: "motion without drive",
    size: "ordinary",
    nodes: [n("b0")],
    frames: [64, 110],
    order: 2,
  },
  {
    what: "Two joints in the middle stop from 24 to 36 while the rest goes on, the body looks broken there.",
    kind: "freeze of a part",
    size: "ordinary",
    nodes: [n("b4"), n("b5")],
    frames: [24, 37],
    order: 3,
  },
  {
    what: "The bank into the turn comes in three frames and goes in four, straight lines without any ease.",
    kind: "start too hard",
    size: "barely",
    nodes: [n("b0")],
    frames: [50, 88],
    order: 4,
  },
  {
    what: "It goes down from 34 to 76 on a straight line with a corner at either end.",
    kind: "even spacing",
    size: "barely",
    nodes: [n("b0")],
    frames: [34, 76],
    order: 5,
  },
];
export const truth = { ground: { nodes: Array.from({ length: N + 1 }, (_, i) => n(`b${i}`)), height: 0.05 } };
