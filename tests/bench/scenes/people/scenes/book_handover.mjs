// @ts-check
import { track } from "../kit/curve.mjs";
import { full, versions } from "../kit/declare.mjs";
import { add, turn, about as turnBy } from "../kit/math.mjs";
import { handTurn } from "../kit/pose.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "book_handover";
export const about =
  "An old man hands a book to his granddaughter. She takes it with one hand, then with both, draws it to her and looks up at him.";
export const centre = [0, 0.85, 0];

/** @param {boolean} bad */
export function build(bad) {
  const man = skeleton({
    id: "grandpa",
    stature: 1.7,
    spines: 2,
    words: {
      root: "man_hips",
      spine: ["man_spine", "man_chest"],
      neck: "man_neck",
      head: "man_head",
      end: "man_head_end",
    },
    side: (w, s) => `man_${w}_${s.toLowerCase()}`,
    orders: { root: "yxz" },
  });
  const kid = skeleton({
    id: "lotte",
    stature: 1.18,
    spines: 2,
    words: {
      root: "kid_hips",
      spine: ["kid_spine", "kid_chest"],
      neck: "kid_neck",
      head: "kid_head",
      end: "kid_head_end",
    },
    side: (w, s) => `kid_${w}_${s.toLowerCase()}`,
    orders: { root: "yxz" },
    build: { head: 0.165, thigh: 0.215, shin: 0.225 },
  });
  const place = track({
    1: [-0.1, 1.03, -0.2],
    24: [-0.1, 1.02, -0.2],
    32: [-0.11, 1.05, -0.23],
    52: [-0.07, 0.86, 0.03],
    62: [-0.07, 0.852, 0.035],
    68: [-0.068, 0.857, 0.045],
    88: [-0.02, 0.75, 0.26],
    98: [-0.015, 0.74, 0.275],
    124: [-0.015, 0.742, 0.273],
  });
  const tilt = track({ 1: -18, 30: -24, 52: 4, 66: 4, 90: 24, 124: 26 });
  const book = (f) => ({ p: place(f), q: turnBy(0, tilt(f)) });
  const grip = (at, s, fingers, w, pole) => ({
    w,
    pole,
    at: (f, env) => {
      const k = env.prop("book", f);
      return add(k.p, turn(k.q, at));
    },
    rot: (f, env) => {
      const q = env.prop("book", f).q;
      return handTurn(s, turn(q, fingers), turn(q, [0, 1, 0]));
    },
  });
  const body = bad ? 0.12 : 1;
  const lean = (k) =>
    Object.fromEntries(
      Object.entries(k).map(([f, v]) => [
        f,
        v.map((x, i) => (Number(f) > 1 ? k[1][i] + (x - k[1][i]) * body : x)),
      ]),
    );
  const a = /** @type {any} */ ({
    hips: lean({
      1: [0.0, -0.02, -0.5],
      22: [0.01, -0.022, -0.505],
      32: [0.012, -0.026, -0.52],
      52: [-0.022, -0.05, -0.47],
      66: [-0.02, -0.048, -0.472],
      90: [0.0, -0.024, -0.51],
      124: [0.008, -0.022, -0.505],
    }),
    hipsRot: lean({
      1: [2, 0, 0],
      32: [-1, -3, 0],
      50: [10, 7, 1],
      66: [9, 6, 1],
      92: [2, -1, 0],
      124: [2, 0, 0],
    }),
    spine: lean({
      1: [7, 0, 0],
      33: [3, -4, 0],
      52: [16, 6, 0],
      68: [15, 5, 0],
      94: [8, 0, 0],
      124: [8, 1, 0],
    }),
    chest: lean({
      1: [8, 0, 0],
      35: [4, -6, 0],
      54: [17, 10, 0],
      70: [16, 8, 0],
      97: [9, 0, 1],
      124: [9, 2, 1],
    }),
    neck: { 1: [-4, 0, 0], 124: [-4, 0, 0] },
    head: { 1: [-4, 0, 0], 124: [-2, 0, 3] },
    footL: { 1: [0.1, 0, -0.5, 8] },
    footR: { 1: [-0.1, 0, -0.45, -9] },
    clavR: { 1: [2, 0], 34: [3, -3], 52: [1, 14], 64: [1, 13], 84: [1, 0] },
    armL: {
      1: [4, 8, 0, 22],
      34: [0, 9, 0, 24],
      54: [-8, 12, 0, 18],
      72: [-4, 10, 0, 20],
      96: [8, 8, 0, 30],
      124: [6, 8, 0, 27],
    },
    wristL: { 1: [5, 0, 0], 58: [12, 0, 0], 100: [2, 0, 0], 124: [4, 0, 0] },
    armR: {
      1: [10, 10, 0, 60],
      66: [30, 10, 0, 45],
      84: [6, 10, 0, 36],
      100: [3, 8, 0, 18],
      124: [4, 8, 0, 20],
    },
    wristR: { 1: [0, 0, 0], 80: [-12, 6, 0], 96: [10, 0, 0], 112: [4, 0, 0] },
    fingR: { 1: 42, 58: 42, 66: 4, 80: 10, 100: 22 },
    fingL: { 1: 24, 60: 18, 110: 26 },
    look: {
      w: { 1: 1, 66: 1, 124: 1 },
      at: (f) => {
        const t = track({ 1: 1, 20: 1, 30: 0, 62: 0, 76: 1 })(f);
        const p = place(f);
        return [p[0] * (1 - t), p[1] * (1 - t) + 1.06 * t, p[2] * (1 - t) + 0.5 * t];
      },
    },
    handR: grip([-0.03, -0.028, -0.07], "R", [0.35, 0, 1], { 1: 1, 64: 1, 82: 0 }, [-0.6, -0.7, -0.4]),
  });
  const c = /** @type {any} */ ({
    hips: {
      1: [0, -0.01, 0.52],
      26: [0.004, -0.012, 0.525],
      36: [0.006, -0.02, 0.535],
      54: [-0.012, -0.014, 0.495],
      66: [-0.01, -0.016, 0.5],
      80: [0.006, -0.02, 0.54],
      98: [0.008, -0.012, 0.53],
      124: [0.004, -0.012, 0.532],
    },
    hipsRot: {
      1: [0, 180, 0],
      36: [0, 183, 0],
      55: [8, 174, 0],
      68: [6, 176, 0],
      84: [-2, 182, 0],
      124: [-2, 180, 0],
    },
    spine: { 1: [0, 0, 0], 38: [-2, 3, 0], 56: [8, -6, 0], 70: [6, -3, 0], 88: [-3, 2, 0], 124: [-3, 0, 0] },
    chest: { 1: [0, 0, 0], 40: [-2, 5, 0], 58: [8, -9, 0], 72: [7, -4, 0], 92: [-4, 2, 0], 124: [-4, 0, 0] },
    neck: { 1: [0, 0, 0] },
    head: { 1: [0, 0, 0] },
    footL: { 1: [-0.075, 0, 0.5, 172] },
    footR: { 1: [0.075, 0, 0.53, 190] },
    clavL: { 1: [0, 0], 42: [2, 0], 56: [2, 12], 84: [1, 4] },
    clavR: { 1: [0, 0], 62: [0, 2], 78: [1, 8], 92: [1, 4] },
    armL: { 1: [4, 9, 0, 24], 30: [2, 9, 0, 22], 40: [18, 12, 0, 55], 50: [44, 10, 0, 48] },
    wristL: { 1: [4, 0, 0], 46: [-10, 0, 0] },
    armR: { 1: [2, 8, 0, 18], 52: [-6, 12, 0, 22], 66: [22, 12, 0, 60] },
    wristR: { 1: [4, 0, 0], 62: [-6, 0, 0] },
    fingL: { 1: 22, 46: 6, 55: 10, 63: 44 },
    fingR: { 1: 20, 64: 8, 76: 12, 84: 44 },
    look: {
      w: { 1: 1 },
      at: (f) => {
        const t = track({ 1: 1, 8: 1, 20: 0, 92: 0, 106: 1 })(f);
        const p = bad ? add(place(f), [-0.42, 0.12, 0]) : place(f);
        return [p[0] * (1 - t), p[1] * (1 - t) + 1.52 * t, p[2] * (1 - t) - 0.4 * t];
      },
    },
    handL: grip(
      [-0.04, -0.028, 0.075],
      "L",
      [0.25, 0, -1],
      bad ? { 42: 0, 70: 1 } : { 38: 0, 58: 1 },
      [0.6, -0.7, -0.4],
    ),
    handR: grip([0.07, -0.028, 0.06], "R", [-0.5, 0, -1], { 58: 0, 80: 1 }, [-0.6, -0.7, -0.4]),
  });
  if (bad) {
    a.handR.w = { 1: 1, 54: 1, 68: 0 };
    a.armR[60] = [30, 10, 0, 45];
    a.fingR = { 1: 42 };
    c.fingL = { 1: 22 };
    c.fingR = { 1: 20 };
  }
  const b = makeShot({
    name,
    fps: 24,
    last: 124,
    shot: { stage: "polish" },
    items: [
      {
        id: "book",
        pose: book,
        must: [32, 52, 88],
        shapes: [{ kind: "box", size: [0.2, 0.03, 0.15] }],
        colour: "#703030",
      },
      { skel: man, perf: a, body: true },
      { skel: kid, perf: c, body: true },
    ],
    cameras: [{ id: "two", eye: [-3.3, 1.15, 0.5], at: [0, 0.88, 0.0], fov: 32 }],
  });
  full(b, {
    props: [
      {
        node: "book",
        mass: 0.6,
        heldBy: [
          { node: "man_hand_r", frames: [1, 63] },
          { node: "kid_hand_l", frames: [58, 124] },
          { node: "kid_hand_r", frames: [80, 124] },
        ],
      },
    ],
    gazes: [
      { figure: "grandpa", at: "book", frames: [32, 61] },
      { figure: "grandpa", at: "kid_head", frames: [80, 124] },
      { figure: "lotte", at: "book", frames: [24, 90] },
      { figure: "lotte", at: "man_head", frames: [108, 124] },
    ],
  });
  if (bad)
    for (const k of b.doc.curves)
      if (k.node.startsWith("man_")) {
        k.keys = k.keys.filter((x) => x[0] <= 84);
        const l = k.keys[k.keys.length - 1];
        if (l?.[2]?.out) l[2] = { ...l[2], out: [1, 0] };
      }
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "He lets go before she has it: the book stands in the air for more than half a second.",
    kind: "floating-prop",
    size: "strong",
    nodes: ["book", "man_hand_r", "kid_hand_l", "man_upper_arm_r", "kid_upper_arm_l"],
    frames: [54, 70],
    order: 1,
  },
  {
    what: "The girl looks past the book while she takes it.",
    kind: "look-misses",
    size: "ordinary",
    nodes: ["kid_head", "kid_neck"],
    frames: [20, 92],
    order: 2,
  },
  {
    what: "The old man reaches with his arm alone; hips, back and chest take no part.",
    kind: "arm-alone",
    size: "ordinary",
    nodes: ["man_hips", "man_spine", "man_chest"],
    frames: [32, 70],
    order: 3,
  },
  {
    what: "After the book is gone he freezes to the last frame.",
    kind: "freeze",
    size: "ordinary",
    nodes: ["man_hips", "man_chest", "man_head", "man_upper_arm_l", "man_upper_arm_r"],
    frames: [84, 124],
    order: 4,
  },
  {
    what: "No finger of either opens or closes in the handing over.",
    kind: "dead-fingers",
    size: "barely",
    nodes: ["man_fingers_r", "kid_fingers_l", "kid_fingers_r"],
    frames: [46, 84],
    order: 5,
  },
];
