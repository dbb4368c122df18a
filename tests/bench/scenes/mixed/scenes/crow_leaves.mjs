// @ts-check
import { masses, names } from "../../creatures/kit/bodies.mjs";
import { val } from "../../creatures/kit/curve.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { curvesOf, drop, erase, shift, straight, tidy } from "../../creatures/kit/edits.mjs";
import { add, sub } from "../../creatures/kit/math.mjs";
import { bothSides, makeRig } from "../../creatures/kit/rig.mjs";
import { ease, paw } from "../../creatures/kit/steps.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { tick } from "../../mixed/kit/edits.mjs";

export const name = "crow_leaves";
export const about =
  "A crow looks about on a wall, crouches, jumps off with its wings up and climbs away with six beats.";

const FPS = 30;
const END = 84;
const OFF = 29;
const BEAT = 8;
const HIP = 0.17;
const rig = makeRig([
  ["body", null, [0, HIP, 0], 0.3, "yxz"],
  ["breast", "body", [0, 0.01, 0.09], 0.12],
  ["neck", "breast", [0, 0.045, 0.055], 0.02],
  ["head", "neck", [0, 0.045, 0.025], 0.03],
  ["bill", "head", [0, -0.005, 0.075], 0],
  ["tail", "body", [0, -0.005, -0.075], 0.01],
  ["tailEnd", "tail", [0, -0.01, -0.16], 0],
  ...bothSides([
    ["wing*", "breast", [0.035, 0.03, 0.005], 0.015, "zyx"],
    ["arm*", "wing*", [0.1, 0, 0], 0.01, "zyx"],
    ["hand*", "arm*", [0.12, 0, 0], 0.006, "zyx"],
    ["feather*", "hand*", [0.21, 0, 0], 0],
    ["thigh*", "body", [0.03, -0.02, 0.015], 0.01, "xzy"],
    ["shin*", "thigh*", [0, -0.075, 0.001], 0.006],
    ["foot*", "shin*", [0, -0.085, 0], 0.003],
    ["claw*", "foot*", [0, -0.055, 0], 0],
  ]),
]);
const n = names(
  {
    L: "_port",
    R: "_stbd",
    body: "hull",
    breast: "keel",
    neck: "nape",
    head: "crown",
    bill: "beak",
    tail: "rudder",
    tailEnd: "rudder_tip",
    "wing*": "pinion1*",
    "arm*": "pinion2*",
    "hand*": "pinion3*",
    "feather*": "pinion_tip*",
    "thigh*": "drum*",
    "shin*": "shank*",
    "foot*": "tarse*",
    "claw*": "claw*",
  },
  "crow_",
);

/** How far the wings are spread, from folded to open. @param {number} f */
const spread = (f) =>
  val(f, [
    [17, 0],
    [25, 1],
    [END, 1],
  ]);
/** The wings' beat: 1 is up. Down from OFF - 3 on. @param {number} f */
const phase = (f) => ((f - (OFF - 3)) / BEAT) * 2 * Math.PI;
const beating = (/** @type {number} */ f) =>
  val(f, [
    [18, 0],
    [25, 1],
    [END, 1],
  ]);
const G = 9.81 / FPS / FPS;

/** Where the body is, off the wall: it climbs on what the wings give. @param {number} t frames since it left */
function flight(t) {
  const w = (2 * Math.PI) / BEAT;
  const ph = (/** @type {number} */ u) => u + 3;
  // A push up in each downstroke; in the mean the wings bear the weight and a little more.
  const bob = (/** @type {number} */ u) => (-G / (w * w)) * 1.05 * Math.sin(w * ph(u));
  const rate = (-G / w) * 1.05 * Math.cos(w * ph(0));
  const y = 0.036 * t + bob(t) - bob(0);
  const z = 0.042 * t + 0.0007 * t * t;
  return { y, z, up: 0.036 + rate, on: 0.042 };
}

function build() {
  const v = flight(0);
  const low = (/** @type {number} */ f) =>
    val(f, [
      [1, 0],
      [9, 0],
      [21, -0.066],
      [24, -0.066],
    ]);
  const rise = (/** @type {number} */ f) => {
    const u = (f - 23) / (OFF - 23);
    // From the crouch to the speed at which it leaves.
    return -0.066 + (v.up * (OFF - 23) * u * u * u) / 3 + 0;
  };
  const top = rise(OFF);
  const height = (/** @type {number} */ f) =>
    f <= 23 ? low(f) : f <= OFF ? rise(f) : top + flight(f - OFF).y;
  const ahead = (/** @type {number} */ f) => {
    const back = val(f, [
      [9, 0],
      [20, -0.012],
      [23, -0.012],
    ]);
    if (f <= 23) return back;
    const u = (f - 23) / (OFF - 23);
    const reach = -0.012 + (v.on * (OFF - 23) * u * u * u) / 3;
    if (f <= OFF) return reach;
    return -0.012 + (v.on * (OFF - 23)) / 3 + flight(f - OFF).z;
  };
  const pitch = (/** @type {number} */ f) =>
    val(f, [
      [1, -16],
      [9, -16],
      [21, 4],
      [24, 2],
      [31, -38],
      [44, -26],
      [60, -18],
      [END, -14],
    ]);
  const away = /** @type {Record<string, number[]>} */ ({});
  const take = perform(rig, [1, END], (p, f) => {
    const beat = beating(f);
    const flap = (/** @type {number} */ g) => Math.cos(phase(Math.max(g, OFF - 3)));
    const up = (/** @type {number} */ g) => Math.max(0, -Math.sin(phase(Math.max(g, OFF - 3))));
    p.move("body", 0.0, HIP + height(f), ahead(f));
    p.rot("body", pitch(f) + (f > OFF ? 2.5 * Math.sin(phase(f)) : 0), 0, 0);
    p.rot("breast", -2 - 3 * spread(f), 0, 0);
    const look = val(f, [
      [1, 0],
      [3, 0],
      [6, 1],
      [11, 1],
      [14, -0.5],
      [19, -0.5],
      [22, 0],
    ]);
    p.rot("neck", 6 - pitch(f - 1) * 0.45, 18 * look, 0);
    p.rot("head", 12 - pitch(f) * 0.5 - (f > OFF ? 2 * Math.sin(phase(f)) : 0), 24 * look, 0);
    p.rot(
      "tail",
      -6 -
        10 * spread(f - 2) +
        val(f, [
          [20, 0],
          [27, 10],
          [33, 0],
        ]) +
        (f > OFF ? 7 * Math.sin(phase(f - 2)) : 0),
      0,
      0,
    );
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      const o = spread(f);
      const fold = 1 - o;
      const lift = beat * (12 + 52 * flap(f));
      const draw = beat * up(f - 0.5);
      p.rot(
        `wing${s}`,
        -8 * beat * Math.sin(phase(Math.max(f, OFF - 3))),
        k * (78 * fold + 14 * draw * o),
        k * (lift - 16 * fold),
      );
      p.rot(`arm${s}`, 0, k * (-150 * fold - 34 * draw * o), k * beat * 8 * flap(f - 1));
      p.rot(`hand${s}`, 0, k * (152 * fold + 46 * beat * up(f - 1) * o), k * beat * 18 * flap(f - 2));
      const x = 0.035 * k;
      const leg = [`thigh${s}`, `shin${s}`, `foot${s}`, `claw${s}`];
      const tip = [x, 0, 0.05];
      const hip = p.world("body").p;
      if (f <= OFF) {
        paw(p, leg, tip, -42 + 12 * ease((f - 23) / (OFF - 23)), [0, 0.1, 1]);
        away[s] = sub(tip, hip);
      } else {
        const u = ease((f - OFF) / 9);
        const w = (f - OFF) * (1 - Math.min(1, (f - OFF) / 9)) ** 2;
        const tuck = [x, -0.075, -0.05 - 0.004 * Math.sin(phase(f - 2))];
        const was = add(away[s], [0, -v.up * w, -v.on * w]);
        const at = was.map((q, i) => q + (tuck[i] - q) * u);
        paw(p, leg, add(hip, at), -30 + 108 * u, [0, 0.1, 1]);
      }
    }
  });
  const doc = makeDocument({
    name,
    fps: FPS,
    range: [1, END],
    unit: 0.1,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "smooth", turn: 0.2, place: 0.0004 }) }],
    things: [{ id: "coping", translation: [0, -1.5, 0], shapes: [{ kind: "box", size: [20, 3, 4] }] }],
    more: {
      figures: [
        {
          id: "crow",
          parts: { root: n("body"), head: n("head") },
          limbs: ["L", "R"].flatMap((s) => [
            {
              id: `wing ${s}`,
              kind: "wing",
              side: s === "L" ? "left" : "right",
              nodes: [`wing${s}`, `arm${s}`, `hand${s}`, `feather${s}`].map(n),
            },
            {
              id: `leg ${s}`,
              kind: "leg",
              side: s === "L" ? "left" : "right",
              nodes: [`thigh${s}`, `shin${s}`, `foot${s}`, `claw${s}`].map(n),
              sole: { toe: n(`claw${s}`), thickness: 0 },
            },
          ]),
        },
      ],
      surfaces: [
        {
          id: "wall",
          normal: [0, 1, 0],
          height: 0,
          edges: [
            [-10, -2],
            [10, 2],
          ],
        },
      ],
      contacts: ["L", "R"].map((s) => ({ node: n(`claw${s}`), with: "wall", frames: [1, OFF - 1] })),
      propulsors: [{ figure: "crow", nodes: ["wingL", "wingR"].map(n), channel: "rotation.z" }],
    },
  });
  return doc;
}

export const clean = () => build();
export function flawed() {
  const doc = build();
  straight(curvesOf(doc, [n("body")], "translation.y"), [42, END]);
  // The port wing was pasted two frames on.
  shift(curvesOf(doc, ["wingL", "armL", "handL"].map(n)), [34, END], 2);
  for (const c of curvesOf(doc, ["wingL", "armL", "handL"].map(n)))
    c.keys = c.keys.filter((/** @type {any} */ k) => k[0] <= END);
  drop(curvesOf(doc, ["thighR", "shinR", "footR"].map(n)), [31, END]);
  erase(doc, [n("tail")]);
  tick(doc, n("head"), "rotation.x", 57, 7);
  return tidy(doc);
}
export const flaws = [
  {
    what: "From 42 on the body goes up on a wire: no beat lifts it and nothing lets it sink between two.",
    kind: "body ignores the wings",
    size: "ordinary",
    nodes: [n("body")],
    frames: [42, 84],
    order: 2,
  },
  {
    what: "The left wing beats two frames behind the right one.",
    kind: "out of step",
    size: "strong",
    nodes: ["wingL", "armL", "handL"].map(n),
    frames: [34, 84],
    order: 1,
  },
  {
    what: "The right leg was forgotten after the push: it hangs stretched while the other is drawn up.",
    kind: "part left out",
    size: "ordinary",
    nodes: ["thighR", "shinR", "footR"].map(n),
    frames: [31, 84],
    order: 3,
  },
  {
    what: "The tail does nothing, in the take-off or with the beats.",
    kind: "tail dead",
    size: "barely",
    nodes: [n("tail")],
    frames: [18, 84],
    order: 4,
  },
  {
    what: "A nod of the head for one frame at 57 that belongs to nothing.",
    kind: "pop",
    size: "barely",
    nodes: [n("head")],
    frames: [56, 58],
    order: 5,
  },
];
export const truth = {
  plants: ["L", "R"].map((s) => ({ node: n(`claw${s}`), frames: [1, OFF - 1] })),
  ground: { nodes: ["clawL", "clawR"].map(n), height: 0, under: 0.012 },
  masses: masses(rig, n),
  spikes: { except: [[28, 31]] },
  balance: [{ frames: [1, 22], feet: ["clawL", "clawR"].map(n), margin: 0.03 }],
};
