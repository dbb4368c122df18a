// @ts-check
/** Parts that are carried along: loose wrists, hair, tails. They trail what carries them, each link more than the last. */
import {
  add,
  inverse,
  length,
  mix,
  multiply,
  rotate,
  scale,
  subtract,
  toAngles,
  turnOntoPair,
  unit,
} from "./vector.mjs";

/**
 * How a loose part trails a carrier's angle: a damped spring follows the carrier; the part shows the difference.
 * It opposes the start of a move, catches up, swings past a little and settles.
 * @param {import("./moves.mjs").Track} carrier
 * @param {{ from: number, to: number, lag: number, gain: number, damping?: number }} how first and last frame;
 *   `lag` in frames (the spring's time constant); `gain` 1 trails fully; `damping` as a share of critical
 * @returns {import("./moves.mjs").Track}
 */
export function trailing(carrier, { from, to, lag, gain, damping = 0.7 }) {
  const substeps = 8;
  const h = 1 / substeps;
  const lead = 24;
  const stiffness = 1 / (lag * lag);
  const resistance = (2 * damping) / lag;
  /** @type {number[]} */
  const out = [];
  let at = carrier(from - lead);
  let speed = 0;
  for (let frame = from - lead; frame <= to + 2; frame += h) {
    if (frame >= from - 1) out.push(gain * (at - carrier(frame)));
    speed += h * (stiffness * (carrier(frame + h) - at) - resistance * speed);
    at += h * speed;
  }
  return (frame) => sampled(out, (frame - from + 1) * substeps);
}

/** @param {number[]} values @param {number} index */
function sampled(values, index) {
  const last = values.length - 1;
  const i = Math.max(0, Math.min(last - 1, Math.floor(index)));
  return values[i] + (values[i + 1] - values[i]) * Math.max(0, Math.min(1, index - i));
}

/**
 * A hanging chain (hair, a tail, a rope's end) that is dragged by the node it is fixed to.
 * Each link is a point on a rod, drawn down by gravity, back to its rest direction, and slowed by air.
 * @param {(frame: number) => { position: number[], orientation: number[] }} base the carrier's pose, in centimetres
 * @param {{ from: number, to: number, rate: number, links: number[][], order: string, stiffness: number,
 *   damping: number, gravity: number, run?: number }} how `links`: offset of each link's end in its own rest space,
 *   the first one from `root`; `stiffness` and `damping` per second (squared for stiffness); gravity in cm/s²;
 *   the chain settles for `run` frames before the first
 * @param {number[]} root offset of the chain's first joint in the base's space
 * @returns {number[][][]} per link, per frame: angles in degrees
 */
export function draggedChain(base, how, root) {
  const { from, to, rate, links, order, stiffness, damping, run = 40 } = how;
  const substeps = 16;
  const h = 1 / (rate * substeps);
  const lengths = links.map(length);
  const result = links.map(() => /** @type {number[][]} */ ([]));
  /** @type {number[][]} */
  const points = [];
  /** @type {number[][]} */
  const speeds = links.map(() => [0, 0, 0]);
  for (let step = 0; ; step++) {
    const frame = from - run + step / substeps;
    if (frame > to + 1e-9) break;
    const pose = base(Math.max(from, frame));
    const start = add(pose.position, rotate(pose.orientation, root));
    let above = start;
    const before = points.map((p) => p.slice());
    links.forEach((link, n) => {
      const rest = add(above, rotate(pose.orientation, link));
      if (points[n] === undefined) points[n] = rest;
      else {
        const soft = stiffness / (1 + 0.6 * n);
        const pull = add(scale(subtract(rest, points[n]), soft), [0, -how.gravity, 0]);
        speeds[n] = add(scale(speeds[n], 1 - damping * h), scale(pull, h));
        const moved = add(points[n], scale(speeds[n], h));
        points[n] = add(above, scale(unit(subtract(moved, above)), lengths[n]));
        speeds[n] = scale(subtract(points[n], before[n]), 1 / h);
      }
      above = points[n];
    });
    if (frame >= from - 1e-9 && step % substeps === 0) {
      let carrier = pose.orientation;
      let joint = start;
      links.forEach((link, n) => {
        const wanted = rotate(inverse(carrier), subtract(points[n], joint));
        const side = Math.abs(link[0]) > Math.abs(link[1]) ? [0, 1, 0] : [1, 0, 0];
        const q = turnOntoPair(link, side, wanted, side);
        const series = result[n];
        series.push(toAngles(order, q, series[series.length - 1]));
        carrier = multiply(carrier, q);
        joint = points[n];
      });
    }
  }
  return result;
}

/**
 * A series of vectors as a function of the frame.
 * @param {number[][]} series one per frame @param {number} from frame of the first
 * @returns {(frame: number) => number[]}
 */
export function seriesAt(series, from) {
  return (frame) => {
    const i = Math.max(0, Math.min(series.length - 2, Math.floor(frame - from)));
    return mix(series[i], series[i + 1], Math.max(0, Math.min(1, frame - from - i)));
  };
}
