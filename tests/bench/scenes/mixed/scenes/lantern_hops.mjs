// @ts-check
import { names } from "../../creatures/kit/bodies.mjs";
import { cameraNode } from "../../creatures/kit/camera.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { curvesOf } from "../../creatures/kit/edits.mjs";
import { add, sub } from "../../creatures/kit/math.mjs";
import { makeRig, Pose } from "../../creatures/kit/rig.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { track } from "../../people/kit/curve.mjs";

export const name = "lantern_hops";
export const about =
  "A lantern on one jointed leg gathers itself, hops three times past the camera, comes to rest with a swinging ring, and turns its light on us.";

const FPS = 24;
const END = 124;
const G = 9.81 / FPS / FPS;
const rig = makeRig(
  /** @type {any} */ ([
    ["disc", null, [0, 0.03, 0], 1.2, "yxz"],
    ["toe", "disc", [0, 0, 0.14], 0, "yxz"],
    ["rod", "disc", [0, 0.03, 0], 0.8, "xyz"],
    ["strut", "rod", [0, 0.44, 0], 0.8, "xyz"],
    ["cage", "strut", [0, 0.44, 0], 2.6, "yxz"],
    ["roof", "cage", [0, 0.26, 0], 0.4, "yxz"],
    ["ring", "roof", [0, 0.04, 0], 0.1, "xyz"],
    ["ringEnd", "ring", [0, 0.11, 0], 0, "xyz"],
  ]),
);
const n = names({
  disc: "talp_korong",
  toe: "talp_orr",
  rod: "pole_low",
  strut: "pole_high",
  cage: "glasshouse",
  roof: "cap_tin",
  ring: "bail",
  ringEnd: "bail_tip",
});

/** From where and when to where and when. */
const hops = [
  { from: 30, to: 39, z0: 0, z1: 0.62 },
  { from: 51, to: 60, z0: 0.62, z1: 1.26 },
  { from: 75, to: 86, z0: 1.26, z1: 2.12 },
];
const OFF = { c: 0.42, lean: 15 };
const ON = { c: 0.26, lean: -9 };

/** @param {Pose} p @param {number} z @param {number} c bend @param {number} lean @param {number} nod @param {number} yaw */
function stance(p, z, c, lean, nod, yaw) {
  p.move("disc", 0, 0.03, z);
  p.rot("disc", 0, 0, 0);
  p.rot("rod", lean + 52 * c, 0, 0);
  p.rot("strut", -106 * c, 0, 0);
  p.rot("cage", 54 * c - 0.8 * lean + nod, yaw, 0);
}
/** Where the centre of mass is in a pose on the ground. @param {number} z @param {{ c: number, lean: number }} how */
function centre(z, how) {
  const p = new Pose(rig);
  stance(p, z, how.c, how.lean, 0, 0);
  return p.com();
}
const flights = hops.map((h) => {
  const [a, b] = [centre(h.z0, OFF), centre(h.z1, ON)];
  const T = h.to - h.from;
  return { ...h, a, b, vy: (b[1] - a[1]) / T + (G * T) / 2, vz: (b[2] - a[2]) / T, T };
});
const rest = centre(0, { c: 0.2, lean: 0 });

/** @param {boolean} bad */
function build(bad) {
  const [h1, h2, h3] = flights;
  const down = (/** @type {any} */ h) => h.vy - G * h.T;
  const low = rest[1] - 0.21;
  const stiff = bad ? 0.16 : 0;
  const height = [
    track({ 1: rest[1], 8: rest[1] + 0.004, 16: rest[1], 25: low, 26: low, 30: { v: h1.a[1], s: h1.vy } }),
    track({ 39: { v: h1.b[1], s: down(h1) }, 43: low, 47: low + 0.004, 51: { v: h2.a[1], s: h2.vy } }),
    track({
      60: { v: h2.b[1], s: bad ? 0 : down(h2) },
      64: low + stiff,
      68: low + 0.02 + stiff,
      71: low - 0.03 + stiff * 0.5,
      75: { v: h3.a[1], s: h3.vy },
    }),
    track({
      86: { v: h3.b[1], s: down(h3) },
      91: low - 0.02,
      99: rest[1] + 0.02,
      106: rest[1] - 0.008,
      112: rest[1],
      [END]: rest[1],
    }),
  ];
  const along = [
    track({ 1: 0.004, 14: 0.006, 24: -0.015, 30: { v: h1.a[2], s: h1.vz } }),
    track({ 39: { v: h1.b[2], s: h1.vz }, 44: 0.62, 51: { v: h2.a[2], s: h2.vz } }),
    track({ 60: { v: h2.b[2], s: h2.vz }, 66: 1.262, 70: 1.25, 75: { v: h3.a[2], s: h3.vz } }),
    track({ 86: { v: h3.b[2], s: h3.vz }, 93: 2.15, 102: 2.112, 110: 2.122, [END]: 2.12 }),
  ];
  const stands = [
    { from: 1, to: 30, z: 0 },
    { from: 39, to: 51, z: 0.62 },
    { from: 60, to: 75, z: 1.26 },
    { from: 86, to: END, z: 2.12 },
  ];
  const nod = track({
    1: 0,
    10: -7,
    18: -4,
    25: 10,
    30: -10,
    35: -14,
    39: -2,
    43: 16,
    48: 4,
    51: -12,
    56: -15,
    60: -2,
    64: 15,
    69: 6,
    75: -14,
    81: -18,
    86: -2,
    91: 20,
    98: -9,
    105: 5,
    113: 0,
    [END]: 1,
  });
  const yaw = track({ 1: 0, 6: 0, 14: 14, 22: 0, 92: 0, 98: 8, 109: -74, 115: -70, [END]: -71 });
  const swing = track({
    1: 62,
    16: 58,
    25: 74,
    30: 44,
    33: 4,
    38: -28,
    42: 58,
    46: 84,
    51: 50,
    54: 4,
    59: -32,
    63: 56,
    67: 84,
    71: 66,
    75: 48,
    79: -4,
    85: -40,
    89: 40,
    94: 86,
    100: 50,
    106: 74,
    112: 58,
    118: 68,
    [END]: 63,
  });
  const tuck = (/** @type {any} */ h) =>
    track({
      [h.from]: { v: OFF.c, s: -0.16 },
      [h.from + 2]: 0.1,
      [h.from + Math.round(h.T * 0.55)]: 0.46,
      [h.to]: { v: ON.c, s: -0.03 },
    });
  const tip = (/** @type {any} */ h) =>
    track({ [h.from]: OFF.lean, [h.from + Math.round(h.T * 0.5)]: 6, [h.to]: ON.lean });
  const heel = (/** @type {any} */ h) => track({ [h.from]: 0, [h.from + 2]: 22, [h.to - 3]: -6, [h.to]: 0 });
  const take = perform(rig, [1, END], (p, f) => {
    const at = stands.findIndex((s) => f >= s.from && f <= s.to);
    if (at >= 0) {
      const s = stands[at];
      const [y, z] = [height[at](f), along[at](f)];
      let [c, lean] = [0.3, 0];
      for (let k = 0; k < 14; k++) {
        stance(p, s.z, c, lean, nod(f), yaw(f));
        const now = p.com();
        c = Math.min(1.1, Math.max(0.03, c + (now[1] - y) * 2.2));
        lean = Math.min(30, Math.max(-30, lean + (z - now[2]) * 75));
      }
      stance(p, s.z, c, lean, nod(f), yaw(f));
      if (bad && at === 1) p.move("disc", 0, 0.03, s.z + 0.026 * Math.min(1, Math.max(0, (f - 42) / 6)));
    } else {
      const h = /** @type {any} */ (flights.find((q) => f > q.from && f < q.to));
      stance(p, 0, tuck(h)(f), tip(h)(f), nod(f), yaw(f));
      p.rot("disc", heel(h)(f), 0, 0);
      p.rot("rod", tip(h)(f) + 52 * tuck(h)(f) - heel(h)(f), 0, 0);
      const t = f - h.from;
      const u = t / h.T;
      // The last hop was pulled flat.
      const g = bad && h === h3 ? 0.25 : 1;
      const want = [
        0,
        h.a[1] + (h.b[1] - h.a[1]) * u + g * (G / 2) * t * (h.T - t),
        h.a[2] + (h.b[2] - h.a[2]) * u,
      ];
      p.t.disc = add(p.t.disc, sub(want, p.com()));
    }
    p.rot("ring", swing(f), 0, 0);
  });
  return makeDocument({
    name,
    fps: FPS,
    range: [1, END],
    unit: 0.01,
    bodies: [
      {
        rig,
        name: n,
        curves: keyed(take, {
          how: "bezier",
          turn: 0.12,
          place: 0.0004,
          only: (id) => (id === "disc" ? "every" : undefined),
        }),
      },
    ],
    things: [cameraNode("lens", [-5.2, 0.95, 1.0], bad ? [0, 0.08, 1.0] : [0, 0.78, 1.0], 0.01)],
    more: {
      cameras: [{ id: "flank", node: "lens", verticalFieldOfView: 25, aspect: 1.7778 }],
      surfaces: [{ id: "yard", height: 0 }],
      figures: [
        {
          id: "lantern",
          stature: 1.2,
          parts: { root: n("disc"), head: n("cage") },
          limbs: [{ id: "pole", kind: "leg", nodes: ["strut", "rod", "disc"].map(n) }],
        },
      ],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  for (const c of curvesOf(doc, [n("ring")], "rotation")) c.keys = [c.keys[0].slice(0, 2)];
  return doc;
}
export const flaws = [
  {
    what: "The last and widest hop hangs: it skims over the ground for half a second, pulled along on a thread.",
    kind: "floaty-flight",
    size: "strong",
    nodes: ["disc", "cage", "rod", "strut"].map(n),
    frames: [75, 86],
    order: 1,
  },
  {
    what: "It takes the second landing like a stick, the joint of the leg hardly bends.",
    kind: "landing without give",
    size: "ordinary",
    nodes: ["disc", "rod", "strut", "cage"].map(n),
    frames: [60, 72],
    order: 2,
  },
  {
    what: "At the top of the first hops, the upper edge of the picture cuts off the roof of the lantern.",
    kind: "cut by frame edge",
    size: "ordinary",
    nodes: ["cage", "roof", "ring"].map(n),
    frames: [30, 60],
    order: 3,
  },
  {
    what: "The ring on the roof is stiff; it ought to fly up and fall back a moment after each landing.",
    kind: "no drag",
    size: "ordinary",
    nodes: ["ring", "ringEnd"].map(n),
    frames: [25, 112],
    order: 4,
  },
  {
    what: "Between the first two hops the foot skids on a little.",
    kind: "foot slides",
    size: "barely",
    nodes: ["disc", "toe"].map(n),
    frames: [41, 51],
    order: 5,
  },
];
export const truth = {
  plants: [
    [1, 30],
    [39, 51],
    [60, 75],
    [86, END],
  ].map((frames) => ({ node: n("disc"), frames: /** @type {[number, number]} */ (frames) })),
  air: flights.map((h) => ({ frames: /** @type {[number, number]} */ ([h.from, h.to]) })),
  ground: { nodes: ["disc", "toe"].map(n), height: 0.03, under: 0.006 },
  balance: [
    { frames: /** @type {[number, number]} */ ([1, 22]), feet: [n("disc")], margin: 0.08 },
    { frames: /** @type {[number, number]} */ ([104, END]), feet: [n("disc")], margin: 0.08 },
  ],
  picture: { nodes: rig.joints.map((j) => n(j.id)), frames: /** @type {[number, number]} */ ([1, END]) },
  spikes: { except: hops.flatMap((h) => /** @type {[number, number][]} */ ([[h.from - 3, h.to + 3]])) },
};
