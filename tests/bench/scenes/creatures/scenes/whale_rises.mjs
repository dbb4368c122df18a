// @ts-check
// A whale rises and dives again.
import { cameraNode } from "../kit/camera.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { curveOf, curvesOf, erase, hold } from "../kit/edits.mjs";
import { bothSides, makeRig } from "../kit/rig.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "whale_rises";
export const about =
  "A whale of fourteen metres swims up from the deep with slow beats of its fluke, coasts under the surface, and arches down again. A still camera under water sees it from the side.";

const END = 240;
const T = 72;
const rig = makeRig(
  /** @type {any} */ ([
    ["trunk", null, [0, 0, 0], 9000, "yxz"],
    ["skull", "trunk", [0, 0, 2.4], 6000],
    ["rostrum", "skull", [0, -0.2, 3.2], 0],
    ["lumbar", "trunk", [0, 0, -1.6], 5000],
    ["peduncle", "lumbar", [0, 0, -2.2], 2500],
    ["stock", "peduncle", [0, 0, -2], 900],
    ["fluke", "stock", [0, 0, -1.5], 200],
    ["notch", "fluke", [0, 0, -1], 0],
    ...bothSides([
      ["fin*", "trunk", [1.1, -0.7, 1.6], 150, "yxz"],
      ["blade*", "fin*", [1.3, -0.2, -0.5], 80],
      ["bladeEnd*", "blade*", [1.1, -0.1, -0.5], 0],
    ]),
  ]),
);
const n = (/** @type {string} */ r) => `wal-${r.replace(/([LR])$/, "-$1").toLowerCase()}`;

/** @param {boolean} bad */
function build(bad) {
  const power = (/** @type {number} */ f) =>
    val(f, [
      [1, 1],
      [100, 1],
      [130, 0.25],
      [170, 0.2],
      [205, 1.05],
      [240, 1.05],
    ]);
  // The beat's phase; a hurried stretch runs more than three times as fast.
  const phase = (/** @type {number} */ f) =>
    bad && f > 30 ? (f < 86 ? 30 / T + (f - 30) / 20 : 30 / T + 56 / 20 + (f - 86) / T) : f / T;
  const pitch = (/** @type {number} */ f) =>
    val(f, [
      [1, -17],
      [50, -16],
      [124, -2],
      [150, 0],
      [190, 20],
      [222, 27],
      [240, 27],
    ]);
  const speed = (/** @type {number} */ f) =>
    val(f, [
      [1, 0.085],
      [100, 0.09],
      [165, 0.062],
      [210, 0.075],
      [240, 0.088],
    ]);
  let at = [-9.2, -10.2];
  /** @type {number[][]} */ const path = [];
  for (let f = -40; f <= END; f++) {
    if (f < 1) {
      path[f + 40] = at;
      continue;
    }
    const a = (pitch(f) * Math.PI) / 180;
    at = [at[0] + speed(f) * Math.cos(a), at[1] - speed(f) * Math.sin(a)];
    path[f + 40] = at;
  }
  const wave = (/** @type {number} */ f, /** @type {number} */ late) =>
    Math.sin(2 * Math.PI * phase(f - late)) * power(f - late);
  const bend = (/** @type {number} */ f, /** @type {number} */ a, /** @type {number} */ b) =>
    pitch(f - b) - pitch(f - a);
  const take = perform(rig, [1, END], (p, f) => {
    const [z, y] = path[f + 40];
    p.move(
      "trunk",
      0.6 *
        val(f, [
          [1, 0],
          [120, 1],
          [240, 0.4],
        ]),
      y + 0.14 * wave(f, 4),
      z,
    );
    p.rot(
      "trunk",
      pitch(f) - 2.6 * wave(f, 10),
      val(f, [
        [1, 3],
        [110, -4],
        [240, 2],
      ]),
      val(f, [
        [1, 4],
        [80, -3],
        [150, 5],
        [240, -2],
      ]),
    );
    p.rot("skull", 0.5 * bend(f, -14, 0) * -1 + 0.8 * wave(f, 4), 0, 0);
    const chain = ["lumbar", "peduncle", "stock", "fluke"];
    chain.forEach((id, i) => {
      p.rot(
        id,
        bend(f, 16 * i, 16 * (i + 1)) +
          [3, 9, 13, 17][i] * (bad && id === "fluke" ? -wave(f, -10) : wave(f, 9 + 7 * i)),
        0,
        0,
      );
    });
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      const drag = Math.sin((2 * Math.PI * (f - 26)) / T) * power(f - 26);
      p.rot(
        `fin${s}`,
        val(f, [
          [1, -6],
          [60, -4],
          [128, 8],
          [196, -10],
          [240, -6],
        ]) +
          3 * drag,
        k *
          val(f, [
            [1, 22],
            [90, 18],
            [140, -2],
            [190, 26],
            [240, 20],
          ]),
        k * (-14 + 5 * drag + (s === "L" ? 2 : -1)),
      );
      p.rot(`blade${s}`, 0, 0, k * (-8 + 7 * Math.sin((2 * Math.PI * (f - 38)) / T) * power(f - 36)));
    }
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 1,
    things: [cameraNode("kamera", [30, -7, 1], [0, -7, 1], 1)],
    bodies: [{ rig, name: n, curves: keyed(take, { how: "smooth", turn: 0.3, place: 0.012 }) }],
    more: {
      surfaces: [{ id: "oberflaeche", height: 0 }],
      surroundings: [{ medium: "water", below: "oberflaeche" }],
      cameras: [{ id: "unter_wasser", node: "kamera", verticalFieldOfView: 40, aspect: 2 }],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  hold(curvesOf(doc, [n("trunk")]), [136, 151]);
  erase(doc, ["finL", "finR", "bladeL", "bladeR"].map(n));
  const roll = curveOf(doc, n("trunk"), "rotation.z");
  roll.keys = roll.keys.filter((/** @type {any} */ k) => k[0] < 190 || k[0] > 214);
  roll.keys.push([196, 3, {}], [200, 11, {}], [204, 2, {}]);
  roll.keys = roll.keys
    .map((/** @type {any} */ k) => k.slice(0, 2))
    .sort((/** @type {any} */ a, /** @type {any} */ b) => a[0] - b[0]);
  return doc;
}
export const flaws = [
  {
    what: "From 30 to 86 the tail beats like a trout's, more than once a second; a beast of this size cannot.",
    kind: "too quick for its size",
    size: "strong",
    nodes: ["lumbar", "peduncle", "stock", "fluke"].map(n),
    frames: [30, 92],
    order: 1,
  },
  {
    what: "The whole body stands still in the water from 136 to 151 and then jumps on, it must coast.",
    kind: "freeze",
    size: "strong",
    nodes: [n("trunk")],
    frames: [136, 152],
    order: 2,
  },
  {
    what: "The fluke leads the stock in place of trailing it, it looks like it is paddled from its end.",
    kind: "chain in wrong order",
    size: "ordinary",
    nodes: [n("fluke")],
    frames: [1, 240],
    order: 3,
  },
  {
    what: "The fins are not animated, they stick out like oars for ten seconds.",
    kind: "part left out",
    size: "ordinary",
    nodes: ["finL", "finR", "bladeL", "bladeR"].map(n),
    frames: [1, 240],
    order: 4,
  },
  {
    what: "A quick wobble of roll at 200, far too light for such a mass.",
    kind: "weightless",
    size: "barely",
    nodes: [n("trunk")],
    frames: [196, 204],
    order: 5,
  },
];
export const truth = { picture: { nodes: [n("skull"), n("trunk"), n("rostrum")], frames: [1, END] } };
