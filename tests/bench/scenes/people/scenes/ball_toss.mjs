// @ts-check
import { track } from "../kit/curve.mjs";
import { versions } from "../kit/declare.mjs";
import { ONE } from "../kit/math.mjs";
import { handTurn } from "../kit/pose.mjs";
import { fly, makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "ball_toss";
export const about =
  "A girl of six with a ponytail tosses a ball up with her right hand and follows it with her eyes. She catches it in the same hand, gives in her knees, and looks up proudly.";
export const centre = [0, 0.75, 0];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "girl",
    stature: 1.16,
    spines: 2,
    hair: 3,
    fingers: true,
    armRest: 45,
    orders: { root: "yxz", arm: "yxz" },
    words: {
      root: "Becken",
      spine: ["Ruecken", "Brust"],
      neck: "Hals",
      head: "Kopf",
      end: "KopfEnde",
      clav: "Schluessel",
      up: "Oberarm",
      fore: "Unterarm",
      hand: "Hand",
      fing: "Finger",
      thigh: "Oberschenkel",
      shin: "Unterschenkel",
      foot: "Fuss",
      toe: "Zehen",
      tip: "ZehenEnde",
      hair: "Zopf",
    },
    side: (w, s) => `${w}_${s === "L" ? "L" : "R"}`,
    build: { head: 0.17, thigh: 0.215, shin: 0.225, back: 0.27 },
  });
  const palm = track(
    bad
      ? {
          1: [-0.15, 0.6, 0.18],
          20: [-0.15, 0.605, 0.18],
          28: [-0.155, 0.515, 0.19],
          34: { v: [-0.15, 0.72, 0.22], s: [0, 0.06, 0] },
          40: [-0.14, 0.84, 0.21],
          50: { v: [-0.14, 0.77, 0.21], in: [0, -0.02, 0], out: [0, 0, 0] },
          96: [-0.14, 0.77, 0.21],
          100: [-0.14, 0.77, 0.21],
        }
      : {
          1: [-0.15, 0.6, 0.18],
          20: [-0.15, 0.605, 0.18],
          28: [-0.155, 0.515, 0.19],
          34: { v: [-0.15, 0.72, 0.22], s: [0, 0.084, 0] },
          39: [-0.14, 0.87, 0.21],
          51: { v: [-0.14, 0.76, 0.21], s: [0, -0.045, 0] },
          58: [-0.15, 0.56, 0.19],
          68: [-0.15, 0.6, 0.19],
          84: [-0.145, 0.6, 0.18],
          100: [-0.145, 0.595, 0.18],
        },
  );
  const R = 0.05;
  const hold = (f) => ({ p: [palm(f)[0], palm(f)[1] + R, palm(f)[2]], q: ONE });
  const arc = fly(34, 51, hold(34), hold(51), 30, 0);
  const even = track({
    34: { v: 0.77, s: 0.03 },
    41: { v: 1.08, s: 0.03 },
    47: { v: 1.07, s: -0.04 },
    51: { v: hold(51).p[1], s: -0.06 },
  });
  const ball = (f) => {
    if (f <= 34 || f >= 51) return hold(f);
    const a = arc(f);
    return bad ? { p: [a.p[0], even(f), a.p[2]], q: ONE } : a;
  };
  const perf = /** @type {any} */ ({
    hips: {
      1: [0.006, -0.012, 0],
      18: [0.004, -0.014, 0],
      28: [-0.008, -0.062, -0.012],
      35: { v: [0, -0.004, 0.004], s: [0, 0, 0] },
      46: [-0.002, -0.016, 0.002],
      53: [-0.006, -0.03, 0],
      60: [-0.01, -0.066, -0.008],
      72: [0, -0.012, 0.002],
      86: [0.008, -0.01, 0.004],
      100: [0.01, -0.013, 0.003],
    },
    hipsRot: {
      1: [0, 2, 0],
      28: [5, -4, 0],
      36: [-1, 4, 0],
      60: [5, -2, 1],
      74: [0, 2, -1],
      100: [0, 3, -1],
    },
    spine: {
      1: [1, 0, 0],
      27: [6, -4, 2],
      36: [-5, 5, -1],
      50: [-3, 2, 0],
      61: [7, -2, 2],
      76: [-3, 2, 0],
      100: [-2, 2, 0],
    },
    chest: {
      1: [1, 0, 0],
      29: [7, -6, 2],
      38: [-7, 6, -2],
      52: [-3, 2, 0],
      63: [8, -3, 3],
      79: [-5, 3, 0],
      100: [-4, 3, 0],
    },
    clavR: { 1: [0, 0], 28: [-3, 0], 37: [9, 3], 50: [6, 2], 60: [-2, 0], 74: [1, 0] },
    clavL: { 1: [0, 0], 29: [-2, 0], 39: [4, -2], 62: [-2, 2], 77: [1, 0] },
    footL: { 1: [0.075, 0, 0.03, 10] },
    footR: { 1: [-0.075, 0, -0.02, -12] },
    armL: {
      1: [2, 12, 0, 18],
      27: [-12, 16, 0, 24],
      37: [20, 26, 0, 34],
      50: [8, 18, 0, 28],
      62: [16, 24, 0, 38],
      76: [-4, 14, 0, 20],
      100: [0, 13, 0, 18],
    },
    wristL: { 1: [6, 0, 0], 30: [12, 4, 0], 41: [-6, -6, 0], 66: [10, 4, 0], 82: [5, 0, 0] },
    armR: { 1: [10, 12, 0, 80] },
    fingR: { 1: 40, 29: 46, 32: 44, 39: 8, 47: 8, 54: 40, 60: 46, 100: 42 },
    fingL: { 1: 20, 28: 28, 40: 12, 64: 30, 80: 20 },
    look: { w: { 1: 1, 68: 1, 84: 0.0, 100: 0 }, at: (f) => (bad ? [-0.14, 0.72, 0.35] : ball(f).p) },
    handR: {
      w: { 1: 1 },
      pole: [-0.5, -0.8, -0.5],
      at: (f) => palm(f),
      rot: () => handTurn("R", [0.25, 0.05, 1], [0, 1, 0]),
    },
    head: { 1: [0, 0, 0], 68: [0, 0, 0], 84: [-8, 12, -4], 100: [-7, 13, -5] },
  });
  if (bad) {
    perf.hairStiff = true;
    for (const k of ["armL", "wristL", "clavL"]) delete perf[k];
    perf.armL = { 1: [2, 12, 0, 18] };
  }
  const b = makeShot({
    name,
    fps: 30,
    last: 100,
    unit: 0.01,
    items: [
      { id: "Ball", pose: ball, must: [34, 51], shapes: [{ kind: "sphere", radius: R }] },
      { skel: sk, perf },
    ],
    cameras: [{ id: "Kamera", eye: [-1.7, 1.0, 2.6], at: [-0.02, 0.72, 0], fov: 25 }],
  });
  if (bad)
    for (const c of b.doc.curves.filter((x) => x.node === "Hals" || x.node === "Kopf"))
      c.keys = c.keys.filter((k) => k[0] <= 1 || k[0] >= 64);
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The ball goes up at an even pace and hangs at the top: it floats as if on a wire.",
    kind: "floaty-flight",
    size: "strong",
    nodes: ["Ball"],
    frames: [34, 51],
    order: 1,
  },
  {
    what: "The catch has no give: the hand is dead in the air from the frame in which it has the ball, while the body sinks.",
    kind: "no-give",
    size: "strong",
    nodes: ["Hand_R", "Oberarm_R", "Unterarm_R", "Ball"],
    frames: [50, 100],
    order: 2,
  },
  {
    what: "She does not watch her ball: the head stays down all through the flight.",
    kind: "look-misses",
    size: "ordinary",
    nodes: ["Kopf", "Hals"],
    frames: [30, 56],
    order: 3,
  },
  {
    what: "The ponytail is a stick on the head, it neither lags nor swings.",
    kind: "no-drag",
    size: "ordinary",
    nodes: ["Zopf_1", "Zopf_2", "Zopf_3"],
    frames: [22, 84],
    order: 4,
  },
  {
    what: "The left arm is forgotten; it hangs there while all else works.",
    kind: "dead-arm",
    size: "barely",
    nodes: ["Oberarm_L", "Unterarm_L", "Hand_L"],
    frames: [1, 100],
    order: 5,
  },
];
