// @ts-check
import { track } from "../kit/curve.mjs";
import { full, versions } from "../kit/declare.mjs";
import { add, turn, about as turnBy } from "../kit/math.mjs";
import { handTurn } from "../kit/pose.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";
import { steps } from "../kit/steps.mjs";

export const name = "stairs_parcel";
export const about =
  "A young woman carries a parcel in both arms up three steps and stops on the landing. She hitches the parcel up and looks over its top.";
export const centre = [0, 1, 0.6];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "courier",
    stature: 1.66,
    spines: 2,
    words: {
      root: "Hip",
      spine: ["Spine", "Chest"],
      neck: "Neck",
      head: "Head",
      end: "HeadEnd",
      clav: "Shoulder",
      up: "Arm",
      fore: "Elbow",
      hand: "Wrist",
      fing: "Fingers",
      thigh: "Leg",
      shin: "Knee",
      foot: "Ankle",
      toe: "Ball",
      tip: "Toe",
    },
    side: (w, s) => `${w}${s}`,
    armRest: 90,
    orders: { root: "yxz", arm: "yxz" },
  });
  const perf = /** @type {any} */ ({
    opts: { kind: "smooth" },
    hips: { 1: [0, -0.018, -0.02], 9: [0.02, -0.022, -0.035] },
    hipsRot: { 1: [-2, 0, 0], 9: [-3, 0, 1] },
    spine: { 1: [-3, 0, 0] },
    chest: { 1: [-4, 0, 0] },
    footL: { 1: [0.09, 0, 0, 5] },
    footR: { 1: [-0.09, 0, 0.02, -6] },
    armL: { 1: [30, 8, 0, 70] },
    armR: { 1: [30, 8, 0, 70] },
    fingL: { 1: 30 },
    fingR: { 1: 32 },
    neck: { 1: [2, 0, 0] },
    head: {
      1: [10, -3, 0],
      8: [16, -4, 0],
      60: [12, -2, 0],
      76: [0, 0, 0],
      90: [-3, 10, 2],
      120: [-3, 12, 2],
    },
  });
  const h = 0.165;
  const z = (k) => 0.3 + 0.3 * (k - 1);
  const last = bad ? 2 * h + 0.125 : 3 * h;
  const end = steps(perf, sk, {
    f0: 10,
    arms: 0,
    lift: 0.075,
    lean: 4,
    sway: 0.45,
    dip: 0.02,
    heel: 26,
    toe: 2,
    settle: 0.02,
    list: [
      { s: "L", to: [0.09, h, z(1), 4], n: 15 },
      { s: "R", to: [-0.09, 2 * h, z(2), -5], n: 16 },
      { s: "L", to: [0.09, last, z(3), 4], n: 16 },
      { s: "R", to: [-0.09, 3 * h, z(3), -6], n: 15 },
    ],
  });
  // On the landing she stands three steps up.
  for (const f of Object.keys(perf.hips).map(Number))
    if (f > end + 2) perf.hips[f] = [perf.hips[f][0], 3 * h - (bad ? 0.06 : 0.02), perf.hips[f][2]];
  perf.hips[end] = [perf.hips[end][0], 3 * h - 0.03, perf.hips[end][2] + 0.01];
  const [hx, , hz] = perf.hips[Math.max(...Object.keys(perf.hips).map(Number))];
  if (!bad) {
    perf.hips[88] = [hx, 3 * h - 0.045, hz];
    perf.hips[95] = [hx, 3 * h - 0.012, hz + 0.005];
    perf.hips[104] = [hx, 3 * h - 0.02, hz];
  }
  perf.hips[124] = [hx + 0.008, 3 * h - (bad ? 0.059 : 0.018), hz];
  if (bad)
    for (const f of Object.keys(perf.hips))
      if (Number(f) > 14 && Number(f) < end)
        perf.hips[f] = [perf.hips[f][0], perf.hips[f][1] - 0.03, perf.hips[f][2]];
  const hips = track(perf.hips);
  const hitch = track(
    bad
      ? { 1: 0, 86: 0, 89: 0.07, 124: 0.07 }
      : { 1: 0, 84: -0.015, 89: -0.025, 96: 0.055, 104: 0.035, 124: 0.035 },
  );
  const tip = track({ 1: -6, 84: -6, 97: -12, 108: -9, 124: -9 });
  const parcel = (f) => {
    const a = hips(f - (bad ? 0 : 1.5));
    const b = hips(f);
    return { p: [b[0] * 0.8, 1.1 + a[1] + hitch(f), b[2] + 0.27], q: turnBy(0, tip(f)) };
  };
  for (const s of ["L", "R"]) {
    const m = s === "L" ? 1 : -1;
    perf[`hand${s}`] = {
      w: { 1: 1 },
      pole: [m * 0.8, -0.7, -0.4],
      at: (f, env) => {
        const p = env.prop("Parcel", f);
        const out = bad && s === "L" && f > 30 ? 0.05 * Math.min(1, (f - 30) / 10) : 0;
        return add(p.p, turn(p.q, s === "L" ? [0.1 + out, -0.115 - out * 0.6, 0.02] : [-0.165, -0.05, 0.03]));
      },
      rot: (f, env) => {
        const q = env.prop("Parcel", f).q;
        return s === "L"
          ? handTurn(s, turn(q, [-0.7, 0, 0.7]), turn(q, [0, 1, 0]))
          : handTurn(s, turn(q, [0.1, -0.3, 1]), turn(q, [1, 0.1, 0]));
      },
    };
  }
  if (bad) {
    for (const k of ["rollL", "rollR"]) perf[k] = { 1: 0 };
    perf.spine = { 1: [-3, 0, 0] };
    perf.chest = { 1: [-4, 0, 0] };
  }
  const b = makeShot({
    name,
    fps: 25,
    last: 124,
    shot: { stage: "splining" },
    items: [
      {
        id: "Stairs",
        still: [0, 0, 0],
        shapes: [1, 2, 3].map((k) => ({
          kind: "box",
          size: [1.2, h * k, k === 3 ? 1.2 : 0.3],
          centre: [0, (h * k) / 2, 0.3 * (k - 1) + (k === 3 ? 0.78 : 0.33)],
        })),
      },
      { id: "Parcel", pose: parcel, shapes: [{ kind: "box", size: [0.33, 0.22, 0.24] }], colour: "#b09060" },
      { skel: sk, perf, body: true },
    ],
  });
  const step = (c) => {
    const f = c.frames[0];
    const s = c.node.endsWith("L") ? "L" : "R";
    return Math.round(track(perf[`foot${s}`])(f + 1)[1] / h);
  };
  full(b, {
    surfaces: [1, 2, 3].map((k) => ({
      id: `tread_${k}`,
      normal: [0, 1, 0],
      height: h * k * 100,
      edges: [
        [-60, 18 + 30 * (k - 1)],
        [60, k === 3 ? 138 : 48 + 30 * (k - 1)],
      ],
    })),
    props: [
      { node: "Parcel", mass: 3, heldBy: ["WristL", "WristR"].map((n) => ({ node: n, frames: [1, 124] })) },
    ],
  });
  for (const c of b.doc.contacts) {
    const k = step(c);
    if (k) c.with = `tread_${k}`;
  }
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The left foot goes four centimetres into the landing and stands in it.",
    kind: "foot-sinks",
    size: "strong",
    nodes: ["AnkleL", "BallL", "LegL", "KneeL"],
    frames: [55, 124],
    order: 1,
  },
  {
    what: "The left hand comes away from under the parcel; she carries it on nothing there.",
    kind: "grip-slip",
    size: "ordinary",
    nodes: ["WristL", "ArmL", "ElbowL", "Parcel"],
    frames: [30, 124],
    order: 2,
  },
  {
    what: "The hitch at the top comes from nowhere: the parcel hops in three frames, and no knee or back starts it.",
    kind: "weightless-lift",
    size: "ordinary",
    nodes: ["Parcel", "Hip"],
    frames: [84, 92],
    order: 3,
  },
  {
    what: "Hips, chest and shoulders go up the stairs as one stiff block.",
    kind: "one-block",
    size: "barely",
    nodes: ["Spine", "Chest", "Hip"],
    frames: [10, 76],
    order: 5,
  },
  {
    what: "Feet lift off and come down flat like plates, heels never roll.",
    kind: "flat-feet",
    size: "ordinary",
    nodes: ["AnkleL", "AnkleR", "BallL", "BallR"],
    frames: [10, 76],
    order: 4,
  },
];
