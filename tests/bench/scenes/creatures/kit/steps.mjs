// @ts-check
// Feet: where a foot is that stands and steps, and legs that reach it.
import { add, clamp, mix, sub, turn } from "./math.mjs";
import { heading } from "./rig.mjs";

/** @typedef {{ from: number, to: number, at: number[], yaw?: number }} Plant */

/** Starts and ends at rest. @param {number} u */
export const ease = (u) => {
  const c = clamp(u, 0, 1);
  return c * c * c * (10 - 15 * c + 6 * c * c);
};

/**
 * Where a foot's point is: on its plants, and between them on an arc.
 * @param {Plant[]} plants @param {number} f @param {number} lift height of the arc
 * @param {number} [skew] below 1 the highest point comes early
 */
export function footAt(plants, f, lift, skew = 1) {
  const first = plants[0];
  const last = plants[plants.length - 1];
  if (f <= first.to) return { at: first.at, yaw: first.yaw ?? 0, up: 0, stand: true };
  if (f >= last.from) return { at: last.at, yaw: last.yaw ?? 0, up: 0, stand: true };
  for (let i = 0; i < plants.length; i++) {
    const a = plants[i];
    if (f >= a.from && f <= a.to) return { at: a.at, yaw: a.yaw ?? 0, up: 0, stand: true };
    const b = plants[i + 1];
    if (f > a.to && f < b.from) {
      const u = (f - a.to) / (b.from - a.to);
      const e = ease(u);
      const w = u ** skew;
      const up = 16 * w * w * (1 - w) * (1 - w);
      const at = a.at.map((v, k) => mix(v, b.at[k], e));
      at[1] += lift * up;
      return { at, yaw: mix(a.yaw ?? 0, b.yaw ?? 0, e), up, stand: false, u };
    }
  }
  throw new Error("plants out of order");
}

/**
 * A cycle of plants along +z. The foot stands at z0 + n * stride for a share of each cycle.
 * @param {{ period: number, stride: number, duty: number, phase: number, x: number, z0: number, y?: number, cycles: number, start?: number }} o
 * @returns {Plant[]}
 */
export function cycle({ period, stride, duty, phase, x, z0, y = 0, cycles, start = 0 }) {
  return Array.from({ length: cycles }, (_, n) => {
    const from = start + (n - 1 + phase) * period;
    return { from, to: from + duty * period, at: [x, y, z0 + (n - 1 + phase) * stride] };
  });
}

/**
 * A leg with a foot that rolls: positive pitch lifts the heel about the ball, negative the toes about the heel.
 * @param {import('./rig.mjs').Pose} pose @param {string[]} leg thigh, shin, foot, ball @param {number[]} ball where the ball is when flat
 * @param {number} yaw @param {number} pitch @param {number[]} heel the heel in the foot's space @param {number} [out] knee's way out
 */
export function stand(pose, [thigh, shin, foot, toes], ball, yaw, pitch, heel, out = 0) {
  const ballAt = /** @type {any} */ (pose.rig.by.get(toes)).at;
  const flat = heading(yaw, 0);
  const q = heading(yaw, pitch);
  const pivotAt = pitch >= 0 ? ballAt : heel;
  const pivot = pitch >= 0 ? ball : add(ball, turn(flat, sub(heel, ballAt)));
  const ankle = sub(pivot, turn(q, pivotAt));
  pose.reach(thigh, shin, foot, ankle, turn(heading(yaw + out, 0), [0, 0, 1]));
  pose.face(foot, q);
  if (pitch > 0) pose.rot(toes, -pitch * 0.9);
  else pose.rot(toes, 0);
}

/**
 * A leg of three bones that stands on its end, as of dogs and horses. The last bone leans by its own angle.
 * @param {import('./rig.mjs').Pose} pose @param {string[]} leg upper, lower, last, end @param {number[]} tip
 * @param {number} lean of the last bone, in degrees; positive leans its top forward @param {number[]} pole
 */
export function paw(pose, [a, b, c, end], tip, lean, pole) {
  const bone = /** @type {any} */ (pose.rig.by.get(end)).at;
  const q = heading(0, lean);
  pose.reach(a, b, c, sub(tip, turn(q, bone)), pole);
  pose.face(c, q);
}
