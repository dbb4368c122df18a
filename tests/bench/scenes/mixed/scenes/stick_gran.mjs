// @ts-check

import { plus, wordsOf } from "../../mixed/kit/help.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { add, between, mul, norm, qmul, sub } from "../../people/kit/math.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot, track } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { steps } from "../../people/kit/steps.mjs";
import { pop, retime } from "../../slips.mjs";

export const name = "stick_gran";
export const about =
  "A bent old woman walks five short steps with a stick in her right hand; the stick goes with the left foot. She stops, leans on it and lifts her head.";

const LAST = 132;
const LONG = 0.7;

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "obaasan",
    stature: 1.5,
    spines: 3,
    words: wordsOf(
      "Koshi Onaka/Senaka/Mune Kubi Atama Itadaki Sakotsu Joowan Zenwan Te Yubi Momo Sune Ashi Tsumasaki Saki",
    ),
    side: (w, s) => `${w}${s === "L" ? "Hidari" : "Migi"}`,
    orders: { root: "yxz", spine: "yxz", leg: "xyz", neck: "yxz", arm: "zxy" },
    hair: 0,
  });
  const w = 0.085;
  const perf = /** @type {any} */ ({
    hips: { 1: [0.01, -0.03, 0.0] },
    footL: { 1: [w, 0, 0.04, 8] },
    footR: { 1: [-w, 0, -0.02, -8] },
    armL: { 1: [3, 10, 0, 24] },
    wristL: { 1: [8, 0, 0] },
    kneeL: { 1: 8 },
    kneeR: { 1: 8 },
    opts: { kind: "cubic" },
  });
  steps(perf, sk, {
    f0: 6,
    list: [
      { s: "L", to: [w, 0, 0.2, 8], n: 16, gap: 4 },
      { s: "R", to: [-w, 0, 0.4, -8], n: 17, gap: 4 },
      { s: "L", to: [w, 0, 0.62, 8], n: 16, gap: 4 },
      { s: "R", to: [-w, 0, 0.84, -8], n: 17, gap: 4 },
      { s: "L", to: [w, 0, 0.88, 8], n: 17, gap: 4 },
    ],
    lift: 0.05,
    sway: 0.74,
    dip: 0.03,
    settle: 0.035,
    heel: 16,
    toe: 5,
    arms: 20,
    lean: 2,
    hipYaw: 4,
    hold: "R",
    end: 9,
  });
  for (const k of ["hips", "hipsRot", "spine", "chest"]) {
    const t = perf[k];
    t[LAST] = t[Math.max(...Object.keys(t).map(Number))];
  }
  const up = track({ 1: 0, 98: 0, 116: 1, [LAST]: 1 });
  perf.hips = plus(perf.hips, (f) => [0, 0.006 * up(f), -0.062 - 0.012 * up(f)]);
  perf.hipsRot = plus(perf.hipsRot, (f) => [9 - 2 * up(f), 0, 0]);
  perf.spine = plus(perf.spine, (f) => [14 - 3 * up(f), -2, 1]);
  perf.chest = plus(perf.chest, (f) => [27 - 6 * up(f - 2), -3, 1]);
  perf.armL[LAST] = perf.armL[Math.max(...Object.keys(perf.armL).map(Number))];
  perf.armL = plus(perf.armL, (f) => [40 - 8 * up(f), 3, 0, 0]);
  // The head nods a little with each step, later than the chest.
  const nod = track({
    1: 0,
    16: 2,
    24: -2,
    32: 2,
    40: -2,
    48: 2,
    56: -2,
    66: 2,
    74: -2,
    84: 1,
    94: 0,
    132: 0,
  });
  const sway = track({ 1: 0, 14: -3, 32: 3, 49: -3, 66: 3, 82: -2, 96: 0, 108: 4, 132: 4 });
  perf.neck = (/** @type {number} */ f) => [-24 + nod(f - 2) - 4 * up(f - 3), sway(f - 2) + 2, 0];
  perf.head = (/** @type {number} */ f) => [-16 + 1.4 * nod(f - 5) - 6 * up(f - 5), 1.4 * sway(f - 4) + 3, 0];
  // The stick: planted with the left foot, carried while that one swings.
  const tips = /** @type {Record<number, any>} */ ({});
  const put = (/** @type {number} */ f, /** @type {number[]} */ p) => {
    tips[f] = { v: p, s: [0, 0, 0] };
  };
  const plants = [
    [1, 10, 0.12],
    [22, 44, 0.36],
    [56, 77, 0.76],
    [90, LAST, 1.02],
  ];
  plants.forEach(([a, b, z], i) => {
    put(a, [-0.24, 0, z]);
    put(b, [-0.24, 0, z]);
    const next = plants[i + 1];
    if (next)
      tips[(b + next[0]) / 2] = {
        v: [-0.245, 0.06, (z + next[2]) / 2 - 0.02],
        s: [0, 0, ((next[2] - z) / (next[0] - b)) * 1.4],
      };
  });
  if (bad) {
    // Of the second plant only the first key was set.
    tips[77] = { v: [-0.24, 0, 0.85], s: [0, 0, 0] };
    tips[56] = { v: [-0.24, 0, 0.76], in: [0, 0, 0], out: [0, 0, 0.006] };
  }
  const tip = track(tips);
  const hip = perf.hips;
  const line = (/** @type {number} */ f) => {
    const t = tip(f);
    const h = hip(f);
    const grip = [h[0] * 0.5 - 0.215, 0.72, h[2] + 0.32 + (t[2] - h[2] - 0.3) * 0.3];
    return { tip: t, up: norm(sub(grip, t)) };
  };
  const pose = (/** @type {number} */ f) => {
    const l = line(f);
    return { p: add(l.tip, mul(l.up, LONG)), q: between([0, 1, 0], l.up) };
  };
  const hold = handTurn("R", [0.1, -0.75, 0.65], [0.15, -0.6, -0.75]);
  perf.handR = {
    w: { 1: 1, [LAST]: 1 },
    at: (/** @type {number} */ f) => pose(f).p,
    rot: (/** @type {number} */ f) => qmul(pose(f).q, hold),
    pole: [-0.4, -0.9, -0.1],
  };
  perf.fingR = { 1: 60 };
  perf.leans = (/** @type {number} */ f) => f < 12;
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 1,
    items: [
      { skel: sk, perf },
      {
        id: "Tsue",
        pose,
        tol: 0.0008,
        tolTurn: 0.15,
        shapes: [{ kind: "capsule", radius: 0.012, from: [0, 0.03, 0], to: [0, 0.012 - LONG, 0] }],
      },
    ],
  });
  b.doc.nodes.push({ id: "Tsue_Saki", parent: "Tsue", translation: [0, -LONG, 0] });
  b.doc.props = [{ node: "Tsue", mass: 0.4, heldBy: [{ node: "TeMigi", frames: [1, LAST] }] }];
  if (bad) {
    // The free arm lost its curves.
    for (const n of ["JoowanHidari", "ZenwanHidari", "TeHidari"]) {
      for (const ax of ["x", "y", "z"]) {
        const c = b.doc.curves.find((/** @type {any} */ k) => k.node === n && k.channel === `rotation.${ax}`);
        if (c) c.keys = [c.keys[0].slice(0, 2)];
      }
    }
    // The hips wait for three frames in the fourth step.
    retime(b.doc, ["Koshi"], "translation.z", 58, 70, (f) =>
      f < 62 ? f : f < 65 ? 62 : 62 + ((f - 64) * 8) / 6,
    );
    for (const n of ["Atama", "Kubi"])
      for (const ax of ["x", "y", "z"]) {
        const c = b.doc.curves.find((/** @type {any} */ k) => k.node === n && k.channel === `rotation.${ax}`);
        if (c)
          c.keys = c.keys.filter((/** @type {any} */ k, /** @type {number} */ i) => i === 0 || k[0] >= 98);
        if (c) for (const k of c.keys) if (k[0] < 98 || k === c.keys[1]) k[2] = { in: 0, out: 0 };
      }
    pop(b.doc, "SuneMigi", "rotation.x", 48, -14);
  }
  return full(b, {
    props: b.doc.props,
    contacts: plants.map(([a, e]) => ({ node: "Tsue_Saki", with: "floor", frames: [a, e] })),
  });
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "She leans on the stick in the middle of the walk, and its tip skates nine centimetres ahead over the floor.",
    kind: "prop-slide",
    size: "strong",
    nodes: ["Tsue", "Tsue_Saki"],
    frames: [56, 78],
    order: 1,
  },
  {
    what: "The left arm hangs like a board from the first frame to the last, all its curves are gone.",
    kind: "dead-arm",
    size: "ordinary",
    nodes: ["JoowanHidari", "ZenwanHidari", "TeHidari"],
    frames: [6, 132],
    order: 2,
  },
  {
    what: "The right knee snaps straight for one frame, on 48, under her weight.",
    kind: "knees snap",
    size: "ordinary",
    nodes: ["SuneMigi", "MomoMigi", "AshiMigi"],
    frames: [47, 49],
    order: 3,
  },
  {
    what: "The hips halt for three frames in the fourth step and then have to hurry.",
    kind: "hitch",
    size: "ordinary",
    nodes: ["Koshi"],
    frames: [60, 71],
    order: 4,
  },
  {
    what: "While she walks the head is carried like a bowl of water: no nod, no sway comes into it from the steps.",
    kind: "head stiff",
    size: "barely",
    nodes: ["Atama", "Kubi"],
    frames: [6, 96],
    order: 5,
  },
];
