// @ts-check
// What both fencers' poses are written with.
import { track } from "../../people/kit/curve.mjs";
import { cross, dot, fromAxes, mul, norm, sub } from "../../people/kit/math.mjs";

export const LAST = 84;
export const POSES = [1, 9, 14, 17, 22, 26, 33, 37, 40, 48, 58, 70];

/** The turn of a right hand whose blade and fingers point so. @param {number[]} blade @param {number[]} fingers */
export function grip(blade, fingers) {
  const z = norm(blade);
  const y = mul(norm(sub(fingers, mul(z, dot(fingers, z)))), -1);
  return fromAxes(cross(y, z), y, z);
}
/** Hands from rows of place, blade and fingers by frame. @param {Record<number, number[][]>} rows */
export function sword(rows) {
  const at = track(Object.fromEntries(Object.entries(rows).map(([f, r]) => [f, r[0]])));
  const last = (/** @type {number} */ f) =>
    rows[
      Math.max(
        ...Object.keys(rows)
          .map(Number)
          .filter((k) => k <= f),
      )
    ];
  return {
    w: { 1: 1, [LAST]: 1 },
    at,
    rot: (/** @type {number} */ f) => grip(last(f)[1], last(f)[2]),
    pole: [-0.6, -0.7, -0.3],
  };
}
/** Frames against the values of all poses. @param {any[]} values */
export const posed = (values) => Object.fromEntries(values.map((v, i) => [POSES[i], v]));
