// @ts-check
import { figure, versions } from "../../people/kit/declare.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";

export const name = "shake_hands";
export const about =
  "Blocked in step keys: a tall man and a small woman see each other, each takes a step, they shake hands, down, up and down, let go and stand back.";

const P = [1, 10, 19, 28, 36, 41, 46, 51, 62, 74, 88];

/** @param {any} o */
const body = (o) =>
  skeleton({
    spines: 2,
    words: {
      root: "ROOT",
      spine: ["LOW", "TOP"],
      neck: "NEC",
      head: "SKULL",
      end: "SKULL_TIP",
      clav: "YOKE",
      up: "ARM-1",
      fore: "ARM-2",
      hand: "PAW",
      fing: "PAW_F",
      thigh: "LEG-1",
      shin: "LEG-2",
      foot: "SHOE",
      toe: "SHOE_F",
      tip: "SHOE_T",
    },
    side: (w, s) => `${w}.${s.toLowerCase()}`,
    orders: { root: "yxz", all: "zxy" },
    ...o,
  });

/** @param {boolean} bad */
export function build(bad) {
  const man = body({ id: "ALF", space: "alf", stature: 1.86 });
  const woman = body({ id: "UNA", space: "una", stature: 1.6 });
  const key = (/** @type {any[]} */ ...v) => Object.fromEntries(P.map((f, i) => [f, v[i]]));
  const heights = key(0, 0, 0, 1.03, 1.04, 0.95, 1.07, 0.96, 1.02, 0, 0);
  const posed = (/** @type {number} */ f) => Math.max(...P.filter((p) => p <= f));
  const meet = (/** @type {number} */ f) => [0, heights[posed(f)], 0.02];
  const low = key(0, 0, 0, 0.0, 0.03, 0.11, 0.13, 0.12, 0.02, 0, 0);
  const zA = key(-0.93, -0.97, -0.69, -0.38, -0.37, -0.31, -0.4, -0.33, -0.42, -0.6, -0.65);
  const zB = key(0.87, 0.95, 0.88, 0.6, 0.46, 0.39, 0.48, 0.41, 0.5, 0.63, 0.67);
  const yA = key(1.62, 1.62, 1.58, 1.56, 1.56, 1.52, 1.58, 1.54, 1.58, 1.62, 1.62);
  const faceA = (/** @type {number} */ f) => [0.02, yA[posed(f)], zA[posed(f)]];
  const faceB = (/** @type {number} */ f) => [0, 1.37, zB[posed(f)]];
  const perfA = /** @type {any} */ ({
    alive: 0,
    hips: key(
      [0.012, -0.014, -0.95],
      [-0.01, -0.014, -0.95],
      [-0.02, -0.045, -0.79],
      [-0.03, -0.04, bad ? -0.46 : -0.56],
      [-0.02, -0.035, bad ? -0.45 : -0.55],
      [-0.02, -0.05, bad ? -0.44 : -0.545],
      [-0.02, -0.03, bad ? -0.44 : -0.55],
      [-0.02, -0.045, bad ? -0.44 : -0.545],
      [-0.01, -0.03, bad ? -0.47 : -0.56],
      [0.01, -0.02, -0.6],
      [0.02, -0.014, -0.605],
    ),
    hipsRot: key(
      [0, 2, 0],
      [0, -3, 1],
      [4, 4, 0],
      [8, 9, 0],
      [8, 9, 0],
      [11, 9, 0],
      [7, 9, 0],
      [10, 9, 0],
      [6, 7, 0],
      [0, -2, 0],
      [-1, -5, 1],
    ),
    spine: key(
      [1, 0, 0],
      [-2, -3, 0],
      [4, 4, 0],
      [8, 8, 0],
      [8, 8, 0],
      [11, 8, 0],
      [6, 8, 0],
      [10, 8, 0],
      [6, 6, 0],
      [0, -2, 0],
      [-3, -6, 0],
    ),
    neck: key(
      [4, 0, 0],
      [0, 0, 0],
      [2, 0, 0],
      [2, 0, 0],
      [4, 0, 0],
      [6, 0, 0],
      [2, 0, 0],
      [6, 0, 0],
      [2, 0, 0],
      [0, 0, 0],
      [-4, 0, 0],
    ),
    head: key(
      [10, -6, 0],
      [0, 0, 0],
      [0, 0, 0],
      [0, 0, 0],
      [2, 0, 0],
      [6, 0, 0],
      [0, 0, 0],
      [5, 0, 0],
      [0, 0, 3],
      [0, 0, 0],
      [-6, 4, 0],
    ),
    look: {
      w: key(0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 0.6),
      at: (/** @type {number} */ f) => (bad ? [0.62, 1.55, 0.54] : faceB(f)),
    },
    footL: key([0.12, 0, -0.93, 8], [0.12, 0, -0.93, 8], ...Array(9).fill([0.12, 0, -0.62, 8])),
    footR: key(...Array(3).fill([-0.12, 0, -0.95, -8]), ...Array(8).fill([-0.12, 0, bad ? -0.74 : -0.5, -6])),
    rollL: key(0, 0, -10, 0, 0, 0, 0, 0, 0, 0, 0),
    rollR: bad ? key(0, 0, 24, 22, 22, 22, 22, 22, 20, 0, 0) : key(0, 0, 24, 0, 0, 0, 0, 0, 0, 0, 0),
    kneeL: { 1: 8 },
    kneeR: { 1: 8 },
    leans: (/** @type {number} */ f) => f >= 19 && f < 28,
    armL: key(
      [3, 8, 0, 16],
      [6, 12, 0, 26],
      [16, 10, 0, 30],
      [-8, 10, 0, 26],
      [-6, 10, 0, 24],
      [-12, 12, 0, 28],
      [-2, 10, 0, 22],
      [-10, 12, 0, 28],
      [-2, 9, 0, 22],
      [6, 9, 0, 20],
      [10, 12, 0, 34],
    ),
    armR: key(
      [4, 7, 0, 20],
      [2, 8, 0, 18],
      [24, 10, 0, 66],
      [50, 6, 0, 40],
      [50, 6, 0, 40],
      [50, 6, 0, 40],
      [50, 6, 0, 40],
      [50, 6, 0, 40],
      [50, 6, 0, 40],
      [18, 12, 0, 46],
      [0, 9, 0, 16],
    ),
    wristL: key(
      [4, 0, 0],
      [8, 0, 0],
      [0, 0, 0],
      [6, 0, 0],
      [6, 0, 0],
      [10, 0, 0],
      [2, 0, 0],
      [9, 0, 0],
      [4, 0, 0],
      [6, 0, 0],
      [12, 0, 0],
    ),
    fingL: key(...[20, 16, 26, 24, 22, 26, 20, 25, 20, 18, 26]),
    fingR: bad ? { 1: 16 } : key(...[24, 20, 8, 2, 34, 36, 35, 36, 30, 10, 22]),
    handR: {
      w: key(0, 0, 0, 1, 1, 1, 1, 1, 1, 0, 0),
      pole: [-0.7, -0.6, -0.5],
      at: (/** @type {number} */ f) => {
        const m = meet(f);
        return [-0.008, m[1], m[2] - (posed(f) === 28 ? 0.1 : 0)];
      },
      rot: () => handTurn("R", [0.2, -0.05, 1], [1, 0.1, -0.2]),
    },
  });
  const perfB = /** @type {any} */ ({
    alive: 0,
    hips: key(
      [0.01, -0.012, 0.9],
      [0.0, -0.012, 0.9],
      [0.02, -0.02, 0.88],
      [0.03, -0.035, 0.66],
      [0.02, -0.03, 0.54],
      [0.02, -0.04, 0.535],
      [0.02, -0.02, 0.54],
      [0.02, -0.035, 0.535],
      [0.01, -0.02, 0.55],
      [-0.01, -0.015, 0.6],
      [-0.02, -0.012, 0.61],
    ),
    hipsRot: key(
      [0, 176, 0],
      [0, 183, -1],
      [1, 184, 0],
      [4, 186, 0],
      [5, 188, 0],
      [8, 188, 0],
      [4, 188, 0],
      [7, 188, 0],
      [3, 186, 0],
      [0, 178, 0],
      [-1, 174, 1],
    ),
    spine: key(
      [2, -4, 0],
      [-3, 2, 0],
      [0, 2, 0],
      [4, 6, 0],
      [5, 8, 0],
      [9, 8, 0],
      [4, 8, 0],
      [8, 8, 0],
      [4, 5, 0],
      [-1, -2, 0],
      [-4, -5, 0],
    ),
    neck: key(
      [2, 0, 0],
      [-4, 0, 0],
      [-4, 0, 0],
      [-4, 0, 0],
      [-5, 0, 0],
      [-4, 0, 0],
      [-6, 0, 0],
      [-4, 0, 0],
      [-5, 0, 0],
      [-4, 0, 0],
      [-2, 0, 0],
    ),
    head: key(
      [6, 16, 0],
      [0, 0, 0],
      [0, 0, 0],
      [0, 0, 0],
      [0, 0, 0],
      [3, 0, 0],
      [-2, 0, 0],
      [2, 0, 0],
      [0, 0, -4],
      [0, 0, 0],
      [0, -5, -2],
    ),
    look: { w: key(0, 0.7, 1, 1, 1, 1, 1, 1, 1, 1, 0.7), at: faceA },
    footL: bad
      ? key(
          ...Array(3).fill([-0.1, 0, 0.88, 188]),
          [-0.1, 0, 0.88, 188],
          [-0.1, 0, 0.59, 188],
          [-0.12, 0, 0.56, 188],
          [-0.09, 0, 0.6, 188],
          [-0.13, 0, 0.58, 188],
          [-0.1, 0, 0.59, 188],
          [-0.1, 0, 0.59, 188],
          [-0.1, 0, 0.59, 188],
        )
      : key(...Array(4).fill([-0.1, 0, 0.88, 188]), ...Array(7).fill([-0.1, 0, 0.59, 188])),
    footR: key(...Array(3).fill([0.1, 0, 0.9, 172]), ...Array(8).fill([0.1, 0, 0.48, 174])),
    rollL: key(0, 0, 0, 26, 0, 0, 0, 0, 0, 0, 0),
    rollR: key(0, 0, 0, -6, 0, 0, 0, 0, 0, 0, 0),
    kneeL: { 1: 6 },
    kneeR: { 1: 6 },
    leans: (/** @type {number} */ f) => f >= 28 && f < 36,
    armL: key(
      [10, 9, 0, 30],
      [16, 14, 0, 50],
      [14, 12, 0, 46],
      [6, 10, 0, 30],
      [4, 8, 0, 26],
      [0, 10, 0, 30],
      [8, 8, 0, 24],
      [2, 9, 0, 28],
      [10, 10, 0, 40],
      [22, 16, 0, 70],
      [28, 12, 0, 88],
    ),
    armR: key(
      [2, 8, 0, 18],
      [8, 12, 0, 30],
      [14, 10, 0, 44],
      [50, 8, 0, 60],
      [50, 6, 0, 40],
      [50, 6, 0, 40],
      [50, 6, 0, 40],
      [50, 6, 0, 40],
      [50, 6, 0, 40],
      [10, 14, 0, 40],
      [4, 8, 0, 20],
    ),
    wristL: key(
      [4, 0, 0],
      [10, 0, 0],
      [8, 0, 0],
      [4, 0, 0],
      [6, 0, 0],
      [8, 0, 0],
      [2, 0, 0],
      [7, 0, 0],
      [0, 0, 0],
      [14, 0, 0],
      [20, 0, 0],
    ),
    fingL: key(...[26, 30, 28, 22, 20, 24, 18, 22, 30, 40, 44]),
    fingR: bad ? { 1: 16 } : key(...[22, 16, 14, 4, 32, 34, 33, 34, 28, 8, 20]),
    handR: {
      w: key(0, 0, 0, 0, 1, 1, 1, 1, 1, 0, 0),
      pole: [-0.7, -0.6, -0.5],
      at: (/** @type {number} */ f) => {
        const m = meet(f);
        return [0.008, m[1] - (bad ? low[posed(f)] : 0), m[2]];
      },
      rot: () => handTurn("R", [-0.2, -0.05, -1], [-1, 0.1, 0.2]),
    },
  });
  const b = makeShot({
    name,
    fps: 24,
    last: 100,
    poses: P,
    shot: { stage: "blocking" },
    items: [
      { skel: man, perf: perfA, body: true },
      { skel: woman, perf: perfB, body: true },
    ],
    cameras: [{ id: "two", node: "lens", eye: [3.9, 1.3, 0], at: [0, 0.95, 0], fov: 34 }],
  });
  b.doc.figures = [figure(man), figure(woman)];
  b.doc.surfaces = [{ id: "floor", normal: [0, 1, 0], height: 0 }];
  b.doc.contacts = [{ node: "una:PAW.r", with: "alf:PAW.r", frames: [36, 73] }];
  b.doc.gazes = [
    { figure: "ALF", at: "una:SKULL", frames: [19, 73] },
    { figure: "UNA", at: "alf:SKULL", frames: [19, 73] },
  ];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "Her hand is not in his: it hangs a good hand's breadth below through the whole shake.",
    kind: "grip-misses",
    size: "strong",
    nodes: ["una:PAW.r", "una:ARM-2.r", "alf:PAW.r"],
    frames: [36, 61],
    order: 1,
  },
  {
    what: "His right foot has stayed behind, so that in the shake he hangs out over his toes; nothing holds him there.",
    kind: "off-balance",
    size: "ordinary",
    nodes: ["alf:ROOT", "alf:LOW"],
    frames: [28, 73],
    order: 3,
  },
  {
    what: "He does not look at her but past her, to her right; they do not meet.",
    kind: "look-misses",
    size: "strong",
    nodes: ["alf:SKULL", "alf:NEC"],
    frames: [10, 87],
    order: 2,
  },
  {
    what: "Her left foot stands somewhere else in each pose of the shake.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["una:SHOE.l", "una:SHOE_F.l", "una:LEG-2.l"],
    frames: [36, 62],
    order: 4,
  },
  {
    what: "The fingers of both right hands keep one pose: they do not open for each other and do not close.",
    kind: "dead-fingers",
    size: "barely",
    nodes: ["alf:PAW_F.r", "una:PAW_F.r"],
    frames: [10, 88],
    order: 5,
  },
];
