// @ts-check
/**
 * Which planned fault is the biggest, and whether the first notes say it.
 * @import { Poses } from "../types.d.ts"
 * @import { NoteView } from "./records.d.ts"
 */

/**
 * How far joints are from where they would be without a fault: largest distance of any joint, in statures of its
 * figure, times the square root of the fault's frames. A fault that lasts is seen better, with less and less gain.
 * @param {Poses} full @param {Poses} without @param {number} frames
 */
export const weightOf = (full, without, frames) => largestMove(full, without) * Math.sqrt(frames);

/**
 * Largest distance of any joint between two versions of a shot, in statures of its figure.
 * @param {Poses} a @param {Poses} b
 * @param {(figure: string, frame: number) => boolean} [counts] which figures on which frames
 */
export function largestMove(a, b, counts = () => true) {
  let largest = 0;
  for (const { id, body } of a.performance.figures) {
    for (let frame = a.first; frame < a.first + a.count; frame++) {
      if (!counts(id, frame)) continue;
      for (const joint of body.joints) {
        const [p, q] = [a.position(joint.id, frame), b.position(joint.id, frame)];
        const distance = Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) / body.stature;
        if (distance > largest) largest = distance;
      }
    }
  }
  return largest;
}

/**
 * Place in the list of the first note that says the biggest fault.
 * @param {readonly number[]} weights of the faults
 * @param {readonly (readonly NoteView[])[]} saying per fault, the notes that say it
 * @returns {{ fault: number, saidBy: number | null } | null} index of the fault; index of the note, 0 for the first
 */
export function biggestFault(weights, saying) {
  const top = Math.max(...weights);
  if (!(top > 0)) return null;
  const fault = weights.indexOf(top);
  const ranks = saying[fault].map(({ index }) => index);
  return { fault, saidBy: ranks.length === 0 ? null : Math.min(...ranks) };
}
