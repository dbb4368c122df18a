// @ts-check
// Values over time that move like things with weight: softened tracks, followers that drag and swing, feet in order.

import { val } from "../../creatures/kit/curve.mjs";

/** @typedef {import('../../creatures/kit/curve.mjs').Key} Key */
/** @typedef {(f: number) => number} Drive */

/**
 * A track whose corners are rounded: the mean of the keys' curve over some frames, weighed towards the middle.
 * @param {[number, number][]} keys @param {number} [r] frames to each side
 * @returns {Drive}
 */
export function soft(keys, r = 2) {
  const n = 8;
  const parts = Array.from({ length: 2 * n + 1 }, (_, i) => {
    const u = (i - n) / n;
    return [u * r, (1 - u * u) ** 2];
  });
  const sum = parts.reduce((s, p) => s + p[1], 0);
  return (f) => parts.reduce((s, [d, w]) => s + w * val(f + d, keys), 0) / sum;
}

/**
 * What hangs on something and follows it: late, and past it before it comes to rest.
 * @param {Drive} drive @param {[number, number]} range frames @param {{ fps: number, hz: number, damp: number }} o
 * @returns {Drive}
 */
export function follow(drive, [a, b], { fps, hz, damp }) {
  const sub = 8;
  const lead = 40;
  const dt = 1 / (fps * sub);
  const w = 2 * Math.PI * hz;
  const n = (b - a + lead + 3) * sub;
  const out = new Float64Array(n);
  let x = drive(a - lead);
  let v = 0;
  for (let i = 0; i < n; i++) {
    out[i] = x;
    const goal = drive(a - lead + i / sub);
    v += (w * w * (goal - x) - 2 * damp * w * v) * dt;
    x += v * dt;
  }
  return (f) => {
    const t = Math.max(0, Math.min(n - 2, (f - a + lead) * sub));
    const i = Math.floor(t);
    return out[i] + (t - i) * (out[i + 1] - out[i]);
  };
}

/**
 * Where a foot stands in a walk that comes to rest: each time under where the body is half way through, the last for good.
 * @param {{ period: number, stand: number, first: number, stop: number, zAt: Drive, off: number, x: number, endOff?: number, end: number }} o
 *   stand: frames on the ground; first: frame of a landing; stop: no landing after this one
 */
export function walkPlants({ period, stand, first, stop, zAt, off, x, endOff = off, end }) {
  const plants = [];
  let from = first;
  while (from > -period) from -= period;
  for (; from <= stop; from += period) {
    const last = from + period > stop;
    const to = last ? end + 100 : from + stand;
    plants.push({ from, to, at: [x, 0, last ? zAt(end) + endOff : zAt((from + to) / 2) + off] });
  }
  return plants;
}
/** Stretches of plants within a shot, for the truth. @param {string} node @param {{ from: number, to: number }[]} plants @param {[number, number]} range */
export const stretches = (node, plants, [a, b]) =>
  plants
    .map((p) => ({
      node,
      frames: /** @type {[number, number]} */ ([
        Math.max(a, Math.ceil(p.from)),
        Math.min(b, Math.floor(p.to)),
      ]),
    }))
    .filter((p) => p.frames[1] > p.frames[0]);

/** A value that wanders a little and never repeats: breath and small shifts of what holds still. @param {number} f @param {number} period frames @param {number} [seed] */
export const drift = (f, period, seed = 0) =>
  0.7 * Math.sin((2 * Math.PI * f) / period + seed) +
  0.3 * Math.sin((2 * Math.PI * f) / (period * 0.618) + 2.1 * seed + 1);
