// @ts-check

import { track } from "../../people/kit/curve.mjs";
import { versions } from "../../people/kit/declare.mjs";
import { about as turnBy } from "../../people/kit/math.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { pop } from "../../slips.mjs";
import { grip, names, slide, toEnd, unkeyed } from "../kit-A/write.mjs";

export const name = "saw_plank";
export const about =
  "A joiner holds a plank down with his left hand and saws it with five strokes; then he lets the saw stand in the cut, straightens a little and looks at it.";

const LAST = 136;
const TILT = 34;
const CUT = [-0.2, 0.64, 0.56];
/** Ends of strokes: frame, and how far the handle is from the cut along the blade. */
const STROKES = [
  [1, 0.43],
  [5, 0.44],
  [15, 0.22],
  [23, 0.45],
  [33, 0.21],
  [41, 0.45],
  [52, 0.21],
  [60, 0.45],
  [70, 0.22],
  [78, 0.44],
  [89, 0.21],
  [102, 0.25],
];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "asztalos",
    stature: 1.8,
    spines: 2,
    words: names(
      "medence gerinc/mellkas nyak fej fejteto kulcscsont felkar alkar kez ujjak comb labszar labfej labujj labujjhegy",
    ),
    side: (w, s) => `${s === "L" ? "bal" : "jobb"}_${w}`,
    orders: { root: "yxz", spine: "yxz", neck: "yxz", leg: "xzy", arm: "xzy" },
  });
  const plain = track(Object.fromEntries(STROKES));
  const evenly = (/** @type {number} */ f) => {
    const i = STROKES.findIndex(([a]) => a > f);
    const [a, b] = [STROKES[i - 1], STROKES[i]];
    return a[1] + ((b[1] - a[1]) * (f - a[0])) / (b[0] - a[0]);
  };
  const way = (/** @type {number} */ f) => (bad && f >= 41 && f < 89 ? evenly(f) : plain(f));
  const deep = track({ 1: 0, 89: -0.02, [LAST]: -0.02 });
  const rock = track(Object.fromEntries(STROKES.map(([f, v]) => [f + 1, f > 90 ? 0 : 9 * (v - 0.33)])));
  const saw = (/** @type {number} */ f) => {
    const s = way(f);
    const a = ((TILT + rock(f)) * Math.PI) / 180;
    return {
      p: [CUT[0], CUT[1] + deep(f) + Math.sin(a) * s, CUT[2] - Math.cos(a) * s],
      q: turnBy(0, TILT + rock(f)),
    };
  };

  /** A value that goes with the strokes, `by` frames after them. */
  const withStroke = (
    /** @type {number[]} */ rest,
    /** @type {number[]} */ push,
    /** @type {number} */ by,
  ) => {
    const out = /** @type {Record<number, number[]>} */ ({ 1: rest.map((v, i) => v + push[i] * 0.05) });
    STROKES.slice(1, -1).forEach(([f, s], n) => {
      const u = (0.46 - s) / 0.27;
      const k = 1 + 0.06 * Math.sin(n * 2.1);
      out[f + by] = rest.map((v, i) => v + push[i] * u * k);
    });
    return out;
  };
  const hips = withStroke([-0.015, -0.085, -0.12], [0.006, -0.012, 0.035], -1);
  const hipsRot = withStroke([24, -8, 0], [2, 4, 0], 0);
  const spine = withStroke([15, -7, 0], [2, 4, 0], 1);
  const chest = withStroke([15, -10, 0], [3, 7, -1], 2);
  const neck = withStroke([-8, 4, 0], [-2, -4, 1], 3);
  Object.assign(hips, {
    108: [-0.016, -0.08, -0.112],
    120: [-0.014, -0.078, -0.112],
    [LAST]: [-0.014, -0.079, -0.11],
  });
  Object.assign(hipsRot, { 109: [23, -6, 0], [LAST]: [23, -5, 1] });
  Object.assign(spine, { 111: [15, -5, 0], [LAST]: [15, -5, 0] });
  Object.assign(chest, { 113: [14, -6, 0], [LAST]: [14, -5, 0] });
  Object.assign(neck, { 102: [-6, 1, 0], 115: [-5, 0, 0], [LAST]: [-5, 1, 0] });

  const perf = /** @type {any} */ ({
    hips,
    hipsRot,
    spine,
    chest,
    neck,
    head: {
      1: [2, -6, 4],
      30: [3, -5, 5],
      64: [2, -6, 4],
      82: [2, -4, 2],
      94: [6, -8, -4],
      106: [5, -7, 3],
      [LAST]: [5, -7, 2],
    },
    footL: { 1: [0.13, 0, 0.16, 16] },
    footR: { 1: [-0.13, 0, -0.2, -26] },
    kneeL: { 1: 8 },
    kneeR: { 1: 8 },
    clavL: { 1: [5, 6], 89: [5, 6], 112: [4, 5] },
    clavR: withStroke([1, -5], [0, 14], 1),
    armL: { 1: [40, 12, 0, 20] },
    armR: { 1: [0, 10, 0, 60] },
    fingL: { 1: 12, 60: 15, 110: 9 },
    fingR: { 1: 66, 94: 66, 106: 60 },
    handR: grip("furesz", "R", [0, 0, 0], [0, -0.15, 1], [1, 0, 0], { 1: 1 }, [-0.35, 0.1, -1]),
    handL: {
      w: { 1: 1 },
      pole: [0.8, 0.1, -0.5],
      at: () => [0.17, 0.65, 0.46],
      rot: () => handTurn("L", [-0.15, -0.2, 1], [0, -1, 0]),
    },
    look: { w: { 1: 1 }, at: track({ 1: [-0.2, 0.66, 0.58], 102: [-0.2, 0.66, 0.58] }) },
    opts: { kind: "bezier" },
  });
  Object.assign(perf.clavR, { 102: [1, 10], 114: [0, 7] });
  if (bad) {
    // The trunk's keys were slid by half a stroke.
    for (const k of ["hips", "hipsRot", "spine", "chest"]) perf[k] = slide(perf[k], 3, 94, -9);
    const off = track({ 1: 0, 42: 0, 52: 0.055, 66: 0.055, 80: 0 });
    perf.handL.at = (/** @type {number} */ f) => [0.17 + off(f), 0.65, 0.46];
    perf.footL = { 1: [0.13, 0, 0.16, 16], 66: [0.13, 0, 0.16, 16], 88: [0.13, 0, 0.184, 16] };
  }
  toEnd(perf, LAST);
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.0254,
    items: [
      {
        id: "deszka",
        still: [0, 0.62, 0.54],
        shapes: [{ kind: "box", size: [1.4, 0.04, 0.24] }],
        colour: "#c8a060",
      },
      {
        id: "furesz",
        pose: saw,
        must: STROKES.map((s) => s[0]),
        tol: 0.0008,
        shapes: [{ kind: "box", size: [0.004, 0.09, 0.56], centre: [0, -0.02, 0.36] }],
      },
      { skel: sk, perf },
    ],
  });
  if (bad) {
    pop(b.doc, "jobb_labszar", "rotation.x", 31, 8);
    unkeyed(b.doc, (id) => id !== "furesz", 114);
  }
  b.doc.props = [
    { node: "furesz", mass: 0.7, heldBy: [{ node: "jobb_kez", frames: [1, LAST] }] },
    { node: "deszka" },
  ];
  b.doc.contacts = [{ node: "bal_kez", with: "deszka", frames: [1, LAST] }];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The trunk goes against the saw: he leans in while the arm pulls and draws back while it pushes, so no stroke has any force.",
    kind: "body against the stroke",
    size: "strong",
    nodes: ["medence", "gerinc", "mellkas"],
    frames: [5, 92],
    order: 1,
  },
  {
    what: "In the last strokes the saw turns round like a piston: one speed there, one speed back, no slowing at the ends.",
    kind: "no ease at the turns",
    size: "ordinary",
    nodes: ["furesz", "jobb_kez", "jobb_alkar", "jobb_felkar"],
    frames: [41, 89],
    order: 2,
  },
  {
    what: "The hand that holds the plank down slides along it and back.",
    kind: "hand-slide",
    size: "ordinary",
    nodes: ["bal_kez", "bal_ujjak"],
    frames: [42, 80],
    order: 3,
  },
  {
    what: "The right knee kicks for one frame at 31.",
    kind: "pop",
    size: "ordinary",
    nodes: ["jobb_labszar", "jobb_labfej"],
    frames: [30, 32],
    order: 4,
  },
  {
    what: "Once the saw stands he turns to stone: no breath and no shift to the end.",
    kind: "freeze",
    size: "ordinary",
    nodes: ["medence", "gerinc", "mellkas", "nyak", "fej", "bal_felkar", "jobb_felkar"],
    frames: [114, 136],
    order: 5,
  },
  {
    what: "The front foot creeps ahead under his weight.",
    kind: "foot-slide",
    size: "barely",
    nodes: ["bal_labfej", "bal_labujj"],
    frames: [66, 88],
    order: 6,
  },
];
