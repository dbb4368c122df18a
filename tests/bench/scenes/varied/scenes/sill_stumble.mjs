// @ts-check
import { dropKeys } from "../../mixed/kit/blocking.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { ease, has, keys, person, stand } from "../kit/parts.mjs";

export const name = "sill_stumble";
export const about =
  "A man walks in, catches his right toes on a door sill, saves himself in two long steps, and turns to look at the sill. On twos.";

const LAST = 101;

/** A swing between two stands. @param {any} t @param {number} a @param {number} b @param {number[]} way at half time */
function swing(t, a, b, way) {
  const [p, q] = [t[a].v, t[b].v];
  t[(a + b) / 2] = {
    v: way,
    s: way.map((_, i) => (i === 1 ? (q[1] - p[1]) / (b - a) : ((q[i] - p[i]) / (b - a)) * 1.45)),
  };
}

/** @param {import("../kit/parts.mjs").Bad} bad */
export function build(bad) {
  const sk = person(
    "soused",
    1.79,
    "panev bedra/hrud krk hlava temeno klic paze predlokti ruka prsty stehno lytko noha palec spicka",
    {
      side: (/** @type {string} */ w, /** @type {string} */ s) => `${s === "L" ? "L" : "P"}_${w}`,
      orders: { root: "yxz", leg: "xyz" },
    },
  );
  const [x, y] = [0.08, 0];
  const L = /** @type {any} */ ({});
  const R = /** @type {any} */ ({});
  stand(L, -4, 15, [x, y, 0, 5]);
  stand(L, 27, 45, [x, y, 1.24, 5]);
  stand(L, 57, 110, [x + 0.02, y, 2.72, 9]);
  swing(L, 15, 27, [x, 0.07, 0.62, 5]);
  swing(L, 45, 57, [x + 0.03, 0.14, 2.02, 8]);
  L[47] = { v: [x, 0.1, 1.32, 6], s: [0, 0.03, 0.09, 0] };
  stand(R, -12, 1, [-x, y, -0.62, -5]);
  stand(R, 13, 28, [-x, y, 0.62, -5]);
  const skid = has(bad, 3) ? 0.15 : 0;
  stand(R, 47, 61, [-x - 0.02, y, 2.26, -8]);
  R[55] = { v: [-x - 0.02, y, 2.26 + skid, -8], s: [0, 0, 0, 0] };
  R[61].v = [-x - 0.02, y, 2.26 + skid, -8];
  stand(R, 73, 110, [-x - 0.03, y, 2.66, -16]);
  swing(R, 1, 13, [-x, 0.07, 0, -5]);
  swing(R, 61, 73, [-x - 0.04, 0.06, 2.47 + skid / 2, -10]);
  // The toes run into the sill, stick there, are torn free, and go over it.
  if (has(bad, 1)) swing(R, 28, 47, [-x, 0.1, 1.44, -5]);
  else {
    R[33.5] = { v: [-x, 0.05, 1.19, -5], in: [0, 0.002, 0.12, 0], out: [0, 0, 0, 0] };
    R[37] = { v: [-x, 0.045, 1.2, -5], s: [0, 0.01, 0.01, 0] };
    R[40] = { v: [-x, 0.14, 1.36, -6], s: [0, 0.02, 0.1, 0] };
    R[43.5] = { v: [-x - 0.02, 0.12, 1.96, -8], s: [0, -0.02, 0.15, 0] };
  }
  const up = has(bad, 2) ? 1 : 0;
  const bow = (/** @type {number} */ f, /** @type {number[]} */ v) => {
    const w = 1 - 0.8 * up * ease(f, 36, 42) * (1 - ease(f, 66, 72));
    return [v[0] * w, v[1], v[2]];
  };
  const bows = (/** @type {Record<number, number[]>} */ t) =>
    Object.fromEntries(Object.entries(t).map(([f, v]) => [f, bow(Number(f), v)]));
  const sink = (/** @type {number} */ v) => (up ? v * 0.62 : v);
  const d = has(bad, 4) ? 8 : 0;
  const perf = /** @type {any} */ ({
    alive: 0.6,
    leans: (/** @type {number} */ f) => f < 66,
    hips: {
      1: [0.005, -0.062, -0.27],
      7: [0.03, -0.03, 0.01],
      14: [0.005, -0.066, 0.33],
      20: [-0.03, -0.03, 0.62],
      27: [-0.005, -0.066, 0.95],
      33: [0.025, -0.04, 1.25],
      37: [0.025, -0.075, 1.45],
      42: [0.015, sink(-0.16), 1.72],
      46: { v: [-0.005, sink(-0.215), 1.94], s: [-0.002, -0.008, 0.05] },
      51: { v: [-0.015, sink(-0.255), 2.19], s: [0, 0, 0.043] },
      57: [-0.02, sink(-0.2), 2.41],
      64: [0.02, -0.12, 2.58],
      72: [0.012, -0.055, 2.67],
      82: [-0.004, -0.028, 2.685],
      LAST: [-0.006, -0.03, 2.68],
    },
    hipsRot: bows(
      keys(
        "1: 3 6 0 | 7: 3 0 2 | 14: 3 -6 0 | 20: 3 0 -2 | 27: 3 6 0 | 33: 3 2 2 | 37: 10 6 2 | 43: 22 2 1 | 49: 30 -8 0 | 56: 24 2 0 | 64: 10 4 1 | 73: 0 0 0 | 86: 0 -14 0 | 101: 0 -15 0",
      ),
    ),
    spine: bows(
      keys(
        "1: 3 -4 0 | 14: 3 4 0 | 27: 3 -4 0 | 34: 2 -1 0 | 38: 2 -2 0 | 45: 16 0 0 | 52: 24 4 0 | 60: 12 0 0 | 69: 0 0 0 | 77: -4 0 0 | 88: 0 -10 0 | 101: 0 -11 0",
      ),
    ),
    chest: bows(
      keys(
        "1: 3 -9 0 | 15: 3 9 0 | 28: 3 -9 0 | 35: 2 -2 0 | 39: -2 -4 0 | 46: 16 -3 0 | 53: 27 8 0 | 62: 12 0 0 | 71: -2 0 0 | 79: -4 0 0 | 90: 1 -14 0 | 101: 1 -16 0",
      ),
    ),
    neck: keys(
      "1: -3 3 0 | 15: -3 -3 0 | 28: -3 3 0 | 35: 0 0 0 | 40: 8 0 0 | 47: -14 2 0 | 54: -26 -3 0 | 64: -12 0 0 | 74: 0 0 0 | 80: 2 -4 0 | 88: 4 -26 -3 | 101: 4 -27 -3",
    ),
    head: {
      1: [0, 3, 0],
      16: [0, -3, 0],
      29: [0, 3, 0],
      36: [0, 0, 0],
      41: [9, 0, 0],
      48: [-9, 2, 0],
      55: [-20, -2, 0],
      66: [-8, 0, 0],
      76: [0, 0, 0],
      ...(has(bad, 5)
        ? { 85: { v: [0, 0, 0], s: [0, 0, 0] }, 86.9: { v: [12, -37, -5], s: [0, 0, 0] } }
        : keys("80: 3 -4 0 | 86: 13 -26 -4 | 91: 12 -36 -5")),
      [LAST]: [12, -37, -5],
    },
    footL: L,
    footR: R,
    rollL: keys(
      "1: 0 | 8: 4 | 12: 18 | 15: 34 | 18: 42 | 22: 10 | 26: -13 | 29: 0 | 34: 4 | 39: 26 | 43: 40 | 45: 46 | 47: 44 | 51: 14 | 56: -6 | 59: 0",
    ),
    rollR: keys(
      "1: 34 | 4: 42 | 9: 8 | 13: -13 | 16: 0 | 21: 4 | 25: 20 | 28: 34 | 31: 38 | 34: 30 | 38: 34 | 41: 34 | 44: 4 | 47: -8 | 50: 0 | 54: 4 | 58: 20 | 61: 34 | 64: 32 | 69: 6 | 72: -5 | 75: 0",
    ),
    kneeR: keys("1: 4 | 80: 4 | 96: 10"),
    armL: keys(
      `1: -20 8 0 14 | 15: 22 8 0 30 | 28: -19 8 0 14 | 36: 2 12 0 24 | ${36.5 + d}: 3 12 0 24 | ${44 + d}: 62 38 -10 48 | ${51 + d}: 78 46 -10 26 | ${58 + d * 0.7}: 36 52 0 34 | ${66 + d * 0.4}: 4 30 0 40 | 77: 4 10 0 22 | 88: 10 12 0 30 | 101: 9 12 0 30`,
    ),
    armR: keys(
      `1: 21 8 0 29 | 14: -21 8 0 14 | 27: 21 8 0 29 | 34: 8 12 0 28 | ${35 + d}: 7 12 0 28 | ${42 + d}: -34 42 0 40 | ${49 + d}: 14 66 0 30 | ${56 + d * 0.7}: 46 50 0 36 | ${65 + d * 0.4}: 20 26 0 34 | 76: -4 10 0 18 | 88: -8 12 0 20 | 101: -8 11 0 20`,
    ),
    wristL: keys(
      `1: 8 0 0 | 18: -4 0 0 | 31: 8 0 0 | ${40 + d}: 16 0 0 | ${48 + d}: -26 0 0 | ${55 + d}: -20 0 0 | 70: 12 0 0 | 82: 4 0 0`,
    ),
    wristR: keys(
      `1: -4 0 0 | 17: 8 0 0 | 30: -4 0 0 | ${39 + d}: 14 0 0 | ${46 + d}: -18 0 0 | ${54 + d}: -24 0 0 | 69: 12 0 0 | 80: 4 0 0`,
    ),
    fingL: keys("1: 24 | 36: 24 | 46: 2 | 58: 4 | 74: 24"),
    fingR: keys("1: 24 | 35: 24 | 45: 2 | 57: 4 | 72: 26"),
  });
  perf.hips[LAST] = perf.hips.LAST;
  delete perf.hips.LAST;
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.001,
    poses: Array.from({ length: (LAST + 1) / 2 }, (_, i) => 1 + 2 * i),
    items: [
      { skel: sk, perf },
      {
        id: "prah",
        still: [0, 0.03, 1.47],
        shapes: [{ kind: "box", size: [1.1, 0.06, 0.1] }],
        colour: "#888888",
      },
    ],
  });
  full(b);
  if (has(bad, 6))
    dropKeys(
      b.doc,
      b.doc.nodes.map((/** @type {any} */ n) => n.id),
      [21],
    );
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The toes never touch the sill, the foot sails over it, so that he stumbles over nothing.",
    kind: "no-cause",
    size: "strong",
    nodes: ["P_noha", "P_palec", "P_lytko", "P_stehno"],
    frames: [29, 46],
    order: 1,
  },
  {
    what: "He saves himself standing up: no bow, hardly any sink into the catching leg; a man who falls has weight that goes down first.",
    kind: "no-weight",
    size: "strong",
    nodes: ["panev", "bedra", "hrud", "P_stehno", "P_lytko", "L_stehno", "L_lytko"],
    frames: [37, 71],
    order: 2,
  },
  {
    what: "The foot that catches him slides on through the whole landing.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["P_noha", "P_palec", "P_lytko", "P_stehno"],
    frames: [47, 70],
    order: 3,
  },
  {
    what: "The arms only notice when it is all over, a third of a second too late.",
    kind: "late-reaction",
    size: "ordinary",
    nodes: ["L_paze", "L_predlokti", "L_ruka", "P_paze", "P_predlokti", "P_ruka"],
    frames: [33, 75],
    order: 4,
  },
  {
    what: "The look back at the sill is one drawing: the head is ahead, and then it is round.",
    kind: "snap",
    size: "ordinary",
    nodes: ["hlava"],
    frames: [73, 91],
    order: 5,
  },
  {
    what: "A drawing is missing in the walk, it sticks for four frames.",
    kind: "stutter",
    size: "barely",
    nodes: ["panev", "P_noha", "L_noha", "L_stehno", "L_lytko"],
    frames: [19, 23],
    order: 6,
  },
];
