// @ts-check
/**
 * What shots of bodies without legs share.
 * @import { Body, Event, Random } from "../../../types.d.ts"
 */
import { laneOf } from "../tools/engine.mjs";
import { Lane } from "../tools/lane.mjs";

/**
 * @param {Random} random @param {number} frames
 * @param {(random: Random, prefix: string) => Body} make
 * @param {string} name the figure's
 */
export function plainStage(random, frames, make, name) {
  const prefix = random.chance(0.5) ? "" : `${name}_`;
  const body = make(random.fork("body"), prefix);
  const rate = random.pick([24, 24, 25, 30]);
  const first = random.pick([1, 1, 101]);
  /** @type {Map<string, Lane>} */
  const lanes = new Map();
  /** @type {Event[]} */
  const events = [];
  return {
    body,
    id: name,
    rate,
    first,
    frames,
    last: first + frames - 1,
    size: body.stature,
    lanes,
    events,
    random,
    own: random.fork("living"),
    named: (/** @type {string} */ id) => `${prefix}${id}`,
    lane: (/** @type {string} */ joint, /** @type {string} */ axis) =>
      laneOf(lanes, `${prefix}${joint}`, axis),
    /** An event of a move. @param {string} title @param {string[]} joints @param {number} from @param {number} to */
    moved(title, joints, from, to) {
      const [start, end] = [Math.round(from), Math.min(first + frames - 1, Math.round(to))];
      if (end - start < 3) return;
      events.push({
        kind: "move",
        name: title,
        figure: name,
        joints: joints.map((id) => `${prefix}${id}`),
        from: start,
        peak: Math.round((start + end) / 2),
        to: end,
      });
    },
    /** An event of a moving hold. @param {string[]} joints @param {number} from @param {number} to */
    held(joints, from, to) {
      const [start, end] = [Math.round(from), Math.min(first + frames - 1, Math.round(to))];
      if (end - start < 6) return;
      events.push({
        kind: "hold",
        figure: name,
        joints: joints.map((id) => `${prefix}${id}`),
        from: start,
        to: end,
        moving: true,
      });
    },
  };
}
