// @ts-check
/**
 * How a value goes from one place to another: eased moves, paths with given speeds, flights.
 * Everything here is a function of the frame (fractions allowed).
 * @typedef {(frame: number) => number} Track
 */

/**
 * Minimum-jerk course of a move from 0 to 1 (Flash & Hogan 1985): 10τ³ − 15τ⁴ + 6τ⁵.
 * @param {number} tau share of the move's time, held at its ends outside 0 to 1
 */
export function minimumJerk(tau) {
  if (tau <= 0) return 0;
  if (tau >= 1) return 1;
  return tau * tau * tau * (10 + tau * (6 * tau - 15));
}

/**
 * A value that is changed by eased moves, which may overlap: they add up, so that one flows into the next.
 * A slow small move over a pause makes it a moving hold.
 * @param {number} start the value before the first move
 * @param {...[from: number, to: number, by: number]} list first and last frame, and by how much
 * @returns {Track}
 */
export function moves(start, ...list) {
  return (frame) => {
    let value = start;
    for (const [from, to, by] of list) value += by * minimumJerk((frame - from) / (to - from));
    return value;
  };
}

/**
 * A path through knots of which place, speed and acceleration are given: one fifth-order polynomial between each two.
 * @param {number} rate frames per second
 * @param {{ frame: number, at: number, speed?: number, acceleration?: number }[]} knots per second, not per frame
 * @returns {Track}
 */
export function pathThrough(rate, knots) {
  return (frame) => {
    if (frame <= knots[0].frame) return knots[0].at;
    const next = knots.findIndex((knot) => knot.frame >= frame);
    if (next < 0) return knots[knots.length - 1].at;
    const p = knots[next - 1];
    const q = knots[next];
    const T = (q.frame - p.frame) / rate;
    const t = (frame - p.frame) / (q.frame - p.frame);
    const v0 = (p.speed ?? 0) * T;
    const v1 = (q.speed ?? 0) * T;
    const a0 = (p.acceleration ?? 0) * T * T;
    const a1 = (q.acceleration ?? 0) * T * T;
    const d = q.at - p.at;
    const c3 = 10 * d - 6 * v0 - 4 * v1 - 1.5 * a0 + 0.5 * a1;
    const c4 = -15 * d + 8 * v0 + 7 * v1 + 1.5 * a0 - a1;
    const c5 = 6 * d - 3 * v0 - 3 * v1 - 0.5 * a0 + 0.5 * a1;
    return p.at + t * (v0 + t * (a0 / 2 + t * (c3 + t * (c4 + t * c5))));
  };
}

/** Standard gravity (CGPM 1901), in centimetres per second squared. */
export const gravity = 980.665;

/**
 * Speeds at the ends of a flight from one height to another.
 * @param {number} seconds time in the air @param {number} from height at take-off @param {number} to at landing
 * @param {number} [pull] gravity in the same length unit, per second squared
 */
export function flightSpeeds(seconds, from, to, pull = gravity) {
  const takeOff = (to - from) / seconds + (pull * seconds) / 2;
  return { takeOff, landing: takeOff - pull * seconds };
}

/**
 * A wave that swells and fades: amplitude · cos(phase), both functions of the frame.
 * @param {Track} amplitude @param {Track} phase in radians
 * @returns {Track}
 */
export const wave = (amplitude, phase) => (frame) => amplitude(frame) * Math.cos(phase(frame));

/**
 * The same course some frames later.
 * @param {Track} track @param {number} frames @returns {Track}
 */
export const later = (track, frames) => (frame) => track(frame - frames);

/** Adds tracks and numbers. @param {...(Track | number)} parts @returns {Track} */
export const sum =
  (...parts) =>
  (frame) =>
    parts.reduce(
      (/** @type {number} */ total, part) => total + (typeof part === "number" ? part : part(frame)),
      0,
    );

/** Multiplies a track. @param {Track} track @param {number} by @returns {Track} */
export const times = (track, by) => (frame) => by * track(frame);
