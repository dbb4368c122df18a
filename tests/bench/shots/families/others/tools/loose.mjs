// @ts-check
/**
 * Loose parts (ears, tails, feelers): links on a chain, drawn back to the posture that the body gives them, slowed by
 * damping, with the carrier's motion as it is. They trail, swing past and settle.
 */
import { cross, dot, length, rotate, subtract, unit } from "../../../../../../demo/motion/vector.mjs";

/**
 * @typedef {object} LooseChain
 * @property {readonly string[]} joints @property {number} frequency own swings per second of the first link
 * @property {number} damping as a share of critical @property {number} [softer] how much softer each next link is (0.35)
 * @property {number} [limit] how far a link is bent off its posture at most, as a share of its length (0.45)
 */

const substeps = 6;

/**
 * @param {{ position: number[], orientation: number[] }[][]} rough per frame, per joint of the chain: the world pose that
 *   the posture alone gives
 * @param {number[][]} bones rest offsets from each joint to the next; the last joint has the bone before it again
 * @param {LooseChain} how
 * @param {number} rate
 * @returns {number[][][]} per frame, per joint: a turn (quaternion) in world space to be put in front of the posture's
 */
export function swing(rough, bones, { frequency, damping, softer = 0.35, limit = 0.45 }, rate) {
  const links = bones.length;
  const frames = rough.length;
  // Courses of the first joint and of every bone as the posture has it, x y z per frame.
  const base = new Float64Array(3 * frames);
  const ways = bones.map(() => new Float64Array(3 * frames));
  rough.forEach((poses, i) => {
    base.set(poses[0].position, 3 * i);
    bones.forEach((bone, n) => {
      ways[n].set(rotate(poses[n].orientation, bone), 3 * i);
    });
  });
  const h = 1 / (rate * substeps);
  const lengths = bones.map(length);
  const [points, speeds, rests] = [0, 1, 2].map(() => new Float64Array(3 * links));
  const above = new Float64Array(3);
  const rest = new Float64Array(3);
  const start = new Float64Array(3);
  /** @type {number[][][]} */
  const out = [];
  // The chain settles for half a second before the first frame.
  const before = -Math.round(rate / 2) * substeps;
  for (let step = before; step <= (frames - 1) * substeps; step++) {
    const time = Math.max(0, step / substeps);
    between(base, frames, time, start);
    above.set(start);
    for (let n = 0; n < links; n++) {
      between(ways[n], frames, time, rest);
      for (let k = 0; k < 3; k++) rest[k] += above[k];
      if (step === before) points.set(rest, 3 * n);
      else {
        const pace = (2 * Math.PI * frequency) / (1 + softer * n);
        pull(points, speeds, rests, rest, above, n, { pace, damping, limit, long: lengths[n] }, h);
      }
      rests.set(rest, 3 * n);
      for (let k = 0; k < 3; k++) above[k] = points[3 * n + k];
    }
    if (step < 0 || step % substeps !== 0) continue;
    const frame = step / substeps;
    let from = [...start];
    out.push(
      bones.map((_, n) => {
        const to = [...points.subarray(3 * n, 3 * n + 3)];
        const found = subtract(to, from);
        from = to;
        return onto([...ways[n].subarray(3 * frame, 3 * frame + 3)], found);
      }),
    );
  }
  return out;
}

/**
 * One step of one link: drawn back to its posture, damped against its carrier (a part that is carried along steadily hangs
 * as it does at rest), and never further off than `limit`: muscle and gristle stiffen a part that is bent far.
 * @param {Float64Array} points @param {Float64Array} speeds @param {Float64Array} rests @param {Float64Array} rest
 * @param {Float64Array} above @param {number} n
 * @param {{ pace: number, damping: number, limit: number, long: number }} how @param {number} h seconds
 */
function pull(points, speeds, rests, rest, above, n, { pace, damping, limit, long }, h) {
  const i = 3 * n;
  let size = 0;
  for (let k = 0; k < 3; k++) {
    const slip = (rest[k] - rests[i + k]) / h - speeds[i + k];
    speeds[i + k] += h * (pace * pace * (rest[k] - points[i + k]) + 2 * damping * pace * slip);
    moved[k] = points[i + k] + h * speeds[i + k] - above[k];
    size += moved[k] ** 2;
  }
  size = Math.sqrt(size) || 1;
  let off = 0;
  for (let k = 0; k < 3; k++) {
    moved[k] = moved[k] / size - (rest[k] - above[k]) / long;
    off += moved[k] ** 2;
  }
  off = Math.sqrt(off);
  const kept = off < 1e-12 ? 1 : (limit * Math.tanh(off / limit)) / off;
  size = 0;
  for (let k = 0; k < 3; k++) {
    moved[k] = (rest[k] - above[k]) / long + kept * moved[k];
    size += moved[k] ** 2;
  }
  size = long / Math.sqrt(size);
  for (let k = 0; k < 3; k++) {
    const to = above[k] + moved[k] * size;
    speeds[i + k] = (to - points[i + k]) / h;
    points[i + k] = to;
  }
}
const moved = new Float64Array(3);

/** The shortest turn from one direction to another. @param {number[]} from @param {number[]} to */
function onto(from, to) {
  const [a, b] = [unit(from), unit(to)];
  const axis = cross(a, b);
  const w = 1 + dot(a, b);
  const size = Math.hypot(axis[0], axis[1], axis[2], w) || 1;
  return [axis[0] / size, axis[1] / size, axis[2] / size, w / size];
}

/** Smooth course through points at equal times (Catmull & Rom 1974). @param {Float64Array} list x y z per frame
 * @param {number} frames @param {number} time @param {Float64Array} out */
function between(list, frames, time, out) {
  const i = Math.min(frames - 2, Math.floor(time));
  const u = time - i;
  const [p, q, r, t] = [Math.max(0, i - 1), i, i + 1, Math.min(frames - 1, i + 2)];
  for (let k = 0; k < 3; k++) {
    const [a, b, c, d] = [list[3 * p + k], list[3 * q + k], list[3 * r + k], list[3 * t + k]];
    out[k] = b + 0.5 * u * (c - a + u * (2 * a - 5 * b + 4 * c - d + u * (3 * (b - c) + d - a)));
  }
}
