// @ts-check
import { versions } from "../kit/declare.mjs";
import { add, turn, about as turnBy } from "../kit/math.mjs";
import { handTurn } from "../kit/pose.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "reel_pair";
export const about =
  "Blocked in step keys: two dancers face each other with one pair of hands joined. They kick, step to the side, kick again, step back, and bow.";

const P = [1, 7, 13, 19, 25, 31, 37, 43, 49, 57, 67, 79];
/** How far the pair is to the side, by pose. */
const SIDE = [0, -0.08, 0.11, 0.335, 0.26, 0.33, 0.12, -0.085, 0, 0, 0, 0.005];

/** A dancer who looks along its own z; `m` is -1 for the one who mirrors the other. @param {any} o */
function dancer(o) {
  const yaw = turnBy(1, o.yaw);
  const m = o.m;
  const key = (/** @type {any[]} */ v) => Object.fromEntries(P.map((f, i) => [f, v[i]]));
  const place = (/** @type {number[]} */ p) => add(turn(yaw, [m * p[0], p[1], p[2]]), [0, 0, o.z]);
  const foot = (/** @type {number[][]} */ v) => key(v.map((p) => [...place(p), o.yaw + m * (p[3] ?? 8)]));
  const rot = (/** @type {number[][]} */ v, base = 0) =>
    key(v.map((r) => [r[0] * o.size, base + m * r[1], m * r[2]]));
  const y = [-0.014, -0.008, -0.06, -0.01, -0.05, -0.006, -0.055, -0.012, -0.04, -0.035, -0.014, -0.016];
  const near = m > 0 ? "L" : "R";
  const far = m > 0 ? "R" : "L";
  const lift = o.size;
  const perf = /** @type {any} */ ({
    alive: 0,
    hips: key(SIDE.map((x, i) => place([x + (o.off?.[i] ?? 0), y[i] * o.size, i === 9 ? -0.07 : -0.012]))),
    hipsRot: rot(
      [
        [0, 0, 0],
        [-2, -8, 3],
        [2, 6, -2],
        [-2, 5, -4],
        [3, 0, -2],
        [-3, 8, -3],
        [2, -6, 2],
        [-2, -6, 4],
        [2, 0, 0],
        [26, 2, 0],
        [-2, -2, 0],
        [1, 1, 1],
      ],
      o.yaw,
    ),
    spine: rot([
      [1, 0, 0],
      [-2, 6, -3],
      [3, -5, 3],
      [-2, -4, 4],
      [4, 0, 2],
      [-4, -6, 3],
      [3, 5, -2],
      [-2, 4, -4],
      [3, 0, 0],
      [24, 2, 0],
      [-3, 2, 0],
      [2, -1, -1],
    ]),
    chest: rot([
      [1, 0, 0],
      [-3, 9, -4],
      [4, -7, 4],
      [-3, -6, 5],
      [4, 0, 2],
      [-5, -8, 4],
      [4, 7, -3],
      [-3, 6, -5],
      [3, 0, 0],
      [24, 4, 0],
      [-4, 3, 0],
      [2, -1, -1],
    ]),
    neck: rot([
      [0, 0, 0],
      [2, -3, 2],
      [-2, 4, -2],
      [2, 3, -2],
      [-2, 0, 0],
      [2, 3, -2],
      [-2, -4, 2],
      [2, -2, 2],
      [-2, 0, 0],
      [10, 0, 0],
      [0, -2, 0],
      [-1, 2, 1],
    ]),
    head: rot([
      [0, 2, 0],
      [4, -6, 4],
      [-4, 8, -4],
      [2, 4, -5],
      [-3, 2, 2],
      [4, 6, -4],
      [-4, -8, 4],
      [2, -4, 5],
      [-3, 2, 0],
      [14, 0, 0],
      [-4, -4, 3],
      [-2, 5, 2],
    ]),
    [`foot${near}`]: foot([
      [0.1, 0, 0],
      [0.06, 0.13 * lift, 0.17, 4],
      [0.35, 0, 0.01],
      [0.35, 0, 0.01],
      [0.35, 0, 0.01],
      [0.35, 0, 0.01],
      [0.35, 0, 0.01],
      [0.2, 0.1 * lift, -0.04],
      [0.1, 0, 0],
      [0.1, 0, 0],
      [0.1, 0, 0],
      [0.1, 0, 0],
    ]),
    [`foot${far}`]: foot([
      [-0.1, 0, 0, -8],
      [-0.1, 0, 0, -8],
      [-0.1, 0, 0, -8],
      [0.14, 0.09 * lift, -0.05, -4],
      [0.17, 0, -0.01, -8],
      [0.22, 0.16 * lift, 0.2, -2],
      [-0.1, 0, -0.01, -8],
      [-0.1, 0, -0.01, -8],
      [-0.1, 0, -0.01, -8],
      [-0.1, 0, -0.01, -8],
      [-0.1, 0, -0.01, -8],
      [-0.1, 0, -0.01, -8],
    ]),
    [`roll${near}`]: key([0, 24, 0, 0, 0, 0, 0, 34, 0, 0, 0, 0]),
    [`roll${far}`]: key([0, 0, 14, 38, 0, 22, 0, 0, 0, 0, 0, 0]),
    kneeL: { 1: 10 },
    kneeR: { 1: 10 },
    [`arm${near}`]: key(
      [
        [4, 10, 0, 18],
        [30, 52, 0, 34],
        [12, 34, 0, 44],
        [-6, 58, 0, 26],
        [10, 36, 0, 42],
        [22, 62, 0, 30],
        [4, 30, 0, 46],
        [36, 50, 0, 38],
        [14, 24, 0, 40],
        [16, 44, 0, 58],
        [2, 16, 0, 24],
        [5, 12, 0, 20],
      ].map((a) => a.map((v, i) => v * (i === 1 ? 1 : o.size))),
    ),
    [`wrist${near}`]: key([
      [4, 0, 0],
      [-14, 0, 0],
      [12, 0, 0],
      [-18, 0, 0],
      [14, 0, 0],
      [-16, 0, 0],
      [10, 0, 0],
      [-12, 0, 0],
      [10, 0, 0],
      [-6, 0, 0],
      [8, 0, 0],
      [5, 0, 0],
    ]),
    [`fing${near}`]: key([22, 10, 24, 8, 22, 8, 26, 10, 20, 14, 24, 24]),
    [`fing${far}`]: { 1: 44 },
  });
  const by = (/** @type {number} */ f) => SIDE[P.indexOf(f)] ?? 0;
  perf[`hand${far}`] = {
    w: { 1: 1 },
    pole: [far === "L" ? 0.8 : -0.8, -0.6, -0.4],
    at: (/** @type {number} */ f) => [
      by(f) * 0.9 - 0.2,
      0.98 + o.hand + (o.miss?.(f) ?? 0) + (f === 57 ? -0.13 : y[P.indexOf(f)] * 0.8),
      o.z * 0.06,
    ],
    rot: () => handTurn(far, [0, 0.1, -Math.sign(o.z)], [0, m > 0 ? -1 : 1, 0.1]),
  };
  return perf;
}

/** @param {boolean} bad */
export function build(bad) {
  const body = (/** @type {string} */ id, /** @type {number} */ stature) =>
    skeleton({
      id,
      space: id,
      stature,
      spines: 2,
      words: {
        root: "bassin_ctr",
        spine: ["rachis_bas", "rachis_haut"],
        neck: "nuque",
        head: "crane",
        end: "vertex",
        clav: "omo",
        up: "humerus",
        fore: "radius",
        hand: "carpe",
        fing: "phalanges",
        thigh: "femur",
        shin: "tibia",
        foot: "tarse",
        toe: "orteil",
        tip: "ongle",
      },
      side: (w, s) => `${w}_${s === "L" ? "gauche" : "droite"}`,
      orders: { root: "yxz", leg: "xzy", arm: "xzy" },
    });
  const lead = dancer({
    yaw: 0,
    m: 1,
    z: -0.41,
    hand: 0.03,
    size: 1,
    off: bad ? [0, 0, 0, -0.17, 0, -0.15] : [],
  });
  const other = dancer({
    yaw: 180,
    m: -1,
    z: 0.34,
    hand: -0.01,
    size: 0.9,
    miss: bad ? (/** @type {number} */ f) => (f === 43 || f === 49 ? 0.15 : 0) : undefined,
  });
  if (bad) {
    // The poses at 31 and 37 were never set: what was posed on 25 stays.
    for (const t of Object.values(other))
      if (t && typeof t === "object" && 25 in t) for (const f of [31, 37]) t[f] = t[25];
    const at = other.handL.at;
    other.handL.at = (/** @type {number} */ f) => at(f === 31 || f === 37 ? 25 : f);
    // The standing foot was moved along with the hips.
    lead.footL[19] = [0.375, 0, -0.4, 8];
    lead.footL[25] = [0.335, 0, -0.43, 8];
    lead.footL[31] = [0.385, 0, -0.4, 8];
    lead.armL[49] = [-70, 30, 0, 120];
  }
  const b = makeShot({
    name,
    fps: 25,
    last: 90,
    unit: 0.01,
    poses: P,
    every: false,
    shot: { stage: "blocking" },
    items: [
      { skel: body("ana", 1.74), perf: lead },
      { skel: body("ines", 1.66), perf: other },
    ],
  });
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "Ana's weight hangs between her feet in both kicks to the side; with one leg up she would fall over.",
    kind: "off-balance",
    size: "strong",
    nodes: ["ana:bassin_ctr"],
    frames: [19, 36],
    order: 1,
  },
  {
    what: "Ines misses two poses: she stands still from 25 to 42 while Ana dances on.",
    kind: "keys missing",
    size: "strong",
    nodes: [
      "ines:bassin_ctr",
      "ines:rachis_bas",
      "ines:rachis_haut",
      "ines:femur_gauche",
      "ines:femur_droite",
    ],
    frames: [25, 42],
    order: 2,
  },
  {
    what: "The joined hands come apart on 43 and 49, hers is a hand's length above.",
    kind: "grip-misses",
    size: "ordinary",
    nodes: ["ines:carpe_gauche", "ines:radius_gauche", "ana:carpe_droite"],
    frames: [43, 56],
    order: 3,
  },
  {
    what: "Ana's standing foot is somewhere else in each pose while it carries her.",
    kind: "foot-slide",
    size: "barely",
    nodes: ["ana:tarse_gauche", "ana:orteil_gauche"],
    frames: [13, 37],
    order: 4,
  },
  {
    what: "On 49 Ana's free arm is wrenched behind her back, a pose that belongs to nothing.",
    kind: "stray pose",
    size: "ordinary",
    nodes: ["ana:humerus_gauche", "ana:radius_gauche", "ana:carpe_gauche"],
    frames: [49, 56],
    order: 5,
  },
];
