// @ts-check
import { late } from "../../mixed/kit/edits.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { add, mul, qmul, slerp, turn, about as turnBy } from "../../people/kit/math.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot, track } from "../../people/kit/shot.mjs";
import { ease, has, keys, person } from "../kit/parts.mjs";

export const name = "plank_saw";
export const about =
  "At a trestle a man saws a plank: four strokes from the hips, push and pull. He leaves the saw in the cut, wipes his brow with the left hand, and bends back to it.";

const LAST = 138;
const CUT = [-0.2, 0.7, 0.45];
/** How far the handle is from the cut: out on the pull, near on the push. */
const STROKE =
  "1: 0.3 | 8: 0.36 | 19: 0.13 | 21: 0.12 | 31: 0.43 | 33: 0.435 | 43: 0.11 | 45: 0.105 | 55: 0.44 | 57: 0.445 | 67: 0.1 | 69: 0.095 | 79: 0.43 | 81: 0.435 | 92: 0.17 | 138: 0.17";

/** @param {import("../kit/parts.mjs").Bad} bad */
export function build(bad) {
  const sk = person(
    "sahaj",
    1.77,
    "Crotch Belly/Ribs Throat Skull Crown Yoke Uparm Loarm Mitt Digits Upleg Loleg Boot Toecap Tip",
    {
      side: (/** @type {string} */ w, /** @type {string} */ s) => `${s}${w}_jnt`,
      orders: { root: "yxz", arm: "yxz", spine: "yxz" },
    },
  );
  const at = track(keys(STROKE));
  const snap = has(bad, 3);
  // The third pull is over in three frames, and waits.
  const when = (/** @type {number} */ f) =>
    snap && f > 69 && f < 81 ? (f < 77 ? 69 + (f - 69) * 0.2 : f < 79 ? 70.4 + (f - 76) * 4.1 : 80) : f;
  const tilt = track(keys("1: 24 | 33: 27 | 57: 30 | 81: 33 | 92: 34 | 138: 34"));
  // In the push the saw bites and its handle goes down a little; in the pull it comes up.
  const saw = (/** @type {number} */ f) => {
    const q = turnBy(0, tilt(f) + 8 * (at(when(f)) - 0.27));
    return { p: add(CUT, turn(q, mul([0, 0, -1], at(when(f))))), q };
  };
  const work = (/** @type {number} */ f) => (has(bad, 2) ? 0.24 : (at(f) - 0.27) / 0.16);
  const up = track(keys("1: 0 | 90: 0 | 104: 1 | 119: 1 | 131: 0 | 138: 0"));
  const lag = (/** @type {number} */ d) => (/** @type {number} */ f) =>
    work(Math.max(1, f - d)) * (1 - up(f));
  const vec = (/** @type {(f: number) => number[]} */ g) =>
    Object.assign(g, { frames: [8, 20, 32, 44, 56, 68, 80, 92, 104, 119, 131] });
  const brow = has(bad, 5) ? -0.075 : 0;
  const slip = (/** @type {number} */ f) =>
    has(bad, 4) ? 0.075 * ease(f, 33, 43) * (1 - ease(f, 45, 55)) : 0;
  const left = track(
    keys(
      `1: 0.2 0.738 0.43 | 93: 0.2 0.738 0.43 | 99: 0.27 1.05 0.44 | 106: 0.11 1.53 ${0.375 + brow} | 108: 0.085 1.54 ${0.38 + brow} | 115: -0.035 1.53 ${0.375 + brow} | 122: 0.19 1.2 0.45 | 130: 0.2 0.738 0.43 | 138: 0.2 0.738 0.43`,
    ),
  );
  const leftAt = (/** @type {number} */ f) => add(left(f), [-slip(f), 0, slip(f) * 0.4]);
  const flat = handTurn("L", [-0.35, -0.05, 1], [0, -1, 0]);
  const wipe = handTurn("L", [-0.9, 0.25, 0.1], [0.1, 0, -1]);
  const mix = (/** @type {number} */ f) => ease(f, 94, 105) * (1 - ease(f, 116, 128));
  const perf = /** @type {any} */ ({
    alive: 0.5,
    leans: () => false,
    opts: { kind: "cubic" },
    hips: vec((f) => [
      0.005,
      -0.075 + 0.012 * lag(0)(f) + 0.03 * up(f),
      -0.045 - 0.042 * lag(0)(f) + 0.075 * up(f),
    ]),
    hipsRot: vec((f) => [18 - 9 * up(f), -10 - 4 * lag(0)(f), 0]),
    spine: vec((f) => [18 - 4 * lag(1)(f) - 10 * up(f), -2 - 5 * lag(1)(f), 2]),
    chest: vec((f) => [19 - 5 * lag(2)(f) - 12 * up(f), 2 - 11 * lag(2)(f) + 12 * up(f), 3]),
    neck: vec((f) => [4 + 2 * lag(3)(f) - 3 * up(f - 2), 4 + 5 * lag(3)(f), 0]),
    head: vec((f) => [
      5 + 3 * lag(4)(f) + (has(bad, 6) ? -17 * (1 - up(f)) : 0) - 5 * up(f - 3),
      6 + 6 * lag(4)(f) - 6 * up(f - 3) - (has(bad, 6) ? 14 * (1 - up(f)) : 0),
      -3 + 3 * up(f),
    ]),
    footL: { 1: [0.13, 0, 0.17, 6] },
    footR: { 1: [-0.16, 0, -0.2, -28] },
    kneeL: { 1: 8 },
    kneeR: { 1: 6 },
    clavL: keys("1: 0 4 | 92: 0 4 | 106: 8 4 | 116: 7 4 | 130: 0 4"),
    clavR: vec((f) => [1 + 2 * up(f), 3 - 6 * lag(1)(f)]),
    handR: {
      w: { 1: 1 },
      pole: [-0.45, -0.35, -0.9],
      at: (/** @type {number} */ f) => saw(f).p,
      rot: (/** @type {number} */ f) => handOn(saw(f).q),
    },
    handL: {
      w: { 1: 1 },
      pole: [0.9, -0.5, -0.2],
      at: leftAt,
      rot: (/** @type {number} */ f) => slerp(flat, wipe, mix(f)),
    },
    fingR: { 1: 74 },
    fingL: keys("1: 14 | 93: 14 | 100: 40 | 106: 22 | 116: 24 | 123: 36 | 131: 12 | 138: 14"),
  });
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.0254,
    shot: { stage: "splining" },
    items: [
      { id: "trestle", still: [0, 0.32, 0.45], shapes: [{ kind: "box", size: [0.7, 0.64, 0.16] }] },
      {
        id: "plank",
        still: [-0.05, 0.69, 0.45],
        shapes: [{ kind: "box", size: [1.5, 0.03, 0.2] }],
        colour: "#c8a060",
      },
      {
        id: "saw",
        pose: saw,
        order: "xyz",
        kind: "cubic",
        tol: 0.0006,
        tolTurn: 0.08,
        shapes: [{ kind: "box", size: [0.01, 0.09, 0.6], centre: [0, 0.0, 0.36] }],
      },
      { skel: sk, perf },
    ],
  });
  full(b, {
    props: [{ node: "saw", mass: 0.8, heldBy: [{ node: "RMitt_jnt", frames: [1, LAST] }] }],
    contacts: [
      { node: "LMitt_jnt", with: "plank", frames: [1, 93] },
      { node: "LMitt_jnt", with: "plank", frames: [130, LAST] },
    ],
  });
  // The saw's keys were moved, the arm's were not.
  if (has(bad, 1)) for (const c of ["translation", "rotation"]) late(b.doc, "saw", c, [44, 68], 3);
  return b;
}
const handOn = (/** @type {number[]} */ q) => qmul(q, handTurn("R", [0.15, -0.55, 0.8], [1, 0, 0.1]));
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "For one stroke the saw runs on its own, behind his fist, it doesn't sit in the hand.",
    kind: "grip-slip",
    size: "strong",
    nodes: ["saw", "RMitt_jnt"],
    frames: [44, 69],
    order: 1,
  },
  {
    what: "He saws from the elbow; hips and back have nothing to do with it, there is no weight behind the blade.",
    kind: "no-body-in-it",
    size: "strong",
    nodes: ["Crotch", "Belly", "Ribs"],
    frames: [1, 137],
    order: 2,
  },
  {
    what: "The hand that holds the plank rubs to and fro on it.",
    kind: "hand-slides",
    size: "ordinary",
    nodes: ["LMitt_jnt", "LLoarm_jnt", "LUparm_jnt"],
    frames: [33, 55],
    order: 4,
  },
  {
    what: "When he wipes his brow the hand goes into the skull.",
    kind: "through-head",
    size: "ordinary",
    nodes: ["LMitt_jnt", "LLoarm_jnt", "LUparm_jnt"],
    frames: [99, 122],
    order: 5,
  },
  {
    what: "He doesn't look at the cut, he looks past it while he saws.",
    kind: "look-off",
    size: "barely",
    nodes: ["Skull"],
    frames: [1, 137],
    order: 6,
  },
  {
    what: "The third pull waits and then snaps back in three frames; a saw in wood can't do that.",
    kind: "snap-timing",
    size: "ordinary",
    nodes: ["saw", "RMitt_jnt", "RLoarm_jnt", "RUparm_jnt"],
    frames: [69, 81],
    order: 3,
  },
];
