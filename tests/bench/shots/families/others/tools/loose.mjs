// @ts-check
/**
 * Loose parts (ears, tails, feelers): links on a chain, drawn back to the posture that the body gives them, slowed by
 * damping, with the carrier's motion as it is. They trail, swing past and settle.
 */
import {
  add,
  cross,
  dot,
  length,
  rotate,
  scale,
  subtract,
  unit,
} from "../../../../../../demo/motion/vector.mjs";

/**
 * @typedef {object} LooseChain
 * @property {readonly string[]} joints @property {number} frequency own swings per second of the first link
 * @property {number} damping as a share of critical @property {number} [softer] how much softer each next link is (0.35)
 * @property {number} [limit] how far a link is bent off its posture at most, as a share of its length (0.45)
 */

/**
 * @param {{ position: number[], orientation: number[] }[][]} rough per frame, per joint of the chain: the world pose that
 *   the posture alone gives
 * @param {number[][]} bones rest offsets from each joint to the next; the last joint has the bone before it again
 * @param {LooseChain} how
 * @param {number} rate
 * @returns {number[][][]} per frame, per joint: a turn (quaternion) in world space to be put in front of the posture's
 */
export function swing(rough, bones, { frequency, damping, softer = 0.35, limit = 0.45 }, rate) {
  const substeps = 12;
  const h = 1 / (rate * substeps);
  const links = bones.length;
  const lengths = bones.map(length);
  /** @type {number[][]} */
  let points = [];
  const speeds = bones.map(() => [0, 0, 0]);
  /** @type {number[][]} */
  const rests = [];
  /** @type {number[][][]} */
  const out = [];
  const warm = Math.round(rate);
  const at = (/** @type {number} */ time, /** @type {number} */ n) => {
    const t = Math.max(0, Math.min(rough.length - 1, time));
    const i = Math.min(rough.length - 2, Math.floor(t));
    const get = (/** @type {number} */ k) => rough[Math.max(0, Math.min(rough.length - 1, k))][n];
    const u = t - i;
    return {
      position: through(
        [i - 1, i, i + 1, i + 2].map((k) => get(k).position),
        u,
      ),
      tip: through(
        [i - 1, i, i + 1, i + 2].map((k) => add(get(k).position, rotate(get(k).orientation, bones[n]))),
        u,
      ),
    };
  };
  for (let step = -warm * substeps; step <= (rough.length - 1) * substeps; step++) {
    const time = step / substeps;
    let above = at(time, 0).position;
    const base = above;
    const next = [];
    for (let n = 0; n < links; n++) {
      const posture = at(time, n);
      const rest = add(above, subtract(posture.tip, posture.position));
      if (points[n] === undefined) next.push(rest);
      else {
        const pace = (2 * Math.PI * frequency) / (1 + softer * n);
        // Damped against the carrier: a part that is carried along steadily hangs as it does at rest.
        const slip = subtract(scale(subtract(rest, rests[n]), 1 / h), speeds[n]);
        const pull = add(scale(subtract(rest, points[n]), pace * pace), scale(slip, 2 * damping * pace));
        speeds[n] = add(speeds[n], scale(pull, h));
        const moved = add(points[n], scale(speeds[n], h));
        // Muscle and gristle stiffen a part that is bent far: it never leaves its posture by more than `limit`.
        const straight = unit(subtract(rest, above));
        const off = subtract(unit(subtract(moved, above)), straight);
        const size = length(off) || 1;
        const held = add(straight, scale(off, (limit * Math.tanh(size / limit)) / size));
        next.push(add(above, scale(unit(held), lengths[n])));
        speeds[n] = scale(subtract(next[n], points[n]), 1 / h);
      }
      rests[n] = rest;
      above = next[n];
    }
    points = next;
    if (step < 0 || step % substeps !== 0) continue;
    const frame = step / substeps;
    let from = base;
    out.push(
      bones.map((bone, n) => {
        const wanted = rotate(rough[frame][n].orientation, bone);
        const found = subtract(points[n], from);
        from = points[n];
        return onto(wanted, found);
      }),
    );
  }
  return out;
}

/** The shortest turn from one direction to another. @param {number[]} from @param {number[]} to */
function onto(from, to) {
  const [a, b] = [unit(from), unit(to)];
  const axis = cross(a, b);
  const w = 1 + dot(a, b);
  const size = Math.hypot(axis[0], axis[1], axis[2], w) || 1;
  return [axis[0] / size, axis[1] / size, axis[2] / size, w / size];
}

/** Smooth course through four points at equal times (Catmull & Rom 1974). @param {number[][]} p @param {number} u */
function through(p, u) {
  return p[1].map((_, k) => {
    const [a, b, c, d] = p.map((one) => one[k]);
    return b + 0.5 * u * (c - a + u * (2 * a - 5 * b + 4 * c - d + u * (3 * (b - c) + d - a)));
  });
}
