// @ts-check
/**
 * Turning the joints of a limb a little so that its end comes to another place.
 * @import { KeyedCurve } from "../../types.d.ts"
 * @import { Channels, Lever } from "./local.mjs"
 */
import { add, length, scale, subtract } from "../../../../../demo/motion/vector.mjs";
import { chainEnd } from "./local.mjs";

/** Poses with channels changed on one frame. @param {Channels} poses @param {ReadonlyMap<string, number>} by name of the curve → how much @returns {Channels} */
const nudged = (poses, by) => ({
  ...poses,
  channel: (joint, channel, frame) =>
    poses.channel(joint, channel, frame) + (by.get(`${joint} ${channel}`) ?? 0),
});

/**
 * Changes of channels that bring the end of a chain to a target: damped least squares, small turns first.
 * @param {Channels} poses @param {Lever} lever @param {readonly KeyedCurve[]} curves whose channels may change
 * @param {number} frame @param {readonly number[]} target in the frame of what carries the chain
 * @returns {{ by: Map<string, number>, missed: number }} per curve, and metres that are left
 */
export function bringEnd(poses, lever, curves, frame, target) {
  const names = curves.map(({ joint, channel }) => `${joint} ${channel}`);
  const joints = [...new Set(curves.map(({ joint }) => joint))];
  const reach = length(lever.end) + lever.chain.slice(1).reduce((sum, { at }) => sum + Math.hypot(...at), 0);
  // A degree turns the end by a sixtieth of the reach: places are weighed alike.
  const units = curves.map(({ channel }) => (channel.startsWith("rotation") ? 1 : reach / 60));
  /** @type {Map<string, number>} */
  const by = new Map(names.map((name) => [name, 0]));
  const endAt = () => chainEnd(nudged(poses, by), poses, lever, joints, frame);
  let end = endAt();
  for (let round = 0; round < 10; round++) {
    const error = subtract([...target], end);
    if (length(error) < 1e-5) break;
    const columns = names.map((name, n) => {
      const before = by.get(name) ?? 0;
      by.set(name, before + 0.1 * units[n]);
      const moved = endAt();
      by.set(name, before);
      return scale(subtract(moved, end), 10);
    });
    const step = solveSymmetric(columns, error, (0.02 * reach) / 60);
    names.forEach((name, n) => {
      const [x, y, z] = columns[n];
      const turn = x * step[0] + y * step[1] + z * step[2];
      by.set(name, (by.get(name) ?? 0) + units[n] * Math.max(-20, Math.min(20, turn)));
    });
    end = endAt();
  }
  return { by, missed: length(subtract([...target], end)) };
}

/** y in (J·Jᵀ + d²) y = e, by Cramer's rule. @param {number[][]} columns of J @param {number[]} e @param {number} d */
function solveSymmetric(columns, e, d) {
  const m = [0, 1, 2].map((i) =>
    [0, 1, 2].map((j) => columns.reduce((sum, c) => sum + c[i] * c[j], i === j ? d * d : 0)),
  );
  const determinant = (/** @type {number[][]} */ [a, b, c]) =>
    a[0] * (b[1] * c[2] - b[2] * c[1]) -
    a[1] * (b[0] * c[2] - b[2] * c[0]) +
    a[2] * (b[0] * c[1] - b[1] * c[0]);
  const whole = determinant(m) || 1e-30;
  return [0, 1, 2].map(
    (k) => determinant(m.map((row, i) => row.map((value, j) => (j === k ? e[i] : value)))) / whole,
  );
}

/** A point beside another. @param {readonly number[]} from @param {readonly number[]} way @param {number} by */
export const beside = (from, way, by) => add([...from], scale([...way], by));
