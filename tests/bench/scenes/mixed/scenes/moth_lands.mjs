// @ts-check
import { names } from "../../creatures/kit/bodies.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { curvesOf, hold } from "../../creatures/kit/edits.mjs";
import { makeRig } from "../../creatures/kit/rig.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { track } from "../../people/kit/curve.mjs";

export const name = "moth_lands";
export const about =
  "A big moth flutters in a bow round a box, beats harder and rises, sinks down on it, folds its wings, and opens them twice. A key on every frame.";

const END = 120;
const LAND = 86;
const BEAT = 6;
const TOP = 0.3;
const rows = /** @type {any[]} */ ([
  ["thorax", null, [0, 1, 0], 0.004, "yxz"],
  ["abdomen", "thorax", [0, -0.003, -0.022], 0.003, "yxz"],
  ["rump", "abdomen", [0, -0.002, -0.03], 0, "yxz"],
  ["head", "thorax", [0, 0.002, 0.02], 0.001, "yxz"],
]);
for (const [s, k] of /** @type {[string, number][]} */ ([
  ["L", 1],
  ["R", -1],
])) {
  rows.push(
    [`horn${s}`, "head", [0.005 * k, 0.005, 0.006], 0, "yxz"],
    [`hornMid${s}`, `horn${s}`, [0.008 * k, 0.008, 0.014], 0, "yxz"],
    [`hornEnd${s}`, `hornMid${s}`, [0.006 * k, 0.004, 0.014], 0, "yxz"],
    [`wing${s}`, "thorax", [0.008 * k, 0.006, 0.008], 0.0002, "yxz"],
    [`wingMid${s}`, `wing${s}`, [0.045 * k, 0, 0.01], 0.0001, "yxz"],
    [`wingTip${s}`, `wingMid${s}`, [0.04 * k, 0, 0.004], 0, "yxz"],
    [`under${s}`, "thorax", [0.008 * k, 0.004, -0.008], 0.0002, "yxz"],
    [`underTip${s}`, `under${s}`, [0.045 * k, 0, -0.026], 0, "yxz"],
  );
}
const rig = makeRig(rows);
const n = names(
  {
    L: "vas",
    R: "oik",
    thorax: "keski",
    abdomen: "taka",
    rump: "peraa",
    head: "paa",
    "horn*": "tuntosarvi_*",
    "hornMid*": "tuntosarvi2_*",
    "hornEnd*": "tuntosarvi3_*",
    "wing*": "etusiipi_*",
    "wingMid*": "etusiipi2_*",
    "wingTip*": "etusiipi3_*",
    "under*": "takasiipi_*",
    "underTip*": "takasiipi2_*",
  },
  "koi_",
);
const bow = track({
  1: { v: [-0.75, 0.72, -0.45], s: [0.017, -0.004, 0.008] },
  16: [-0.46, 0.6, -0.26],
  30: [-0.16, 0.55, 0.06],
  42: [0.12, 0.5, 0.28],
  56: [0.36, 0.7, 0.2],
  66: [0.33, 0.78, 0.04],
  76: [0.17, 0.56, -0.04],
  [LAND]: { v: [0.06, TOP + 0.018, 0.0], in: [-0.005, -0.012, 0], out: [0, 0, 0] },
  [END]: [0.06, TOP + 0.018, 0.0],
});

/** @param {boolean} bad */
function build(bad) {
  const effort = track({ 1: 1, 36: 1, 42: 1.25, 58: 1.25, 64: 0.85, 74: 0.9, 84: 1, 89: 0, [END]: 0 });
  const power = (/** @type {number} */ f) => Math.max(0, effort(f));
  const beat = (/** @type {number} */ f) => Math.sin((2 * Math.PI * f) / BEAT);
  const fold = track({ 1: 0, 82: 0, 87: 0, 93: 1, [END]: 1 });
  const open = track({ 1: 0, 95: 0, 101: 0.75, 107: 0, 112: 0.55, 118: 0.05, [END]: 0 });
  const place = (/** @type {number} */ f) => {
    // It runs full tilt into the box and is there.
    if (bad && f > 76) {
      const t = Math.min(1, (f - 76) / 8);
      const a = bow(76);
      const b = bow(LAND);
      return a.map((v, i) => v + (b[i] - v) * t);
    }
    return bow(f);
  };
  const take = perform(rig, [1, END], (p, f) => {
    const at = place(f);
    const bob = bad ? 0 : 0.011 * power(f) * Math.sin((2 * Math.PI * (f - 2.2)) / BEAT);
    const dart = 0.006 * Math.min(1, power(f)) * Math.sin(f / 4.3);
    p.move("thorax", at[0] + dart, at[1] + bob, at[2] + dart * 0.6);
    const yaw = headingOf(f);
    const bank = Math.max(-30, Math.min(30, 1.6 * (headingOf(f + 3) - headingOf(f - 3))));
    const up = power(f);
    p.rot("thorax", -26 * Math.min(1, up) + 4 * up * beat(f - 1), yaw, -bank * Math.min(1, up));
    p.rot("abdomen", 12 * Math.min(1, up) - 7 * up * beat(f - 2) + 3, 0, 0);
    p.rot("head", 14 * Math.min(1, up) - 2 * up * beat(f - 2), 0, 0);
    for (const [s, k] of /** @type {[string, number][]} */ ([
      ["L", 1],
      ["R", -1],
    ])) {
      const late = bad && s === "L" && f > 12 && f < 34 ? 1 : 0;
      const g = f - late;
      const flap = up * (52 * beat(g) + 6);
      const rest = fold(f) * (1 - open(f));
      const lifted = 62 * open(f) * fold(f);
      p.rot(
        `wing${s}`,
        up * 14 * beat(g - 1.4),
        k * (58 * rest + 8 * up * beat(g - 1)),
        k * (flap + lifted - 6 * rest),
      );
      p.rot(`wingMid${s}`, 0, k * 6 * rest, k * (up * 22 * beat(g - 1.2) + 12 * open(f - 1) * fold(f)));
      p.rot(
        `under${s}`,
        up * 8 * beat(g - 1.6),
        k * (30 * rest),
        k * (0.85 * up * (48 * beat(g - 0.6) + 6) + 0.8 * lifted - 9 * rest),
      );
      const feel = bad ? 0 : 1;
      p.rot(
        `horn${s}`,
        feel * (5 * up * beat(f - 2.5) + 4 * Math.sin(f / 7 + k)),
        k * feel * 6 * Math.sin(f / 9 + k),
        0,
      );
      p.rot(`hornMid${s}`, feel * (5 * up * beat(f - 3.5) + 4 * Math.sin((f - 3) / 7 + k)), 0, 0);
    }
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "every" }) }],
    things: [{ id: "rasia", translation: [6, 15, 0], shapes: [{ kind: "box", size: [24, 30, 24] }] }],
    more: {
      figures: [
        {
          id: "koi",
          stature: 0.18,
          parts: { root: n("thorax"), head: n("head") },
          limbs: ["L", "R"].flatMap((s) => {
            const side = s === "L" ? "left" : "right";
            return [
              {
                id: `etusiipi ${side}`,
                kind: "wing",
                side,
                nodes: [`wing${s}`, `wingMid${s}`, `wingTip${s}`].map(n),
              },
              { id: `takasiipi ${side}`, kind: "wing", side, nodes: [`under${s}`, `underTip${s}`].map(n) },
            ];
          }),
        },
      ],
      propulsors: [{ figure: "koi", nodes: [n("wingL"), n("wingR")], channel: "rotation.z" }],
    },
  });
}
/** Where it flies to, in degrees, without jumps; on the box it stays as it came. @param {number} f */
function headingOf(f) {
  let yaw = 0;
  let was = 0;
  for (let t = 1; t <= Math.min(f, LAND - 6); t += 1) {
    const [a, b] = [bow(Math.max(1, t - 2)), bow(t + 2)];
    let w = (Math.atan2(b[0] - a[0], b[2] - a[2]) * 180) / Math.PI;
    w -= 360 * Math.round((w - was) / 360);
    was = w;
    yaw = t === 1 ? w : yaw + (w - yaw) * 0.4;
  }
  return yaw;
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  // Nobody keyed the wings where it rises.
  hold(
    curvesOf(doc, ["wingL", "wingR", "wingMidL", "wingMidR", "underL", "underR"].map(n), "rotation"),
    [44, 57],
  );
  return doc;
}
export const flaws = [
  {
    what: "For half a second it is carried up with its wings spread still; that is where it would have to work.",
    kind: "motion without drive",
    size: "strong",
    nodes: ["thorax", "wingL", "wingR", "wingMidL", "wingMidR", "underL", "underR"].map(n),
    frames: [44, 58],
    order: 1,
  },
  {
    what: "It comes down at full speed and stands on the box at once, without a last beat against it.",
    kind: "stop too hard",
    size: "ordinary",
    nodes: [n("thorax")],
    frames: [80, 88],
    order: 2,
  },
  {
    what: "The body runs on a wire: no beat of the wings lifts or drops it.",
    kind: "body ignores the wings",
    size: "ordinary",
    nodes: [n("thorax")],
    frames: [1, 84],
    order: 3,
  },
  {
    what: "The left wings beat a frame after the right ones in the first bow.",
    kind: "out of step",
    size: "barely",
    nodes: ["wingL", "wingMidL", "underL"].map(n),
    frames: [12, 34],
    order: 4,
  },
  {
    what: "The feelers are wires, they neither tremble in flight nor feel about on the box.",
    kind: "part left out",
    size: "ordinary",
    nodes: ["hornL", "hornR", "hornMidL", "hornMidR"].map(n),
    frames: [1, 120],
    order: 5,
  },
];
export const truth = {
  plants: [{ node: n("thorax"), frames: /** @type {[number, number]} */ ([90, END]) }],
  ground: { nodes: ["thorax", "abdomen", "rump"].map(n), height: 0, under: 0 },
  spikes: { nodes: ["thorax", "head", "abdomen"].map(n) },
};
