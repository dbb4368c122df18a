// @ts-check
import { figure, versions } from "../../people/kit/declare.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";

export const name = "boy_trips";
export const about =
  "Blocked in step keys: a small boy runs with a ball in his hand, catches a toe, pitches forward and loses the ball, saves himself with a long step, wobbles, stands and looks after the ball.";

/** @param {boolean} bad */
export function build(bad) {
  const P = [1, 6, 11, bad ? 19 : 16, 21, 26, 33, 43, 55, 67];
  const sk = skeleton({
    id: "BOY",
    stature: 1.12,
    spines: 1,
    clav: false,
    words: {
      root: "PLV",
      spine: ["SPN"],
      neck: "NCK",
      head: "HED",
      end: "HED_E",
      up: "UAR",
      fore: "LAR",
      hand: "HND",
      fing: "FNG",
      thigh: "ULG",
      shin: "LLG",
      foot: "ANK",
      toe: "TOE",
      tip: "TOE_E",
    },
    side: (w, s) => `${w}${s === "L" ? 1 : 2}`,
    orders: { root: "yxz", all: "zxy" },
    build: { head: 0.19, thigh: 0.2, shin: 0.2, back: 0.28, hip: 0.058, up: 0.15, fore: 0.13, shoulder: 0.1 },
  });
  const key = (/** @type {any[]} */ ...v) => Object.fromEntries(P.map((f, i) => [f, v[i]]));
  const perf = /** @type {any} */ ({
    alive: 0,
    leans: (/** @type {number} */ f) => f < P[7],
    hips: key(
      [0.01, -0.045, 0.02],
      [0, 0.03, 0.31],
      [-0.01, -0.045, 0.62],
      [-0.02, -0.03, 0.88],
      [0, -0.085, 1.14],
      [0.03, -0.17, 1.44],
      [-0.03, -0.09, 1.8],
      bad ? [0, -0.05, 1.77] : [0.0, -0.035, 1.94],
      bad ? [0.01, -0.03, 1.79] : [0.012, -0.014, 1.93],
      [0.03, -0.018, 1.935],
    ),
    hipsRot: key(
      [8, 7, 0],
      [6, 0, 2],
      [8, -7, 0],
      [15, -4, 2],
      [34, 2, -3],
      [26, 6, 0],
      [16, -4, 0],
      [-5, 3, 3],
      [2, 0, -2],
      [3, -6, 2],
    ),
    spine: key(
      [6, -8, 0],
      [6, 0, 0],
      [6, 8, 0],
      [10, 6, 0],
      [20, -4, 4],
      [14, -8, 0],
      [10, 6, 0],
      [-7, -4, -4],
      [8, 4, 0],
      [4, -8, 0],
    ),
    neck: key(
      [-6, 0, 0],
      [-6, 0, 0],
      [-6, 0, 0],
      [0, 0, 0],
      [-14, 0, 0],
      [-10, 0, 0],
      [-4, 0, 0],
      [4, 0, 0],
      [8, 3, 0],
      [0, 0, 0],
    ),
    head: key(
      [-5, 2, 0],
      [-6, 0, 2],
      [-5, -2, 0],
      [10, 3, 0],
      [-18, 0, 0],
      [-14, 4, 3],
      [-6, -5, 0],
      [8, 4, 5],
      [14, 6, -4],
      [0, 0, 0],
    ),
    look: {
      w: key(0, 0, 0, 0, 0, 0, 0, 0, 0, 1),
      at: (/** @type {number} */ f) => (bad ? [-0.2, 0.09, 3.5] : ball(f)),
    },
    footL: key(
      [0.07, 0, 0.2, 4],
      [0.07, 0.14, -0.03, 4],
      [0.07, 0.16, 0.22, 4],
      [0.07, 0.004, 0.63, 4],
      [0.08, 0.14, 0.92, 4],
      [0.1, 0, 1.6, 8],
      [0.1, 0, 1.6, 8],
      [0.1, 0, 1.97, 10],
      [0.1, 0, 1.97, 10],
      [0.1, 0, 1.97, 10],
    ),
    footR: key(
      [-0.07, 0.15, -0.4, -4],
      [-0.07, 0.13, 0.5, -4],
      [-0.07, 0, 0.8, -4],
      [-0.07, 0, 0.8, -4],
      [-0.07, 0, 0.8, -4],
      [-0.09, 0.06, 1.06, -6],
      [-0.1, 0, 1.92, -8],
      [-0.1, 0, 1.92, -8],
      bad ? [-0.13, 0, 1.97, -8] : [-0.1, 0, 1.92, -8],
      bad ? [-0.09, 0, 1.9, -8] : [-0.1, 0, 1.92, -8],
    ),
    rollL: key(-8, 50, 46, 32, 40, 0, 26, 0, 0, 0),
    rollR: key(48, -4, -8, 6, 46, 52, 0, 0, 0, 0),
    kneeL: { 1: 6 },
    kneeR: { 1: 6 },
    armL: key(
      [-40, 10, 0, 70],
      [4, 12, 0, 84],
      [44, 10, 0, 88],
      [30, 30, 0, 60],
      [112, 30, 0, 24],
      [70, 66, 0, 22],
      [24, 64, 0, 40],
      bad ? [24, 80, 0, 30] : [10, 84, 0, 22],
      [22, 18, 0, 60],
      [6, 10, 0, 20],
    ),
    armR: key(
      [42, 8, 0, 86],
      [6, 12, 0, 80],
      [-36, 34, 0, 66],
      [-14, 30, 0, 40],
      [92, 44, 0, 34],
      [44, 88, 0, 30],
      [40, 46, 0, 60],
      bad ? [24, 80, 0, 30] : [44, 62, 0, 46],
      [30, 12, 0, 48],
      [64, 14, 0, 34],
    ),
    wristL: key(
      [6, 0, 0],
      [4, 0, 0],
      [8, 0, 0],
      [-10, 0, 0],
      [-34, 0, 0],
      [-26, 0, 0],
      [-14, 0, 0],
      [-24, 0, 0],
      [6, 0, 0],
      [4, 0, 0],
    ),
    wristR: key(
      [4, 0, 0],
      [4, 0, 0],
      [4, 0, 0],
      [-6, 0, 0],
      [-24, 0, 0],
      [-30, 0, 0],
      [-20, 0, 0],
      [-16, 0, 0],
      [12, 0, 0],
      [-10, 0, 0],
    ),
    fingL: key(30, 34, 36, 16, 2, 2, 8, 4, 20, 22),
    fingR: key(38, 38, 38, 34, 6, 2, 6, 8, 16, 12),
  });
  const lost = key(
    null,
    null,
    null,
    null,
    null,
    bad ? [-0.3, 0.62, 1.95] : [-0.33, 0.36, 2.1],
    bad ? [-0.3, 0.62, 1.95] : [-0.38, 0.09, 2.52],
    [-0.44, 0.09, 3.0],
    [-0.5, 0.09, 3.36],
    [-0.52, 0.09, 3.5],
  );
  const ball = (/** @type {number} */ f) => lost[Math.max(...P.filter((p) => p <= f))];
  const b = makeShot({
    name,
    fps: 25,
    last: 82,
    poses: P,
    shot: { stage: "blocking" },
    items: [
      { skel: sk, perf, body: true },
      {
        id: "BALL",
        pose: (/** @type {number} */ f, /** @type {any} */ env) => {
          if (f >= P[5]) return { p: ball(f), q: [0, 0, 0, 1] };
          const hand = env.palm("BOY", "R", f);
          const m = env.joint("BOY", "handR", f);
          // The ball lies in the hand, on the side of the palm.
          const way = hand.p.map((/** @type {number} */ v, /** @type {number} */ i) => v - m.p[i]);
          const l = Math.hypot(...way);
          return {
            p: hand.p.map((/** @type {number} */ v, /** @type {number} */ i) => v + (way[i] / l) * 0.095),
            q: [0, 0, 0, 1],
          };
        },
        shapes: [{ kind: "sphere", radius: 0.09 }],
        colour: "#c04030",
      },
    ],
  });
  b.doc.figures = [figure(sk)];
  b.doc.surfaces = [{ id: "yard", normal: [0, 1, 0], height: 0 }];
  b.doc.contacts = [{ node: "BALL", with: "yard", frames: [33, 82], slides: true }];
  b.doc.gazes = [{ figure: "BOY", at: "BALL", frames: [67, 82] }];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "In the wobble he hangs far behind his heels, in both poses; he would sit down, not save himself.",
    kind: "off-balance",
    size: "strong",
    nodes: ["PLV", "SPN"],
    frames: [43, 66],
    order: 1,
  },
  {
    what: "The toe that catches is on for two frames, nobody sees why he falls.",
    kind: "too-short",
    size: "ordinary",
    nodes: ["PLV", "ANK1", "ULG1", "LLG1"],
    frames: [11, 21],
    order: 2,
  },
  {
    what: "The lost ball stands in the air in one place for two poses and is on the ground in the next.",
    kind: "floating-prop",
    size: "strong",
    nodes: ["BALL"],
    frames: [26, 42],
    order: 3,
  },
  {
    what: "His right foot stands elsewhere in each of the last poses, though he never lifts it.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["ANK2", "TOE2", "LLG2"],
    frames: [43, 82],
    order: 4,
  },
  {
    what: "In the wobble his arms are the same left and right.",
    kind: "twinning",
    size: "barely",
    nodes: ["UAR1", "LAR1", "UAR2", "LAR2"],
    frames: [43, 54],
    order: 5,
  },
  {
    what: "At the end he looks a little to the left of the ball.",
    kind: "look-misses",
    size: "barely",
    nodes: ["HED", "NCK"],
    frames: [67, 82],
    order: 6,
  },
];
