// @ts-check
/**
 * Eased moves and holds on the dense table, each with the event that tells of it.
 * @import { ChannelName, Performance, Random } from "../types.d.ts"
 */
import { minimumJerk } from "../../../../demo/motion/moves.mjs";
import { addTrack } from "./performance.mjs";

export { minimumJerk } from "../../../../demo/motion/moves.mjs";

/**
 * An eased course from 0 to 1, at rest at both ends: minimum jerk (Flash & Hogan 1985), its half-way point shifted.
 * @param {number} tau share of the move's time; outside of 0 to 1 it holds
 * @param {number} [half] share of the time at which half of the way is done, 0.3 to 0.7: 0.5 is minimum jerk itself,
 *   less a quick start with a long ease-out, more a long ease-in. Speed and acceleration are 0 at both ends for any.
 * @returns {number}
 */
export function eased(tau, half = 0.5) {
  if (half === 0.5) return minimumJerk(tau);
  if (half < 0.5) return 1 - eased(1 - tau, 1 - half);
  return tau <= 0 ? 0 : minimumJerk(tau ** (Math.LN2 / -Math.log(half)));
}

/**
 * One channel's part in a gesture.
 * @typedef {object} Part
 * @property {string} joint
 * @property {ChannelName} channel
 * @property {number} by change: degrees or metres
 * @property {number} [offset] frames after the gesture's start at which this part starts (overlap)
 * @property {number} [frames] how long this part takes; the gesture's own length if left out
 * @property {number} [half] see `eased`; the gesture's own if left out
 */

/**
 * Adds a gesture: each part goes from where it is by its change, eased, and stays there. Gestures add up, so that they may
 * overlap; one that returns is two gestures. Records a `move` event over all its parts.
 * @param {Performance} performance
 * @param {object} gesture
 * @param {string} gesture.name @param {string} gesture.figure
 * @param {number} gesture.from first frame (rest), @param {number} gesture.to last frame (rest) of a part without offset
 * @param {readonly Part[]} gesture.parts
 * @param {number} [gesture.limb] index into the body's limbs, for the event
 * @param {number} [gesture.half] see `eased`
 * @returns {{ from: number, peak: number, to: number }} the frames of the event, within the table
 */
export function addGesture(performance, { name, figure, from, to, parts, limb, half = 0.5 }) {
  let [start, end] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const part of parts) {
    const begin = from + (part.offset ?? 0);
    const frames = part.frames ?? to - from;
    addTrack(
      performance,
      part.joint,
      part.channel,
      (frame) => part.by * eased((frame - begin) / frames, part.half ?? half),
    );
    start = Math.min(start, begin);
    end = Math.max(end, begin + frames);
  }
  const clamped = (/** @type {number} */ frame) =>
    Math.max(performance.first, Math.min(performance.last, Math.round(frame)));
  const event = {
    from: clamped(start),
    peak: clamped(from + half * (to - from)),
    to: clamped(end),
  };
  const joints = [...new Set(parts.map(({ joint }) => joint))];
  performance.events.push({
    kind: "move",
    name,
    figure,
    joints,
    ...(limb === undefined ? {} : { limb }),
    ...event,
  });
  return event;
}

/**
 * Slow wandering of a living body at rest: two sines of 0.1 to 0.35 Hz per channel with phases of their own, faded in and
 * out over 12 frames, so that it adds up with whatever stands there. Records a `hold` event unless told not to.
 * @param {Performance} performance
 * @param {object} hold
 * @param {string} hold.figure
 * @param {readonly { joint: string, channel: ChannelName, by: number }[]} hold.parts `by`: half of the way that a channel
 *   wanders; tenths of degrees or a few millimetres
 * @param {number} hold.from @param {number} hold.to first and last frame
 * @param {Random} hold.random
 * @param {boolean} [hold.records] whether the event is recorded (true)
 */
export function addMovingHold(performance, { figure, parts, from, to, random, records = true }) {
  for (const { joint, channel, by } of parts) {
    const waves = [0.72, 0.28].map((share) => ({
      share: share * by,
      pace: (2 * Math.PI * random.between(0.1, share > 0.5 ? 0.2 : 0.35)) / performance.rate,
      phase: random.between(0, 2 * Math.PI),
    }));
    addTrack(performance, joint, channel, (frame) => {
      let sum = 0;
      for (const { share, pace, phase } of waves) sum += share * Math.sin(pace * (frame - from) + phase);
      return sum * fade(frame, from, to, performance);
    });
  }
  if (records) {
    const joints = [...new Set(parts.map(({ joint }) => joint))];
    performance.events.push({ kind: "hold", figure, joints, from, to, moving: true });
  }
}

/** 0 to 1 to 0 over 12 frames at each end; at the ends of the table there is nothing to fade from.
 * @param {number} frame @param {number} from @param {number} to @param {Performance} performance */
function fade(frame, from, to, { first, last }) {
  const start = from <= first ? 1 : minimumJerk((frame - from) / 12);
  const end = to >= last ? 1 : minimumJerk((to - frame) / 12);
  return start * end;
}

/**
 * Breath over the whole table: a quick inhale and a slower exhale (about 2 to 3 in time), every breath a little different
 * in depth and length.
 * @param {Performance} performance
 * @param {object} breath
 * @param {readonly { joint: string, channel: ChannelName, by: number, lag?: number }[]} breath.parts change of each channel
 *   at the top of a breath; `lag` in frames behind the first
 * @param {number} [breath.perMinute] 12 to 20 in a grown person at rest (common clinical range); 15 if left out
 * @param {Random} breath.random
 */
export function addBreath(performance, { parts, perMinute = 15, random }) {
  const { first, last, rate } = performance;
  const usual = (60 * rate) / perMinute;
  /** @type {{ from: number, top: number, to: number, depth: number }[]} */
  const breaths = [];
  for (let from = first - usual * random.between(0.2, 1.5); from < last + 2 * usual; ) {
    const frames = usual * random.between(0.88, 1.14);
    const top = from + frames * random.between(0.37, 0.43);
    breaths.push({ from, top, to: from + frames, depth: random.between(0.8, 1.2) });
    from += frames;
  }
  for (const { joint, channel, by, lag = 0 } of parts) {
    addTrack(performance, joint, channel, (frame) => {
      const at = frame - lag;
      for (const { from, top, to, depth } of breaths) {
        if (at < from || at >= to) continue;
        return (
          by *
          depth *
          (at < top ? minimumJerk((at - from) / (top - from)) : minimumJerk((to - at) / (to - top)))
        );
      }
      return 0;
    });
  }
}
