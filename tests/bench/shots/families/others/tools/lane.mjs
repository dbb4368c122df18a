// @ts-check
/** A channel's course over a shot: a start, eased moves and waves that add up. */
import { minimumJerk } from "../../../../../../demo/motion/moves.mjs";

export class Lane {
  /** @type {((frame: number) => number)[]} */
  #parts = [];

  /** An eased move by an amount; the value stays there. @param {number} from @param {number} to @param {number} by */
  move(from, to, by) {
    if (by !== 0) this.#parts.push((frame) => by * minimumJerk((frame - from) / (to - from)));
    return this;
  }

  /** There and back: rises to `by` at the peak, is gone at `to`. @param {number} from @param {number} peak
   * @param {number} to @param {number} by */
  bump(from, peak, to, by) {
    return this.move(from, peak, by).move(peak, to, -by);
  }

  /** Any course. @param {(frame: number) => number} course */
  add(course) {
    this.#parts.push(course);
    return this;
  }

  /** @param {number} frame */
  at(frame) {
    let sum = 0;
    for (const part of this.#parts) sum += part(frame);
    return sum;
  }
}

/**
 * Slow wandering of a body that rests: two sines that never fall together again.
 * @param {import("../../../types.d.ts").Random} random @param {number} rate @param {number} by half of the way it wanders
 * @returns {(frame: number) => number}
 */
export function wandering(random, rate, by) {
  const waves = [0.7, 0.3].map((share, n) => ({
    by: by * share,
    pace: (2 * Math.PI * random.between(0.1, n === 0 ? 0.2 : 0.33)) / rate,
    phase: random.between(0, 2 * Math.PI),
  }));
  return (frame) => waves.reduce((sum, wave) => sum + wave.by * Math.sin(wave.pace * frame + wave.phase), 0);
}

/**
 * Breaths: a quicker inhale and a slower exhale, each a little different in depth and length; 0 to about 1.
 * @param {import("../../../types.d.ts").Random} random @param {number} rate @param {number} perMinute
 * @param {number} first @param {number} last
 * @returns {(frame: number) => number}
 */
export function breaths(random, rate, perMinute, first, last) {
  /** @type {{ from: number, top: number, to: number, depth: number }[]} */
  const list = [];
  const usual = (60 * rate) / perMinute;
  for (let from = first - usual * random.between(0.2, 1.2); from < last + usual; ) {
    const length = usual * random.between(0.9, 1.12);
    list.push({
      from,
      top: from + length * random.between(0.38, 0.43),
      to: from + length,
      depth: random.between(0.8, 1.15),
    });
    from += length;
  }
  return (frame) => {
    const one = list.find(({ from, to }) => frame >= from && frame < to);
    if (one === undefined) return 0;
    const { from, top, to, depth } = one;
    return (
      depth *
      (frame < top ? minimumJerk((frame - from) / (top - from)) : minimumJerk((to - frame) / (to - top)))
    );
  };
}
