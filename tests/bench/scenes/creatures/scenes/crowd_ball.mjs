// @ts-check
// Four people follow a ball, blocked.
import { masses, names, person } from "../kit/bodies.mjs";
import { makeDocument } from "../kit/document.mjs";
import { curvesOf } from "../kit/edits.mjs";
import { partsOf, strike } from "../kit/people.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "crowd_ball";
export const about =
  "Four people at a fence follow a ball that flies past from their right to their left, each in their own time. It hits, and they cheer, wince, point and jump back. Blocked in step keys.";

const END = 96;
const CAST = [
  { id: "ada", h: 1.68, x: 1.1, z: 0.05, wide: 1, mass: 60, lag: 0, habit: { L: "L", R: "R" } },
  { id: "bo", h: 1.84, x: 0.38, z: -0.15, wide: 1.05, mass: 84, lag: 3, habit: { L: "left", R: "right" } },
  { id: "cem", h: 1.2, x: -0.35, z: 0.12, wide: 0.95, mass: 24, lag: -1, habit: { L: "_l", R: "_r" } },
  { id: "dot", h: 1.6, x: -1.1, z: -0.05, wide: 1.15, mass: 70, lag: 5, habit: { L: "L", R: "R" } },
].map((c) => ({
  ...c,
  rig: person(c.h, {
    wide: c.wide,
    mass: c.mass,
    head: c.h < 1.3 ? 0.17 : 0.13,
    legs: c.h < 1.3 ? 0.44 : 0.48,
  }),
  n: names(c.habit, `${c.id}:`),
}));

const G = 9.81 / 24 / 24;
/** The ball: thrown from their right, flies until it strikes a post at frame 57, falls, and bounces. @param {number} f */
function ball(f) {
  const vx = 0.14;
  const t = f - 15;
  if (t < 0) return [-4, 1.5, 3.2];
  if (t <= 42) return [-4 + vx * t, 1.5 + G * 21 * t - (G * t * t) / 2, 3.2];
  const u = t - 42;
  const x = -4 + vx * 42 - 0.035 * u;
  const vertical = G * 21;
  const s = (-vertical + Math.sqrt(vertical * vertical + 2 * G * 1.39)) / G;
  if (u <= s) return [x, 1.5 - vertical * u - (G * u * u) / 2, 3.2];
  const w = u - s;
  const up = (vertical + G * s) * 0.45;
  return [x, Math.max(0.11, 0.11 + up * w - (G * w * w) / 2), 3.2];
}
/** The stance of one at rest. @param {any} c */
function ease(c) {
  const h = c.h;
  const leg = h * (h < 1.3 ? 0.44 : 0.48);
  return {
    hips: [c.x + 0.015 * h, leg + 0.01 * h, c.z + 0.01],
    hipsR: [0, 0, 1.5],
    waist: [2, 0, -2],
    chest: [2, 0, -1],
    neck: [6, 0, 0],
    head: [-2, 0, 0],
    armL: [4, 0, 8, 14],
    armR: [8, 0, 10, 20],
    handL: [4],
    handR: [8],
    footL: { at: [c.x + 0.075 * h, 0, c.z + 0.05], yaw: 12 },
    footR: { at: [c.x - 0.07 * h, 0, c.z + 0.07], yaw: -10 },
  };
}
/** Head, chest and hips share the turn towards the ball. @param {any} s @param {any} c @param {number} f @param {number} [share] */
function follow(s, c, f, share = 1) {
  const b = ball(f);
  const yaw = ((Math.atan2(b[0] - c.x, b[2] - c.z) * 180) / Math.PI) * share;
  const pitch =
    ((-Math.atan2(b[1] - c.h * 0.93, Math.hypot(b[0] - c.x, b[2] - c.z)) * 180) / Math.PI) * share;
  return {
    ...s,
    hipsR: [0, yaw * 0.1, 1.5],
    waist: [2, yaw * 0.1, -2],
    chest: [2 + pitch * 0.1, yaw * 0.15, -1],
    neck: [4 + pitch * 0.3, yaw * 0.25, 0],
    head: [-8 + pitch * 0.6, yaw * 0.4, 0],
  };
}
/** What each does when it hits. @param {any} s @param {any} c @returns {any[]} anticipation, pose, settle */
function react(s, c) {
  const [x, y, z] = s.hips;
  const base = follow(s, c, 62);
  if (c.id === "ada")
    return [
      { ...base, hips: [x, y - 0.06, z], armL: [20, 0, 12, 70], armR: [26, 0, 14, 80] },
      {
        ...base,
        hips: [x, y + 0.0, z],
        chest: [-10, 4, 2],
        head: [-14, 8, 4],
        armL: [168, 10, 26, 14],
        armR: [150, 12, 34, 34],
      },
      {
        ...base,
        hips: [x, y - 0.01, z],
        chest: [-6, 4, 1],
        head: [-10, 6, 3],
        armL: [158, 10, 28, 26],
        armR: [138, 12, 36, 52],
      },
    ];
  if (c.id === "bo")
    return [
      { ...base, hips: [x, y - 0.02, z], chest: [0, 4, 0] },
      {
        ...base,
        hips: [x - 0.02, y - 0.05, z - 0.02],
        waist: [10, -6, 4],
        chest: [14, -8, 4],
        neck: [14, -12, 0],
        head: [16, -20, 6],
        armL: [20, -20, 14, 100],
        armR: [70, -50, 10, 128],
      },
      {
        ...base,
        hips: [x - 0.02, y - 0.04, z - 0.02],
        waist: [9, -5, 4],
        chest: [12, -6, 4],
        neck: [12, -4, 0],
        head: [12, -8, 7],
        armL: [18, -20, 14, 92],
        armR: [64, -50, 12, 124],
      },
    ];
  if (c.id === "cem")
    return [
      { ...base, hips: [x, y - 0.07, z], waist: [12, 0, 0], armL: [-20, 0, 14, 20], armR: [-24, 0, 16, 24] },
      {
        ...base,
        hips: [x + 0.01, y + 0.005, z + 0.02],
        chest: [-4, 14, 0],
        armL: [96, 0, 20, 6],
        armR: [30, 0, 24, 70],
      },
      {
        ...base,
        hips: [x + 0.01, y - 0.005, z + 0.015],
        chest: [-2, 13, 0],
        armL: [90, 0, 22, 12],
        armR: [24, 0, 24, 62],
      },
    ];
  return [
    { ...base, hips: [x, y - 0.01, z + 0.02], chest: [6, 6, 0] },
    {
      ...base,
      hips: [x, y - 0.03, z - 0.06],
      waist: [-6, 6, 0],
      chest: [-8, 8, 0],
      armL: [52, -10, 26, 104],
      armR: [40, -8, 30, 96],
      footR: { at: [s.footR.at[0] - 0.02, 0, s.footR.at[2] - 0.26], yaw: -22, pitch: 8 },
    },
    {
      ...base,
      hips: [x, y - 0.02, z - 0.05],
      waist: [-4, 6, 0],
      chest: [-5, 8, 0],
      armL: [44, -10, 22, 96],
      armR: [34, -8, 24, 84],
      footR: { at: [s.footR.at[0] - 0.02, 0, s.footR.at[2] - 0.26], yaw: -22, pitch: 12 },
    },
  ];
}

/** @param {boolean} bad */
function build(bad) {
  const bodies = CAST.map((c) => {
    const lag = bad ? 0 : c.lag;
    const s = ease(c);
    const [wind, pose, settle] = react(s, c);
    const shifted = {
      ...s,
      hips: [s.hips[0] - 0.03 * c.h, s.hips[1], s.hips[2]],
      hipsR: [0, 0, -1.5],
      waist: [2, 0, 2],
      chest: [2, 0, 1],
    };
    /** @type {[number, any][]} */ const poses = [
      [1, s],
      [12 + lag, shifted],
      [19 + lag, follow(shifted, c, 23 + lag)],
      [28 + lag, follow(shifted, c, 32 + lag)],
      [37 + lag, follow(s, c, 41 + lag)],
      [46 + lag, follow(s, c, 50 + lag)],
      [55 + lag, follow(s, c, 57 + lag)],
      [59 + lag, wind],
      [64 + lag, pose],
      [75 + lag, settle],
      [86 + lag, { ...settle, head: [settle.head[0] + 3, settle.head[1] - 5, settle.head[2]] }],
    ];
    if (bad && c.id === "bo")
      for (const q of poses)
        if (q[0] >= 28 && q[0] < 55)
          Object.assign(q[1], {
            chest: [2, 26, 0],
            neck: [4, 24, 0],
            head: [-2, 34, 0],
            ...(q[0] > 40 ? { chest: [2, -14, 0], neck: [4, -20, 0], head: [-2, -34, 0] } : {}),
          });
    if (bad && c.id === "ada") for (const q of poses) if (q[0] >= 64) q[1].armR = [...q[1].armL];
    const take = perform(c.rig, [1, END], (p, f) =>
      strike(p, poses.filter((q) => q[0] <= f).slice(-1)[0][1]),
    );
    return { rig: c.rig, name: c.n, curves: keyed(take, { how: "step", poses: poses.map((q) => q[0]) }) };
  });
  const doc = makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    shot: { stage: "blocking" },
    bodies,
    things: [
      {
        id: "ball",
        translation: [-400, 150, 320],
        visible: [[15, END]],
        shapes: [{ kind: "sphere", radius: 11 }],
      },
    ],
    more: {
      figures: CAST.map((c) => ({ id: c.id, stature: c.h, parts: partsOf(c.n) })),
      surfaces: [{ id: "grass", height: 0 }],
      contacts: CAST.flatMap((c) => [
        { node: c.n("ballL"), with: "grass", frames: [1, END] },
        { node: c.n("ballR"), with: "grass", frames: [1, c.id === "dot" ? 63 : END] },
      ]),
      props: [{ node: "ball", mass: 0.4 }],
      gazes: CAST.map((c) => ({ figure: c.id, at: "ball", frames: [24, 54] })),
    },
  });
  for (const [i, k] of [
    [0, "x"],
    [1, "y"],
  ]) {
    const keys = Array.from({ length: END }, (_, q) => [
      q + 1,
      Number((ball(q + 1)[/** @type {number} */ (i)] * 100).toFixed(3)),
    ]);
    doc.curves.push({ node: "ball", channel: `translation.${k}`, keys });
  }
  return doc;
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  const cem = CAST[2].n;
  // The boy's body was never keyed for the reaction: only his arms go.
  for (const c of curvesOf(doc, ["waist", "chest", "neck", "head"].map(cem)))
    c.keys = c.keys.filter((/** @type {any} */ k) => k[0] < 56);
  for (const c of curvesOf(doc, ["thighR", "shinR", "footR"].map(CAST[3].n))) {
    const key = c.keys.find((/** @type {any} */ k) => k[0] === 75);
    const was = c.keys.find((/** @type {any} */ k) => k[0] === 55);
    if (key && was) key[1] = was[1];
  }
  return doc;
}
export const flaws = [
  {
    what: "All four turn and react on the very same frames, like one puppet master; give each a time of their own.",
    kind: "twinning",
    size: "ordinary",
    nodes: CAST.map((c) => c.n("head")),
    frames: [12, 96],
    order: 2,
  },
  {
    what: "Bo looks left while the ball is still on his right, and right when it has gone left; he is not watching it.",
    kind: "eyes miss their mark",
    size: "strong",
    nodes: ["chest", "neck", "head"].map(CAST[1].n),
    frames: [28, 54],
    order: 1,
  },
  {
    what: "Ada throws up both arms in the same pose, mirror images, it looks like gymnastics.",
    kind: "twinning",
    size: "ordinary",
    nodes: [CAST[0].n("armL"), CAST[0].n("armR")],
    frames: [64, 96],
    order: 4,
  },
  {
    what: "The boy points with his arms only, chest and head stay as they were before the hit.",
    kind: "keys missing",
    size: "ordinary",
    nodes: ["waist", "chest", "head"].map(CAST[2].n),
    frames: [59, 96],
    order: 5,
  },
  {
    what: "Dot's right foot, set back on 64, comes off its spot for the pose on 75.",
    kind: "foot slides",
    size: "ordinary",
    nodes: ["thighR", "shinR", "footR"].map(CAST[3].n),
    frames: [75, 85],
    order: 3,
  },
];
export const truth = {
  plants: CAST.flatMap((c) => [
    { node: c.n("ballL"), frames: [1, END] },
    { node: c.n("ballR"), frames: [1, c.id === "dot" ? 63 : END] },
  ]),
  ground: { nodes: CAST.flatMap((c) => [c.n("ballL"), c.n("ballR")]), height: 0 },
  spikes: { ratio: 1e9 },
  masses: masses(CAST[0].rig, CAST[0].n),
  balance: [{ frames: [1, END], feet: ["ballL", "ballR", "footL"].map(CAST[0].n), margin: 0.04 }],
};
