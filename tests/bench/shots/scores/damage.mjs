// @ts-check
/**
 * What a fix breaks: planted points, held props, other figures, limbs that moved.
 * @import { Event, Figure, Limb, Performance, Poses, Vector } from "../types.d.ts"
 * @import { Damage } from "./records.d.ts"
 */
import { largestMove } from "./rank.mjs";

/** Frames beside a note in which a fix may move what it mends: a blend takes about half a second at 24 frames. */
export const around = 12;

/** Limits, in statures where nothing else is said. docs/shots-bench.md gives the reasons. */
export const limits = {
  /** Further way that a planted point slides over its stand: under it, 2 cm of a person are left, which is seen. */
  plant: 0.01,
  /** Further way of a held prop against the hand. */
  prop: 0.01,
  /** Move of another figure: no fix has anything to seek there; this is what rounding leaves. */
  otherFigure: 0.0005,
  /** Way by which a joint outside the note's frames gets farther from the twin's: half of what is seen of a slide. */
  astray: 0.005,
  /** A limb moved where its end went this far in the twin, and in the faulty shot; it is frozen below the share. */
  moved: 0.05,
  frozen: 0.2,
};

/**
 * @typedef {object} Versions
 * @property {Poses} twin @property {Poses} before the faulty shot @property {Poses} after the fix
 */

/**
 * @param {Versions} versions
 * @param {string} figure the note's
 * @param {number} from first frame of the note @param {number} to last one
 * @returns {Damage}
 */
export function damageOf({ twin, before, after }, figure, from, to) {
  const { performance } = twin;
  const [low, high] = [from - around, to + around];
  const elsewhere = largestMove(before, after, (id) => id !== figure);
  const outside = largestMove(before, after, (id, frame) => id === figure && (frame < low || frame > high));
  const grows = (/** @type {(poses: Poses) => number} */ way, /** @type {number} */ limit) =>
    way(after) - way(before) > limit;
  return {
    outside: Math.max(outside, elsewhere),
    astray: straysBy({ twin, before, after }, figure, low, high) > limits.astray,
    plant: performance.events.some(
      (event) => event.kind === "plant" && grows((poses) => slideOf(poses, event), limits.plant),
    ),
    prop: performance.events.some(
      (event) => event.kind === "hold-prop" && grows((poses) => driftOf(poses, event), limits.prop),
    ),
    otherFigure: elsewhere > limits.otherFigure,
    frozen: performance.figures.some(({ body }) =>
      body.limbs.some((limb) => {
        const way = (/** @type {Poses} */ poses) => wayOf(poses, limb, body.root, low, high) / body.stature;
        const least = Math.min(way(twin), way(before));
        return least > limits.moved && way(after) < limits.frozen * least;
      }),
    ),
  };
}

/**
 * How much farther from the twin a joint of a figure gets outside some frames, in statures. What is brought nearer to it
 * is mended: a fault may reach beyond its note.
 * @param {Versions} versions @param {string} figure @param {number} low @param {number} high
 */
function straysBy({ twin, before, after }, figure, low, high) {
  const { body } = figureOf(twin.performance, figure);
  let largest = 0;
  for (let frame = after.first; frame < after.first + after.count; frame++) {
    if (frame >= low && frame <= high) continue;
    for (const { id } of body.joints) {
      const right = twin.position(id, frame);
      const more = distance(after.position(id, frame), right) - distance(before.position(id, frame), right);
      if (more > largest) largest = more;
    }
  }
  return largest / body.stature;
}

/**
 * Way that a planted limb slides over its stand, in statures: from frame to frame, of heel and toe the one that moves
 * less, so that rolling over either is none.
 * @param {Poses} poses @param {Extract<Event, { kind: "plant" }>} plant
 */
export function slideOf(poses, { figure, limb: index, from, to }) {
  const { body } = figureOf(poses.performance, figure);
  const limb = body.limbs[index];
  const points = soleOf(poses, limb);
  let way = 0;
  for (
    let frame = Math.max(from, poses.first) + 1;
    frame <= to && frame < poses.first + poses.count;
    frame++
  ) {
    way += Math.min(...points.map((at) => distance(at(frame - 1), at(frame))));
  }
  return way / body.stature;
}

/** @param {Poses} poses @param {Limb} limb @returns {((frame: number) => Vector)[]} */
function soleOf(poses, { sole, joints }) {
  const end = joints[joints.length - 1];
  if (sole === undefined) return [(frame) => poses.position(end, frame)];
  return [
    (frame) => poses.point(sole.foot, sole.heel, frame),
    (frame) => poses.point(sole.tip, sole.toe, frame),
  ];
}

/**
 * How far a held prop gets from where it is first held, in the space of each hand, in statures.
 * @param {Poses} poses @param {Extract<Event, { kind: "hold-prop" }>} hold
 */
export function driftOf(poses, { prop, figure, limbs, from, to }) {
  const { body } = figureOf(poses.performance, figure);
  const first = Math.max(from, poses.first);
  const last = Math.min(to, poses.first + poses.count - 1);
  let largest = 0;
  for (const index of limbs) {
    const { joints } = body.limbs[index];
    const hand = joints[joints.length - 1];
    const start = within(poses, hand, prop, first);
    for (let frame = first; frame <= last; frame++) {
      largest = Math.max(largest, distance(start, within(poses, hand, prop, frame)));
    }
  }
  return largest / body.stature;
}

/** Position of one joint in the space of another. @param {Poses} poses @param {string} joint @param {string} of @param {number} frame @returns {Vector} */
function within(poses, joint, of, frame) {
  const [p, q] = [poses.position(of, frame), poses.position(joint, frame)];
  const [x, y, z, w] = poses.orientation(joint, frame);
  const v = [p[0] - q[0], p[1] - q[1], p[2] - q[2]];
  // The turn back: v + 2 w (u × v) + 2 u × (u × v) with u = −(x, y, z).
  const c = [z * v[1] - y * v[2], x * v[2] - z * v[0], y * v[0] - x * v[1]];
  const d = [z * c[1] - y * c[2], x * c[2] - z * c[0], y * c[0] - x * c[1]];
  return [v[0] + 2 * (w * c[0] + d[0]), v[1] + 2 * (w * c[1] + d[1]), v[2] + 2 * (w * c[2] + d[2])];
}

/** Length of the way of a limb's end against the root, so that being carried is none. @param {Poses} poses @param {Limb} limb @param {string} root @param {number} low @param {number} high */
function wayOf(poses, { joints }, root, low, high) {
  const end = joints[joints.length - 1];
  const first = Math.max(low, poses.first);
  const last = Math.min(high, poses.first + poses.count - 1);
  let way = 0;
  let before = within(poses, root, end, first);
  for (let frame = first + 1; frame <= last; frame++) {
    const now = within(poses, root, end, frame);
    way += distance(before, now);
    before = now;
  }
  return way;
}

/** @param {Performance} performance @param {string} id @returns {Figure} */
function figureOf({ figures }, id) {
  const figure = figures.find((one) => one.id === id);
  if (figure === undefined) throw new Error(`There is no figure ${id}.`);
  return figure;
}

/** @param {Vector} a @param {Vector} b */
const distance = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
