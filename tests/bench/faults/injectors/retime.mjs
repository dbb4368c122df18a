/** Courses of a joint that keep their way and change their time. */
import { curveAt, rekeyed } from "../keyed.mjs";
import { ownTurn } from "./places.mjs";

const fine = 8;

/** Way gone from `from` on, by time, in the length of the change of all curves' values. */
function wayOf(curves, from, to) {
  const way = [0];
  for (let i = 1; i <= (to - from) * fine; i++) {
    way.push(way[i - 1] + ownTurn(curves, from + (i - 1) / fine, from + i / fine));
  }
  return way;
}

/**
 * Curves that go the same way from `from` to `to`, but are at other shares of it on the frames between.
 * @param {(frame: number) => number} share of the way, 0 to 1, that is gone at a frame
 */
export function paced(curves, from, to, share) {
  const way = wayOf(curves, from, to);
  const whole = way[way.length - 1];
  const time = (frame) => {
    const wanted = Math.max(0, Math.min(1, share(frame))) * whole;
    let i = way.findIndex((gone) => gone >= wanted - 1e-12);
    if (i < 0) i = way.length - 1;
    if (i === 0) return from;
    const part = way[i] > way[i - 1] ? (wanted - way[i - 1]) / (way[i] - way[i - 1]) : 1;
    return from + (i - 1 + part) / fine;
  };
  return curves.map((curve) => rekeyed(curve, from, to, (frame) => curveAt(curve, time(frame))));
}

/** Share of the way that is gone at each frame as the curves stand. */
export function shareAt(curves, from, to) {
  const way = wayOf(curves, from, to);
  return (frame) =>
    way[Math.max(0, Math.min(way.length - 1, Math.round((frame - from) * fine)))] / way[way.length - 1];
}

/** Curves that are `late(frame)` frames behind themselves. */
export function delayed(curves, from, to, late) {
  return curves.map((curve) => rekeyed(curve, from, to, (frame) => curveAt(curve, frame - late(frame))));
}
