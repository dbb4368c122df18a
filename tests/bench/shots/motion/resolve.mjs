// @ts-check
/**
 * Keeping ends where they were after what carries them has changed.
 * @import { MotionTools, Performance, Vector } from "../types.d.ts"
 */
import { chainOfLimb, solveLimb } from "./limbs.mjs";
import { copy, figureOf } from "./performance.mjs";
import { poseAt, worldAt } from "./world.mjs";

/**
 * Solves a limb so that its end has the place and the turn that it has in `before`, bent and twisted as it is there.
 * Where nothing above it has changed, nothing changes.
 * @param {Performance} performance changed in place @param {Performance} before
 * @param {string} figure @param {number} limb index into the body's limbs
 * @param {number} from @param {number} to frames, both included
 * @param {(frame: number) => { position: Vector, quaternion: readonly number[] }} [wanted] another pose of the end
 */
export function resolve(performance, before, figure, limb, from, to, wanted) {
  const { end } = chainOfLimb(figureOf(before, figure).body.limbs[limb]);
  for (let frame = Math.max(from, before.first); frame <= Math.min(to, before.last); frame++) {
    const goal = wanted?.(frame) ?? worldAt(before, end, frame);
    solveLimb(performance, figure, limb, frame, goal.position, goal.quaternion, null, {
      reference: before,
      near: before,
    });
  }
}

/** @type {MotionTools} */
export const motionTools = { copy, poseAt, resolve };
