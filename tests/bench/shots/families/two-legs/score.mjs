// @ts-check
/**
 * A score: what a figure is to do, as channels over time. A channel is a sum of eased moves and waves, all smooth, so
 * that one action flows into the next and no join of two actions can jump. Channels are the solver's (see pose.mjs).
 */
import { minimumJerk } from "../../../../../demo/motion/moves.mjs";

/** A time at which all moves are over. */
const after = 1e9;

export class Score {
  /** @type {Map<string, ((frame: number) => number)[]>} what is done */
  #moves = new Map();
  /** @type {Map<string, ((frame: number) => number)[]>} what goes on by itself: breath, sway */
  #idle = new Map();

  /** Value of a channel at any frame. @param {string} channel @param {number} frame */
  at(channel, frame) {
    let value = 0;
    for (const part of this.#moves.get(channel) ?? []) value += part(frame);
    for (const part of this.#idle.get(channel) ?? []) value += part(frame);
    return value;
  }

  /** Value when all that is planned so far is over, without breath and sway. @param {string} channel */
  end(channel) {
    let value = 0;
    for (const part of this.#moves.get(channel) ?? []) value += part(after);
    return value;
  }

  /** Adds a course; it must hold still from some frame on. @param {string} channel @param {(frame: number) => number} course */
  add(channel, course) {
    const list = this.#moves.get(channel);
    if (list === undefined) this.#moves.set(channel, [course]);
    else list.push(course);
  }

  /** Adds what never rests. @param {string} channel @param {(frame: number) => number} course */
  addIdle(channel, course) {
    this.#idle.set(channel, [...(this.#idle.get(channel) ?? []), course]);
  }

  /** Starts a channel somewhere. @param {string} channel @param {number} value */
  set(channel, value) {
    const off = value - this.end(channel);
    this.add(channel, () => off);
  }

  /** An eased move by an amount. @param {string} channel @param {number} from @param {number} to @param {number} amount */
  by(channel, from, to, amount) {
    if (Math.abs(amount) > 1e-12) {
      this.add(channel, (frame) => amount * minimumJerk((frame - from) / (to - from)));
    }
  }

  /** An eased move to a value, from wherever the channel will be. @param {string} channel @param {number} from
   * @param {number} to @param {number} value */
  to(channel, from, to, value) {
    this.by(channel, from, to, value - this.end(channel));
  }

  /** There and back. @param {string} channel @param {number} from @param {number} peak @param {number} to
   * @param {number} amount */
  bump(channel, from, peak, to, amount) {
    this.by(channel, from, peak, amount);
    this.by(channel, peak, to, -amount);
  }
}

/**
 * A ramp (0, then a slope of 1) whose corner is rounded over `width` frames to both sides: the integral of minimum jerk.
 * @param {number} u frames from the corner @param {number} width
 */
export function roundedRamp(u, width) {
  if (u <= -width) return 0;
  if (u >= width) return u;
  const t = (u + width) / (2 * width);
  return 2 * width * t * t * t * t * (2.5 + t * (t - 3));
}

/**
 * A path through knots, straight between them, its corners rounded. It is smooth, never leaves the knots' range, and
 * rests before the first and after the last.
 * @param {{ frame: number, value: number, width: number }[]} knots in order of time
 * @returns {(frame: number) => number}
 */
export function roundedPath(knots) {
  const slopes = knots
    .slice(1)
    .map((knot, n) => (knot.value - knots[n].value) / (knot.frame - knots[n].frame));
  const corners = knots.map((knot, n) => ({
    frame: knot.frame,
    width: knot.width,
    turn: (slopes[n] ?? 0) - (slopes[n - 1] ?? 0),
  }));
  const last = knots[knots.length - 1];
  const settled = last.frame + Math.max(...knots.map(({ width }) => width)) + 1;
  return (frame) => {
    // Beyond the last corner the ramps cancel each other; summing them up far away would lose digits.
    if (frame >= settled) return last.value;
    let value = knots[0].value;
    for (const corner of corners) value += corner.turn * roundedRamp(frame - corner.frame, corner.width);
    return value;
  };
}

/**
 * One fifth-order polynomial from given value, speed and acceleration to others, per frame.
 * @param {number} from @param {number} to frames
 * @param {[value: number, speed: number, acceleration?: number]} a @param {[value: number, speed: number, acceleration?: number]} b
 * @returns {(frame: number) => number} held at its ends outside
 */
export function quintic(from, to, a, b) {
  const T = to - from;
  const [v0, v1] = [a[1] * T, b[1] * T];
  const [a0, a1] = [(a[2] ?? 0) * T * T, (b[2] ?? 0) * T * T];
  const d = b[0] - a[0];
  const c3 = 10 * d - 6 * v0 - 4 * v1 - 1.5 * a0 + 0.5 * a1;
  const c4 = -15 * d + 8 * v0 + 7 * v1 + 1.5 * a0 - a1;
  const c5 = 6 * d - 3 * v0 - 3 * v1 - 0.5 * a0 + 0.5 * a1;
  return (frame) => {
    const t = Math.max(0, Math.min(1, (frame - from) / T));
    return a[0] + t * (v0 + t * (a0 / 2 + t * (c3 + t * (c4 + t * c5))));
  };
}
