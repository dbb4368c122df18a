// @ts-check
// Bodies under way: how far they got, where their feet are set down, and legs in a row.

import { foreOf, hindOf } from "./bodies.mjs";
import { clamp } from "./math.mjs";
import { footAt, paw } from "./steps.mjs";

/** Distance at a steady speed until f0, slowing to a stand at f1. @param {number} f @param {number} v per frame @param {number} f0 @param {number} f1 @param {number} [start] */
export function runOut(f, v, f0, f1, start = 1) {
  if (f <= f0) return v * (f - start);
  const u = clamp((f - f0) / (f1 - f0), 0, 1);
  return v * (f0 - start) + v * (f1 - f0) * (u - u ** 3 + u ** 4 / 2);
}
/** Distance from a stand at f0, up to a steady speed at f1. @param {number} f @param {number} v @param {number} f0 @param {number} f1 */
export function runUp(f, v, f0, f1) {
  if (f >= f1) return (v * (f1 - f0)) / 2 + v * (f - f1);
  const u = clamp((f - f0) / (f1 - f0), 0, 1);
  return v * (f1 - f0) * (u ** 3 - u ** 4 / 2);
}
/**
 * Plants at given times, each set down under where the body will be half way through.
 * @param {[number, number][]} times @param {(f: number) => number} zAt @param {number} off @param {number} x @param {number} [y]
 */
export const laid = (times, zAt, off, x, y = 0) =>
  times.map(([from, to]) => ({ from, to, at: [x, y, zAt((from + to) / 2) + off] }));

/**
 * The four legs of a beast that goes along +z.
 * @param {import('./rig.mjs').Pose} pose @param {number} f @param {Record<string, import('./steps.mjs').Plant[]>} plants by hindL, foreL, hindR, foreR
 * @param {{ hip: number, lift: number, hindLean?: number, foreLean?: number, fold?: number, lifts?: Record<string, number> }} o
 */
export function fourLegs(pose, f, plants, { hip, lift, hindLean = 4, foreLean = 0, fold = 45, lifts = {} }) {
  for (const side of ["L", "R"]) {
    for (const [end, leg, base, pole] of /** @type {[string, string[], number, number[]][]} */ ([
      ["hind", hindOf(side), hindLean, [0, 0, 1]],
      ["fore", foreOf(side), foreLean, [0, 0, -1]],
    ])) {
      const step = footAt(plants[end + side], f, lifts[end + side] ?? lift, 0.85);
      const top = pose.world(leg[0]).p;
      const lean = base + (40 * (top[2] - step.at[2])) / hip + fold * step.up;
      paw(pose, leg, step.at, lean, pole);
    }
  }
}
/** A wave along a chain: each joint does what the one before did, later. @param {import('./rig.mjs').Pose} pose @param {string[]} chain @param {number} f @param {number} late @param {(f: number, i: number) => number[]} turn */
export function trail(pose, chain, f, late, turn) {
  chain.forEach((id, i) => {
    const [x, y, z] = turn(f - late * (i + 1), i);
    pose.rot(id, x, y, z);
  });
}
