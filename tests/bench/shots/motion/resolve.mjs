// @ts-check
/**
 * Keeping ends where they were after what carries them has changed.
 * @import { MotionTools, Performance } from "../types.d.ts"
 * @import { Carried } from "./limbs.mjs"
 */
import { chainOfLimb, solveLimb } from "./limbs.mjs";
import { copy, figureOf } from "./performance.mjs";
import { rigOf } from "./rig.mjs";
import { poseAt, sourceOf, worldSeries } from "./world.mjs";

/**
 * Solves a limb so that its end has the place and the turn that it has in `before`, bent and twisted as it is there.
 * Where nothing above it has changed, nothing changes.
 * @param {Performance} performance changed in place @param {Performance} before
 * @param {string} figure @param {number} limb index into the body's limbs
 * @param {number} from @param {number} to frames, both included
 * @param {(frame: number) => Carried} [wanted] another pose of the end
 */
export function resolve(performance, before, figure, limb, from, to, wanted) {
  const { turned, end } = chainOfLimb(figureOf(before, figure).body.limbs[limb]);
  const rig = rigOf(performance);
  const was = worldSeries(sourceOf(before));
  const top = rig.require(turned[0]);
  const [goals, carriers] = [rig.require(end), top].map((joint) => posesIn(was(joint), before.first));
  const above = rig.parent[top];
  const bases = above < 0 ? null : posesIn(worldSeries(sourceOf(performance))(above), performance.first);
  for (let frame = Math.max(from, before.first); frame <= Math.min(to, before.last); frame++) {
    const goal = wanted?.(frame) ?? goals(frame);
    solveLimb(performance, figure, limb, frame, goal.position, goal.quaternion, null, {
      reference: before,
      near: before,
      carrier: carriers(frame).quaternion,
      ...(bases === null ? {} : { base: bases(frame) }),
    });
  }
}

/** @param {import("./world.mjs").Series} series @param {number} first @returns {(frame: number) => Carried} */
function posesIn({ position, orientation }, first) {
  return (frame) => {
    const [p, q] = [3 * (frame - first), 4 * (frame - first)];
    return {
      position: [position[p], position[p + 1], position[p + 2]],
      quaternion: [orientation[q], orientation[q + 1], orientation[q + 2], orientation[q + 3]],
    };
  };
}

/** @type {MotionTools} */
export const motionTools = { copy, poseAt, resolve };
