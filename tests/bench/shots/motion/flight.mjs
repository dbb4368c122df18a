// @ts-check
/**
 * Where the centre of mass goes: flights, and putting a body so that its mass is where it should be.
 * @import { Performance, Vector } from "../types.d.ts"
 */
import { figureOf, trackOf } from "./performance.mjs";
import { massCentreAt } from "./world.mjs";

/** Standard gravity (CGPM 1901), metres per second squared. */
export const gravity = 9.80665;

/**
 * A free flight from one place of the centre of mass to another.
 * @param {number} rate frames per second
 * @param {number} from @param {number} to frames of the two places
 * @param {readonly number[]} start @param {readonly number[]} end metres
 * @returns {{ at: (frame: number) => Vector, velocity: (frame: number) => Vector, apex: number }} place and velocity (per
 *   second); `apex` is the highest frame, a fraction, which may lie outside of the flight
 */
export function flightCourse(rate, from, to, start, end) {
  const time = (to - from) / rate;
  const speed = [0, 1, 2].map((axis) => (end[axis] - start[axis]) / time);
  speed[1] += (gravity * time) / 2;
  const seconds = (/** @type {number} */ frame) => (frame - from) / rate;
  return {
    at: (frame) => {
      const t = seconds(frame);
      return [
        start[0] + speed[0] * t,
        start[1] + speed[1] * t - (gravity * t * t) / 2,
        start[2] + speed[2] * t,
      ];
    },
    velocity: (frame) => [speed[0], speed[1] - gravity * seconds(frame), speed[2]],
    apex: from + (speed[1] / gravity) * rate,
  };
}

/** How long a flight takes that rises by `height` and falls back as far, in seconds: √(8h/g).
 * @param {number} height metres */
export const flightTime = (height) => Math.sqrt((8 * height) / gravity);

/**
 * Moves a figure's root on a frame so that its centre of mass is at a place; null leaves an axis alone. All joints hang on
 * the root, so that one step is exact.
 * @param {Performance} performance @param {string} figure @param {number} frame
 * @param {readonly (number | null)[]} wanted metres
 */
export function placeMassCentre(performance, figure, frame, wanted) {
  const { root } = figureOf(performance, figure).body;
  const now = massCentreAt(performance, figure, frame);
  for (const axis of [0, 1, 2]) {
    const goal = wanted[axis];
    if (goal === null) continue;
    const name = /** @type {const} */ (["translation.x", "translation.y", "translation.z"])[axis];
    trackOf(performance, root, name)[frame - performance.first] += goal - now[axis];
  }
}

/**
 * Lets a figure fly: gravity alone takes its centre of mass from where it is on `from` to where it is on `to` (or to `end`),
 * however its joints are turned on the way. `from` is the last frame with support, `to` the first one with support again;
 * the event names the frames between. Turn the joints first, and set limbs afterwards that reach for the ground.
 * @param {Performance} performance @param {string} figure @param {number} from @param {number} to
 * @param {readonly number[]} [end] place of the centre of mass on `to`
 * @returns {ReturnType<typeof flightCourse>} its velocities are those that the push has to reach and the landing has to take up
 */
export function addFlight(performance, figure, from, to, end = massCentreAt(performance, figure, to)) {
  const course = flightCourse(performance.rate, from, to, massCentreAt(performance, figure, from), end);
  for (let frame = from + 1; frame <= to; frame++)
    placeMassCentre(performance, figure, frame, course.at(frame));
  performance.events.push({ kind: "flight", figure, from: from + 1, to: to - 1 });
  return course;
}
