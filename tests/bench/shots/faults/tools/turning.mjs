// @ts-check
/**
 * How much parts turn against what carries them: by quaternions, so that no order of angles counts.
 * @import { Performance, Poses } from "../../types.d.ts"
 */
import { inverse, multiply } from "../../../../../demo/motion/vector.mjs";
import { worldAt } from "../../motion/index.mjs";
import { over } from "./windows.mjs";

const degrees = 180 / Math.PI;

/** @typedef {(joint: string, frame: number) => number[]} Turns world turns of joints */

/** @param {Poses} poses @returns {Turns} */
export const turnsIn = (poses) => (joint, frame) => poses.orientation(joint, frame);
/** @param {Performance} performance @returns {Turns} */
export const turnsOn = (performance) => (joint, frame) => [...worldAt(performance, joint, frame).quaternion];

/** Degrees between two turns. @param {readonly number[]} a @param {readonly number[]} b */
export function apart(a, b) {
  const same = Math.abs(a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3]);
  return 2 * Math.acos(Math.min(1, same)) * degrees;
}

/** The turn of a joint in the space of another, or in the world. @param {Turns} turns @param {string} joint
 * @param {string | null} base @param {number} frame */
export const against = (turns, joint, base, frame) =>
  base === null ? turns(joint, frame) : multiply(inverse(turns(base, frame)), turns(joint, frame));

/**
 * By how many degrees a joint swings against another over some frames: the root of the mean square about the mean turn.
 * @param {Turns} turns @param {string} joint @param {string | null} base @param {number} from @param {number} to
 */
export function swingOf(turns, joint, base, from, to) {
  const all = over(from, to, (frame) => against(turns, joint, base, frame));
  const mean = [0, 0, 0, 0];
  for (const one of all) {
    const sign =
      one[0] * all[0][0] + one[1] * all[0][1] + one[2] * all[0][2] + one[3] * all[0][3] < 0 ? -1 : 1;
    for (let k = 0; k < 4; k++) mean[k] += sign * one[k];
  }
  const size = Math.hypot(...mean) || 1;
  const centre = mean.map((value) => value / size);
  return Math.sqrt(all.reduce((sum, one) => sum + apart(one, centre) ** 2, 0) / all.length);
}

/** Greatest turn of a joint away from where it is on the first frame, degrees. @param {Turns} turns @param {string} joint
 * @param {string | null} base @param {number} from @param {number} to */
export function rangeOf(turns, joint, base, from, to) {
  const start = against(turns, joint, base, from);
  return Math.max(...over(from, to, (frame) => apart(against(turns, joint, base, frame), start)));
}

/** The same turn on the other side of the body: x is to the left. @param {readonly number[]} turn */
export const mirrored = ([x, y, z, w]) => [x, -y, -z, w];
