// @ts-check
import { tick } from "../../mixed/kit/edits.mjs";
import { versions } from "../../people/kit/declare.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { ease, everyRound, has, person, round } from "../kit/parts.mjs";

export const name = "belt_walk";
export const about = "The walk of a brisk young woman, in place: three rounds of 26 frames, to be looped.";

const N = 26;
const LAST = 79;
const V = 0.0475;

/** @param {import("../kit/parts.mjs").Bad} bad */
export function build(bad) {
  const sk = person(
    "kulkija",
    1.7,
    "lantio vyotaro/rinta kaula paa paalaki solis olka kyyn kasi sormet reisi saari jalka varpaat kynnet",
    {
      side: (/** @type {string} */ w, /** @type {string} */ s) => `${w}.${s === "L" ? "v" : "o"}`,
      orders: { root: "yxz", leg: "xyz", arm: "zyx" },
    },
  );
  const keyed = (/** @type {any} */ keys, late = 0) => {
    const t = /** @type {any} */ (round(keys, N, 1, late));
    t.frames = everyRound(
      Object.keys(keys).map((f) => Number(f) + late),
      N,
      1,
      LAST,
    );
    return t;
  };
  // A foot stands on the belt for fifteen frames, then swings through.
  const foot = (/** @type {number} */ x, /** @type {number} */ yaw, /** @type {number} */ late) =>
    keyed(
      {
        0: { v: [x, 0, 0.295, yaw], in: [0, -0.004, -0.036, 0], out: [0, 0, -V, 0] },
        15: { v: [x, 0, 0.295 - 15 * V, yaw], in: [0, 0, -V, 0], out: [0, 0.002, -V * 0.75, 0] },
        20.5: { v: [x * 0.9, 0.075, -0.12, yaw * 0.6], s: [0, -0.002, 0.105, 0] },
        23.5: { v: [x, 0.036, 0.205, yaw], s: [0, -0.012, 0.075, 0] },
      },
      late,
    );
  const roll = { 0: { v: -14, s: 2.4 }, 4: 0, 8: 0, 12: 13, 15: 32, 18: 43, 22: 15, 25: { v: -14, s: -2 } };
  const mirror = (/** @type {Record<number, number[]>} */ k, /** @type {number[]} */ sign) =>
    Object.fromEntries(
      Object.entries(k).flatMap(([f, v]) => [
        [f, v],
        [(Number(f) + N / 2) % N, v.map((x, i) => x * sign[i])],
      ]),
    );
  const arm = { 1: [-21, 7, 0, 13], 7: [0, 6, 0, 17], 14: [23, 7, -6, 31], 20: [4, 6, -2, 22] };
  const wrist = { 4: [10, 0, 0], 10: [-2, 0, 0], 17: [-6, 0, 0], 23: [8, 0, 0] };
  const hips = keyed(mirror({ 2.5: [0.008, -0.064, 0], 8.5: [0.021, -0.03, 0] }, [-1, 1, 1]));
  const low = (/** @type {number} */ f) =>
    has(bad, 2) ? -0.031 * ease(f, 29, 35) * (1 - ease(f, 35, 41)) : 0;
  const hipsAt = (/** @type {number} */ f) =>
    hips(f).map((/** @type {number} */ v, /** @type {number} */ i) => (i === 1 ? v + low(f) : v));
  hipsAt.frames = hips.frames;
  const right = foot(-0.07, -6, N / 2);
  // On the flawed belt the right foot waits, and then has to hurry.
  const hitch = (/** @type {number} */ f) =>
    has(bad, 3) ? 0.075 * ease(f, 44, 48) * (1 - ease(f, 48, 54)) : 0;
  const rightAt = (/** @type {number} */ f) =>
    right(f).map((/** @type {number} */ v, /** @type {number} */ i) => (i === 2 ? v + hitch(f) : v));
  rightAt.frames = right.frames;
  const perf = /** @type {any} */ ({
    alive: 0,
    opts: { kind: "smooth" },
    hips: hipsAt,
    hipsRot: keyed(mirror({ 0: [2, -7, 0], 5: [3, -3, 3.2], 10: [2, 4, 1] }, [1, -1, -1])),
    spine: keyed(mirror({ 1: [3, 6, 0], 6: [1, 2, -2.4] }, [1, -1, -1])),
    chest: keyed(mirror({ 2: [3, 11, 0], 8: [1, 2, -3] }, [1, -1, -1])),
    neck: keyed(mirror({ 3: [-3, -5, 0], 9: [-2, -1, 1.5] }, [1, -1, -1])),
    head: keyed(mirror({ 4: [1, -5.5, 0], 10: [-2, -1, 1.5] }, [1, -1, -1])),
    footL: foot(0.07, 6, 0),
    footR: rightAt,
    rollL: keyed(roll),
    rollR: keyed(roll, N / 2),
    armL: keyed(arm, has(bad, 1) ? N / 2 : 0),
    armR: keyed(arm, N / 2),
    wristL: keyed(wrist, has(bad, 1) ? N / 2 : 0),
    wristR: has(bad, 5) ? () => [2, 0, 0] : keyed(wrist, N / 2),
    clavL: keyed({ 2: [1, -4], 15: [1, 5] }),
    clavR: keyed({ 2: [1, -4], 15: [1, 5] }, N / 2),
    fingL: keyed({ 5: 20, 18: 27 }),
    fingR: keyed({ 5: 22, 18: 29 }, N / 2),
    leans: () => true,
  });
  const b = makeShot({ name, fps: 24, last: LAST, items: [{ skel: sk, perf }] });
  if (has(bad, 4)) tick(b.doc, "saari.v", "rotation.x", 61, -17);
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "The left arm swings along with the left leg instead of against it, she walks like a tin soldier on that side.",
    kind: "arm-with-leg",
    size: "strong",
    nodes: ["olka.v", "kyyn.v", "kasi.v"],
    frames: [1, 79],
    order: 1,
  },
  {
    what: "In the second round the body doesn't come up over the standing leg, it crawls through the passing pose with a bent knee.",
    kind: "no-rise",
    size: "ordinary",
    nodes: ["lantio", "reisi.v", "saari.v"],
    frames: [29, 41],
    order: 2,
  },
  {
    what: "The right foot sticks on the belt for a moment and then rushes to catch up; a standing foot must go back evenly.",
    kind: "uneven-tread",
    size: "ordinary",
    nodes: ["jalka.o", "reisi.o", "saari.o"],
    frames: [44, 54],
    order: 3,
  },
  {
    what: "The left knee twitches for one frame and kicks the foot out.",
    kind: "knee-pop",
    size: "ordinary",
    nodes: ["saari.v", "jalka.v"],
    frames: [60, 62],
    order: 4,
  },
  {
    what: "The right hand sits on its forearm like a board, the wrist never drags.",
    kind: "stiff-wrist",
    size: "barely",
    nodes: ["kasi.o"],
    frames: [1, 79],
    order: 5,
  },
];
