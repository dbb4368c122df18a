// @ts-check
import { versions } from "../kit/declare.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "hello_two";
export const about =
  "Blocked in steps and baked to a key on every frame: a tall woman sees a friend and waves; the small old man looks up late, answers with a raised hand and a bow of the head. She bows back.";
export const centre = [0, 0.9, 0];

/** @param {boolean} bad */
export function build(bad) {
  const ana = skeleton({
    id: "ana",
    space: "A",
    stature: 1.82,
    spines: 2,
    armRest: 45,
    orders: { root: "yxz", arm: "yxz" },
  });
  const bo = skeleton({
    id: "bo",
    space: "B",
    stature: 1.58,
    spines: 1,
    clav: false,
    fingers: false,
    orders: { root: "yxz" },
    words: { spine: ["torso"] },
  });
  const P = [1, 13, 21, 31, 37, 43, 55, 63, 75, 89];
  const key = (...v) => Object.fromEntries(P.map((f, i) => [f, v[i]]));
  const N = [0, 0, 0];
  const a = /** @type {any} */ ({
    alive: 0,
    hips: key(
      [0, -0.015, -0.8],
      [0.01, -0.02, -0.81],
      [0.01, -0.035, -0.82],
      [-0.015, -0.012, -0.79],
      [-0.02, -0.014, -0.79],
      [-0.015, -0.012, -0.79],
      [0.0, -0.016, -0.8],
      [0.0, -0.018, -0.8],
      [0.0, -0.03, -0.82],
      [0.005, -0.016, -0.8],
    ),
    hipsRot: key(
      [0, 30, 0],
      [0, 24, 0],
      [3, 16, 0],
      [0, 4, 1],
      [0, 5, 2],
      [0, 4, 1],
      [0, 2, 0],
      [0, 2, 0],
      [14, 2, 0],
      [1, 2, 0],
    ),
    spine: key(
      N,
      [0, -3, 0],
      [5, -3, 0],
      [-4, -3, 3],
      [-4, -2, 4],
      [-4, -3, 2],
      [0, 0, 0],
      [0, 0, 0],
      [12, 0, 0],
      [1, 0, 0],
    ),
    chest: key(
      N,
      [0, -6, 0],
      [6, -4, 0],
      [-6, -4, 5],
      [-6, -2, 6],
      [-6, -4, 4],
      [-1, 0, 0],
      [0, 0, 0],
      [13, 0, 0],
      [1, 0, 0],
    ),
    neck: bad
      ? key(N, N, N, N, N, N, N, N, N, N)
      : key(
          N,
          [0, -10, 0],
          [4, -6, 0],
          [2, 0, -2],
          [2, 0, -3],
          [2, 0, -2],
          [2, 0, 0],
          [3, 0, 3],
          [8, 0, 0],
          [2, 0, 0],
        ),
    head: bad
      ? key(N, N, N, N, N, N, N, N, N, N)
      : key(
          [6, 10, 0],
          [4, -14, 0],
          [8, -8, 0],
          [0, 2, -4],
          [2, 2, -5],
          [0, 2, -3],
          [4, 0, 0],
          [6, 2, 6],
          [16, 0, 0],
          [4, 0, 2],
        ),
    clavR: key([0, 0], [0, 0], [-4, -2], [18, 0], [16, 0], [18, 0], [2, 0], [0, 0], [0, 3], [0, 0]),
    armR: key(
      [4, 8, 0, 14],
      [2, 8, 0, 18],
      [-12, 14, 0, 40],
      [64, 96, 0, 52],
      [58, 84, 0, 84],
      [64, 98, 0, 46],
      [10, 14, 0, 30],
      [4, 8, 0, 18],
      [12, 7, 0, 26],
      [4, 8, 0, 16],
    ),
    wristR: key(
      [4, 0, 0],
      [4, 0, 0],
      [14, 0, 0],
      [-6, 16, 0],
      [0, -22, 0],
      [-6, 20, 0],
      [10, 0, 0],
      [4, 0, 0],
      [2, 0, 0],
      [4, 0, 0],
    ),
    fingR: key(20, 20, 32, 0, 4, 2, 14, 20, 16, 20),
    armL: key(
      [3, 7, 0, 14],
      [6, 8, 0, 18],
      [-4, 9, 0, 22],
      [-12, 14, 0, 20],
      [-10, 15, 0, 22],
      [-12, 14, 0, 20],
      [2, 8, 0, 15],
      [3, 7, 0, 14],
      [14, 6, 0, 30],
      [4, 7, 0, 15],
    ),
    wristL: key(
      [4, 0, 0],
      [4, 0, 0],
      [8, 0, 0],
      [-4, 0, 0],
      [-2, 0, 0],
      [-4, 0, 0],
      [4, 0, 0],
      [4, 0, 0],
      [8, 0, 0],
      [4, 0, 0],
    ),
    fingL: key(22, 22, 26, 14, 16, 14, 20, 22, 16, 22),
    footL: { 1: [0.1, 0, -0.8, 14] },
    footR: { 1: [-0.1, 0, -0.77, 0] },
  });
  const wave = { arm: [70, 66, 0, 60], wr: [-6, 10, 0] };
  const c = /** @type {any} */ ({
    alive: 0,
    hips: key(
      ...Array(4).fill([0, -0.025, 0.8]),
      [0, -0.028, 0.8],
      [0.006, -0.03, 0.805],
      [0.012, -0.02, 0.81],
      [0.012, -0.02, 0.81],
      [0.0, -0.045, 0.83],
      [0, -0.025, 0.8],
    ),
    hipsRot: key(
      [4, 160, 0],
      [4, 160, 0],
      [4, 160, 0],
      [4, 162, 0],
      [2, 168, 0],
      [0, 174, 0],
      [-2, 178, -1],
      [-2, 178, -1],
      [14, 180, 0],
      [3, 179, 0],
    ),
    spine: key(
      [12, 0, 0],
      [12, 0, 0],
      [13, -2, 0],
      [12, 0, 0],
      [7, 3, 0],
      [5, 4, 0],
      [2, 3, -2],
      [2, 3, -2],
      [20, 0, 0],
      [9, 0, 0],
    ),
    neck: key(
      [10, 0, 0],
      [12, 2, 0],
      [12, 2, 0],
      [8, 4, 0],
      [-4, 6, 0],
      [-6, 5, 0],
      [-6, 2, 2],
      [-6, 2, 2],
      [8, 0, 0],
      [-4, 0, 0],
    ),
    head: key(
      [14, -4, 0],
      [18, 4, 0],
      [16, 4, 0],
      [10, 6, 0],
      [-12, 12, 0],
      [-14, 8, 0],
      [-12, 2, 4],
      [-12, 2, 5],
      [20, 0, 0],
      [-6, 0, 0],
    ),
    armL: key(
      [10, 8, 0, 30],
      [12, 8, 0, 34],
      [11, 8, 0, 32],
      bad ? wave.arm : [10, 8, 0, 30],
      bad ? wave.arm : [8, 9, 0, 28],
      bad ? wave.arm : [0, 12, 0, 36],
      wave.arm,
      [66, 74, 0, 50],
      [18, 8, 0, 30],
      [8, 8, 0, 26],
    ),
    wristL: key(
      [8, 0, 0],
      [8, 0, 0],
      [8, 0, 0],
      [8, 0, 0],
      [8, 0, 0],
      [14, 0, 0],
      wave.wr,
      [-4, -14, 0],
      [4, 0, 0],
      [8, 0, 0],
    ),
    armR: key(
      [14, 7, 0, 40],
      [16, 7, 0, 42],
      [15, 7, 0, 40],
      [14, 7, 0, 40],
      [10, 9, 0, 30],
      [6, 10, 0, 24],
      [2, 11, 0, 20],
      [2, 11, 0, 21],
      [20, 6, 0, 36],
      [8, 8, 0, 28],
    ),
    wristR: key(
      [6, 0, 0],
      [6, 0, 0],
      [6, 0, 0],
      [6, 0, 0],
      [2, 0, 0],
      [2, 0, 0],
      [0, 0, 0],
      [0, 0, 0],
      [8, 0, 0],
      [6, 0, 0],
    ),
    footL: { 1: [-0.09, 0, 0.82, 174] },
    footR: { 1: [0.09, 0, 0.79, 190] },
  });
  if (bad) {
    // The old man's body has no pose of its own between the first and the bow.
    for (const k of ["hips", "hipsRot", "spine", "neck", "head"])
      for (const f of [13, 21, 31, 37, 43, 55, 63]) c[k][f] = c[k][1];
  }
  const b = makeShot({
    name,
    fps: 24,
    last: 104,
    poses: P,
    every: true,
    shot: { stage: "blocking" },
    items: [
      { skel: ana, perf: a },
      { skel: bo, perf: c },
    ],
  });
  if (bad) {
    // One baked frame still has an older pose of the arm.
    for (const k of b.doc.curves.filter((x) => /^A:(upper_arm|forearm|hand)_r$/.test(x.node))) {
      const old = k.keys.find((x) => x[0] === 21);
      const at = k.keys.find((x) => x[0] === 48);
      if (old && at) at[1] = old[1];
    }
  }
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "Both wave at the same time; the eye does not know whom to look at, and he answers what he has not seen.",
    kind: "competing-actions",
    size: "ordinary",
    nodes: ["A:upper_arm_r", "A:forearm_r", "B:upper_arm_l", "B:forearm_l"],
    frames: [31, 55],
    order: 2,
  },
  {
    what: "For one frame in the wave her arm jumps back to an older pose.",
    kind: "pop",
    size: "strong",
    nodes: ["A:upper_arm_r", "A:forearm_r", "A:hand_r"],
    frames: [48, 48],
    order: 1,
  },
  {
    what: "The old man is frozen in his first pose but for the arm, until he bows.",
    kind: "freeze",
    size: "ordinary",
    nodes: ["B:hips", "B:torso", "B:neck", "B:head"],
    frames: [1, 74],
    order: 3,
  },
  {
    what: "Her head has no pose of its own: it turns and bows with the chest as one block.",
    kind: "one-block",
    size: "barely",
    nodes: ["A:head", "A:neck"],
    frames: [1, 104],
    order: 4,
  },
];
