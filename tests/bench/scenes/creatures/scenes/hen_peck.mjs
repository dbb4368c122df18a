// @ts-check
// A hen walks and pecks, on twos.

import { masses, names } from "../kit/bodies.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { curvesOf } from "../kit/edits.mjs";
import { bothSides, heading, makeRig } from "../kit/rig.mjs";
import { footAt, paw } from "../kit/steps.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "hen_peck";
export const about =
  "A hen takes three steps with its head held still between thrusts, stops, pecks twice, and looks up at one side. Animated on twos.";

const HIP = 0.24;
const END = 97;
const rig = makeRig(
  /** @type {any} */ ([
    ["body", null, [0, HIP, 0], 1.2, "yxz"],
    ["breast", "body", [0, 0.02, 0.1], 0.5],
    ["neck1", "breast", [0, 0.05, 0.03], 0.06],
    ["neck2", "neck1", [0, 0.07, 0.01], 0.04],
    ["head", "neck2", [0, 0.07, 0.01], 0.06],
    ["beak", "head", [0, -0.01, 0.05], 0],
    ["tail1", "body", [0, 0.05, -0.1], 0.04],
    ["tail2", "tail1", [0, 0.05, -0.05], 0],
    ...bothSides([
      ["wing*", "breast", [0.07, 0.03, -0.03], 0.06],
      ["wingEnd*", "wing*", [0.01, -0.03, -0.12], 0],
      ["thigh*", "body", [0.045, -0.03, 0.02], 0.1, "xzy"],
      ["shin*", "thigh*", [0, -0.1, 0], 0.05, "xzy"],
      ["foot*", "shin*", [0, -0.11, 0], 0.02, "xzy"],
      ["toe*", "foot*", [0, -0.09, 0], 0, "xzy"],
    ]),
  ]),
);
const n = names({
  L: "g",
  R: "d",
  body: "corps",
  breast: "poitrine",
  neck1: "cou_a",
  neck2: "cou_b",
  head: "tete",
  beak: "bec",
  tail1: "queue",
  tail2: "queue_bout",
  "wing*": "aile_*",
  "wingEnd*": "aile_bout_*",
  "thigh*": "cuisse_*",
  "shin*": "jambe_*",
  "foot*": "patte_*",
  "toe*": "doigts_*",
});

/** @param {boolean} bad */
function build(bad) {
  const zAt = (/** @type {number} */ f) =>
    val(f, [
      [1, 0],
      [7, 0.02],
      [17, 0.1],
      [29, 0.2],
      [41, 0.29],
      [47, 0.305],
    ]);
  const plants = {
    L: [
      { from: -9, to: 5, at: [0.035, 0, 0.03] },
      { from: 13, to: 29, at: [0.035, 0, 0.17] },
      { from: 37, to: 199, at: [0.035, 0, 0.345] },
    ],
    R: [
      { from: -9, to: 17, at: [-0.035, 0, 0.04] },
      { from: 25, to: 43, at: [-0.035, 0, 0.265] },
      { from: 49, to: 199, at: [-0.035, 0, 0.325] },
    ],
  };
  // The head rests in the world while the body goes, then thrusts ahead to its next place.
  const headZ = (/** @type {number} */ f) =>
    bad
      ? zAt(f) + 0.135
      : val(f, [
          [1, 0.14],
          [7, 0.145],
          [11, 0.245],
          [19, 0.25],
          [23, 0.345],
          [31, 0.35],
          [35, 0.435],
          [43, 0.44],
          [47, 0.445],
        ]);
  const peck = (/** @type {number} */ f) =>
    val(f, [
      [51, 0],
      [55, -0.12],
      [61, 1],
      [63, 0.93],
      [67, 0.62],
      [71, 1.02],
      [73, 0.95],
      [83, -0.06],
      [87, 0],
      [97, 0],
    ]);
  const take = perform(rig, [1, END], (p, f) => {
    const k = peck(f);
    const step =
      Math.sin(((f - 5) / 12) * Math.PI) *
      val(f, [
        [41, 1],
        [49, 0],
      ]);
    p.move(
      "body",
      0.012 * step,
      HIP -
        0.012 -
        0.006 *
          Math.cos(((f - 9) / 6) * Math.PI) *
          val(f, [
            [41, 1],
            [49, 0],
          ]) -
        0.03 * k,
      zAt(f) - 0.012 * k,
    );
    p.rot("body", -8 + 30 * k, 0, 5 * step);
    p.rot("breast", -4 + 14 * k, 0, -2 * step);
    p.rot(
      "tail1",
      10 -
        12 *
          val(f - 4, [
            [51, 0],
            [55, -0.12],
            [61, 1],
            [73, 0.95],
            [83, -0.06],
            [87, 0],
          ]) +
        2 * step,
      0,
      0,
    );
    p.rot(
      "tail2",
      -6 *
        val(f - 6, [
          [51, 0],
          [61, 1],
          [73, 0.95],
          [83, -0.06],
          [87, 0],
        ]),
      0,
      0,
    );
    for (const s of ["L", "R"]) p.rot(`wing${s}`, 4 * k, 0, (s === "L" ? 1 : -1) * 3 * Math.abs(step));
    // The neck folds in an S: its two bones turn against each other until the head is at its place.
    const want = [0, 0.385 - 0.305 * k + 0.01 * (k - k * k), headZ(f) + 0.05 * k];
    p.reach("neck1", "neck2", "head", want, [0, -0.4, -1]);
    const pitch = 8 + 52 * k;
    const turnAway = val(f, [
      [83, 0],
      [87, 1],
      [91, 1],
      [93, 0.82],
      [97, 0.82],
    ]);
    p.face("head", heading(48 * turnAway, pitch, 12 * turnAway));
    for (const s of ["L", "R"]) {
      const t = footAt(plants[/** @type {'L'} */ (s)], f, 0.05, 0.85);
      const hip = p.world(`thigh${s}`).p;
      paw(
        p,
        [`thigh${s}`, `shin${s}`, `foot${s}`, `toe${s}`],
        t.at,
        -4 + 170 * (hip[2] - t.at[2] - 0.01) + 40 * t.up,
        [0, 0.2, 1],
      );
    }
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "twos" }) }],
  });
}
export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  const head = curvesOf(doc, ["neck1", "neck2", "head"].map(n), "rotation");
  // The second peck is the first, pasted.
  for (const c of doc.curves) {
    if (!["corps", "poitrine", "cou_a", "cou_b", "tete"].includes(c.node)) continue;
    for (const k of c.keys)
      if (k[0] >= 73 && k[0] <= 81) k[1] = c.keys.find((/** @type {any} */ q) => q[0] === 71)[1];
  }
  for (const c of curvesOf(doc, ["cuisse_d", "jambe_d", "patte_d"])) {
    const keys = c.keys.map((/** @type {any} */ k) => [...k]);
    for (const k of c.keys)
      if (k[0] === 25 || k[0] === 27) k[1] = keys.find((/** @type {any} */ q) => q[0] === 21)[1];
  }
  for (const c of head)
    if (c.node === "tete") for (const k of c.keys) if (k[0] === 91) k[1] += c.channel.endsWith("y") ? 11 : 0;
  return doc;
}
export const flaws = [
  {
    what: "The head floats along with the body as on a rail, a hen keeps its head in place and thrusts it.",
    kind: "wrong motion for the animal",
    size: "ordinary",
    nodes: ["neck1", "neck2", "head"].map(n),
    frames: [1, 47],
    order: 2,
  },
  {
    what: "It freezes with its beak in the ground from 71 to 81, and is up again in one drawing.",
    kind: "freeze",
    size: "strong",
    nodes: ["body", "breast", "neck1", "neck2", "head"].map(n),
    frames: [71, 83],
    order: 1,
  },
  {
    what: "Right foot hangs in the air at 25 and 27 when it should have the weight, then pops down.",
    kind: "foot floats",
    size: "ordinary",
    nodes: ["thighR", "shinR", "footR"].map(n),
    frames: [25, 29],
    order: 3,
  },
  {
    what: "The head jerks further round for one drawing on 91.",
    kind: "pop",
    size: "barely",
    nodes: [n("head")],
    frames: [91, 92],
    order: 4,
  },
];
export const truth = {
  plants: [
    ["L", 1, 5],
    ["L", 13, 29],
    ["L", 37, 97],
    ["R", 1, 17],
    ["R", 25, 43],
    ["R", 49, 97],
  ].map(([s, a, b]) => ({ node: n(`toe${s}`), frames: [a, b] })),
  ground: { nodes: [n("toeL"), n("toeR")], height: 0 },
  masses: masses(rig, n),
  balance: [{ frames: [49, 97], feet: [n("toeL"), n("toeR")], margin: 0.06 }],
  spikes: { ratio: 1e9 },
};
