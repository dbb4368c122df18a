// @ts-check

import { track } from "../kit/curve.mjs";
import { full, versions } from "../kit/declare.mjs";
import { add, turn, about as turnBy } from "../kit/math.mjs";
import { handTurn } from "../kit/pose.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "plank_lift";
export const about =
  "Blocked in step keys: two carpenters face each other over a heavy plank, squat at its ends, take hold, strain and stand up with it. The older one is a beat behind and carries his end lower.";
export const centre = [0, 0.8, 0];

const P = [1, 13, 25, 37, 45, 53, 65, 81];

/** The poses of one carpenter, who looks along his own z at the plank's end. */
function worker(o) {
  const yaw = turnBy(1, o.yaw);
  const key = (...v) => Object.fromEntries(P.map((f, i) => [f, v[i]]));
  const place = (p) => add(turn(yaw, p), [o.x, 0, 0]);
  const rot = (v) => v.map((r) => [r[0], o.yaw + r[1], r[2]]);
  const foot = (x, z, a) => {
    const p = place([x, 0, z]);
    return { 1: [p[0], o.hover ?? 0, p[2], o.yaw + a] };
  };
  const perf = /** @type {any} */ ({
    alive: 0,
    hips: key(...o.hips.map(place)),
    hipsRot: key(...rot(o.rot)),
    spine: key(...o.spine),
    chest: key(...o.chest),
    neck: key(...o.neck),
    head: key(...o.head),
    footL: foot(0.17, 0.02, 14),
    footR: foot(-0.17, -0.02, -14),
    kneeL: { 1: 16 },
    kneeR: { 1: 16 },
    armL: key(...o.arm),
    armR: key(...o.arm.map((a) => [a[0] + 4, a[1] + 2, a[2], a[3] + 6])),
    wristL: key(...P.map((_, i) => [4 + i, 0, 0])),
    wristR: key(...P.map((_, i) => [9 - i, 0, 0])),
    fingL: key(18, 14, 4, 46, 50, 52, 50, 50),
    fingR: key(20, 16, 6, 44, 48, 54, 52, 51),
    clavL: key([0, 0], [0, 0], [-2, 8], [-3, 8], [-6, 7], [-6, 6], [-5, 4], [-5, 4]),
    clavR: key([0, 0], [0, 2], [-2, 9], [-3, 9], [-7, 7], [-6, 6], [-4, 4], [-5, 3]),
  });
  for (const s of ["L", "R"]) {
    const m = s === "L" ? 1 : -1;
    perf[`hand${s}`] = {
      w: key(0, 0, o.late ? 0 : 1, 1, 1, 1, 1, 1),
      pole: [m * 0.8, -0.4, -0.7],
      at: (f, env) => {
        const k = env.prop("plank", f);
        return add(k.p, turn(k.q, [o.end, -0.03 + (o.miss ?? 0), -m * o.side * 0.11]));
      },
      rot: (f, env) => {
        const q = env.prop("plank", f).q;
        return handTurn(s, turn(q, [o.side, 0, m * o.side * 0.3]), turn(q, [0, 1, 0]));
      },
    };
  }
  return perf;
}

/** @param {boolean} bad */
export function build(bad) {
  const a = skeleton({
    id: "young",
    space: "young",
    stature: 1.8,
    spines: 2,
    orders: { root: "yxz" },
    words: { root: "hip_main", spine: ["spine_low", "spine_up"] },
  });
  const c = skeleton({
    id: "old",
    space: "old",
    stature: 1.7,
    spines: 2,
    orders: { root: "yxz" },
    words: { root: "hip_main", spine: ["spine_low", "spine_up"] },
  });
  const stand = {
    hips: [
      [0, -0.014, -0.02],
      [0, -0.03, -0.04],
      [0, -0.56, -0.15],
      [0, -0.58, -0.15],
      [0, -0.47, -0.16],
      [0, -0.24, -0.13],
      [0, -0.05, -0.075],
      [0.01, -0.035, -0.07],
    ],
    rot: [
      [0, 0, 0],
      [10, 0, 0],
      [32, 0, 0],
      [34, 0, 0],
      [32, 0, 0],
      [22, 0, 0],
      [0, 0, 0],
      [-2, 0, 1],
    ],
    spine: [
      [1, 0, 0],
      [10, 0, 0],
      [22, 0, 0],
      [24, 0, 0],
      [18, 0, 0],
      [10, 0, 0],
      [-4, 0, 0],
      [-5, 0, 0],
    ],
    chest: [
      [1, 0, 0],
      [12, 0, 0],
      [22, 0, 0],
      [26, 0, 0],
      [14, 0, 0],
      [6, 0, 0],
      [-6, 0, 0],
      [-7, 0, 0],
    ],
    neck: [
      [4, 0, 0],
      [6, 0, 0],
      [-10, 0, 0],
      [-8, 0, 0],
      [-16, 0, 0],
      [-10, 0, 0],
      [2, 0, 0],
      [0, 0, 0],
    ],
    head: [
      [8, 0, 0],
      [16, 0, 0],
      [-8, 0, 0],
      [4, 0, 0],
      [-18, 0, 0],
      [-12, 0, 0],
      [0, 0, 3],
      [-2, 5, 2],
    ],
    arm: [
      [4, 8, 0, 16],
      [14, 10, 0, 26],
      [40, 12, 0, 30],
      [40, 12, 0, 30],
      [40, 12, 0, 30],
      [40, 12, 0, 30],
      [30, 10, 0, 50],
      [30, 10, 0, 50],
    ],
  };
  const older = bad
    ? stand
    : {
        ...stand,
        hips: [
          [0.01, -0.03, -0.02],
          [0.01, -0.035, -0.03],
          [0, -0.4, -0.17],
          [0, -0.53, -0.16],
          [0.01, -0.49, -0.155],
          [0.012, -0.32, -0.14],
          [0.005, -0.1, -0.09],
          [-0.01, -0.055, -0.075],
        ],
        spine: [
          [6, 0, 0],
          [8, 2, 0],
          [26, 0, 0],
          [27, 0, 2],
          [22, 0, 2],
          [16, 0, 1],
          [2, 0, 0],
          [0, 0, 0],
        ],
        chest: [
          [8, 0, 0],
          [10, 4, 0],
          [24, 0, 0],
          [26, 2, 2],
          [18, 0, 3],
          [12, 0, 2],
          [0, 0, 0],
          [-2, 0, 0],
        ],
        neck: [
          [-2, 0, 0],
          [0, 6, 0],
          [-8, 0, 0],
          [-6, 0, 0],
          [-14, 0, 0],
          [-12, 0, 0],
          [-4, 0, 0],
          [-4, 0, 0],
        ],
        head: [
          [4, 0, 0],
          [10, 8, 0],
          [-6, 0, 0],
          [2, 0, 0],
          [-12, 0, 4],
          [-14, 0, 3],
          [-4, 0, 0],
          [-4, -6, -2],
        ],
      };
  const X = 1.13;
  const yEnds = bad
    ? [
        [0.17, 0.17],
        [0.17, 0.17],
        [0.3, 0.28],
        [0.32, 0.3],
        [0.4, 0.36],
        [0.66, 0.58],
        [0.95, 0.88],
        [0.96, 0.89],
      ]
    : [
        [0.17, 0.17],
        [0.17, 0.17],
        [0.17, 0.17],
        [0.17, 0.17],
        [0.3, 0.23],
        [0.63, 0.48],
        [0.96, 0.84],
        [0.97, 0.89],
      ];
  const ends = track(Object.fromEntries(P.map((f, i) => [f, yEnds[i]])));
  const plank = (f) => {
    const [l, r] = ends(f);
    return { p: [0, (l + r) / 2, 0], q: turnBy(2, (Math.asin((r - l) / 1.8) * 180) / Math.PI) };
  };
  const A = worker({ ...stand, yaw: 90, x: -X, end: -0.94, side: 1, hover: 0 });
  const C = worker({ ...older, yaw: -90, x: X, end: 0.94, side: -1, late: !bad, miss: bad ? -0.07 : 0 });
  if (bad)
    A.footL = {
      ...A.footL,
      53: A.footL[1].map((v, i) => v + (i === 1 ? 0.035 : 0)),
      65: A.footL[1].map((v, i) => v + (i === 1 ? 0.035 : 0)),
      81: A.footL[1].map((v, i) => v + (i === 1 ? 0.035 : 0)),
    };
  const b = makeShot({
    name,
    fps: 24,
    last: 96,
    poses: P,
    unit: 0.01,
    up: "z",
    shot: { stage: "blocking" },
    items: [
      { id: "plank", pose: plank, shapes: [{ kind: "box", size: [2, 0.05, 0.26] }] },
      {
        id: "trestle",
        still: [0, 0, 0],
        shapes: [{ kind: "box", size: [1.3, 0.14, 0.1], centre: [0, 0.07, 0] }],
      },
      { skel: a, perf: A, body: true },
      { skel: c, perf: C, body: true },
    ],
  });
  return full(b, {
    contacts: [{ node: "plank", with: "trestle", frames: [1, 44] }],
    props: [
      {
        node: "plank",
        mass: 34,
        heldBy: [
          ...["young:hand_l", "young:hand_r"].map((n) => ({ node: n, frames: [25, 96] })),
          ...["old:hand_l", "old:hand_r"].map((n) => ({ node: n, frames: [37, 96] })),
        ],
      },
    ],
  });
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The plank is off its blocks in the pose in which the hands first take it: it has no weight.",
    kind: "weightless-lift",
    size: "strong",
    nodes: ["plank"],
    frames: [25, 44],
    order: 1,
  },
  {
    what: "The older man's hands hang under the plank without touching it.",
    kind: "grip-misses",
    size: "ordinary",
    nodes: ["old:hand_l", "old:hand_r", "old:upper_arm_l", "old:upper_arm_r"],
    frames: [25, 96],
    order: 2,
  },
  {
    what: "Both men have the same poses on the same frames, one copied on the other.",
    kind: "twinning",
    size: "ordinary",
    nodes: [
      "old:hip_main",
      "old:spine_low",
      "old:spine_up",
      "young:hip_main",
      "young:spine_low",
      "young:spine_up",
    ],
    frames: [1, 96],
    order: 3,
  },
  {
    what: "The young man's left foot stands a few centimetres over the floor from the lift on.",
    kind: "foot-floats",
    size: "barely",
    nodes: ["young:foot_l", "young:toes_l", "young:thigh_l", "young:shin_l"],
    frames: [53, 96],
    order: 4,
  },
];
