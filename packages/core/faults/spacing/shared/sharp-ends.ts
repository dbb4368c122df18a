import { easedStop, lengthFromPeak } from "../../../motion/path/minimum-jerk.ts";
import type { Move } from "../../../motion/path/moves.ts";
import { dip, restOfPeak } from "./moves-by-peak.ts";

/** How a move ends, or starts: the same, looked at from its rest inwards. Indices count poses. */
export interface SharpEnd {
  /**
   * First pose at rest (of a stop), last one at rest (of a start): beyond it the part is slower than a tenth of the
   * peak. What carries it may go on creeping.
   */
  readonly rest: number;
  /**
   * The pose next to which the part is still (or already) at four fifths of its peak, or at half where that tells more.
   */
  readonly fast: number;
  /** Fastest step of the move's last (or first) part. */
  readonly peak: number;
  /**
   * Poses from 80 % of that to 10 % of it; where the end is sharper from 50 % on, as many as an end takes that is as
   * sharp as that all through.
   */
  readonly takes: number;
  /** Share of the peak from which that was measured, 0.8 or 0.5, and the poses from there to 10 % of the peak. */
  readonly share: number;
  readonly time: number;
  /** Poses that an eased end of the same travel and peak takes. */
  readonly eased: number;
  /**
   * Steps that are longer than this are no part of it: where the peak is that of the pace which the part kept next to the
   * rest, less than half of the move's. Infinite where it is the move's own.
   */
  readonly most: number;
}

/**
 * A part keeps its pace where two steps are alike within this factor: an eased move of half a second, which changes by
 * a quarter of its top speed in a frame at most (minimum jerk: 5.77 / 1.875 / 12), has no such steps before half of it.
 */
const alike = 1.25;

/** From this share of its peak on a part still moves at full speed: an end is measured from there. */
const nearPeak = 0.8;

/**
 * Poses for which a part stays at rest beyond the end of a move: slower than a tenth of its peak, or than a floor.
 * @param most no more than these are counted
 */
export function restBeyond(
  steps: Float64Array,
  move: Move,
  floor: number,
  direction: 1 | -1,
  most: number,
): number {
  const level = Math.max(floor, restOfPeak * steps[move.peak]);
  let at = direction < 0 ? move.to + 1 : move.from;
  let length = 0;
  while (length < most && at >= 1 && at < steps.length && steps[at] < level) {
    length++;
    at -= direction;
  }
  return length;
}

/** Time from 80 % of the peak to 10 % over that from 50 % to 10 %, in a minimum-jerk move: 1.76. */
const wholeOverHalf = easedStop(1) / easedStop(1, 0.5);
/**
 * The same where speed is a parabola, as smooth keys between two rests give it: 2.08. It is at the share `s` of its
 * peak (1 − √(1 − s)) / 2 of its length from rest.
 */
const inParabola = (share: number) => (1 - Math.sqrt(1 - share)) / 2;
const wholeOverHalfInParabola = (inParabola(0.8) - inParabola(0.1)) / (inParabola(0.5) - inParabola(0.1));

/**
 * Measures how fast a move comes to rest (`direction` −1: walked back from its end) or leaves it (1).
 *
 * Expected is the minimum-jerk move (Flash & Hogan 1985) of the same travel and peak speed, which takes 0.251 of its
 * length from 80 % of the peak to 10 % of it; 1.875 · travel / peak is its length. Where the end takes no more than a
 * step, the travel is twice that of the other side of the peak: the move as it would have ended.
 *
 * A move that has slowed from its peak, and keeps the pace that is left, ends from that: the end is judged from either,
 * and the harder one counts.
 * @param least peaks under this many units per step are not looked at
 * @param longest a longer ease than this is never asked for, however long the move
 */
export function sharpEnd(
  steps: Float64Array,
  move: Move,
  direction: 1 | -1,
  least: number,
  longest: number,
): SharpEnd | null {
  const whole = endFrom(steps, move, direction, least, longest, Infinity);
  if (whole === null) return null;
  const held = paceHeld(steps, move, direction, least);
  if (held >= dip * whole.peak || !restsFrom(steps, move, direction, held)) return whole;
  const last = endFrom(steps, move, direction, least, longest, alike * held);
  return last !== null && last.takes * whole.eased < whole.takes * last.eased ? last : whole;
}

/**
 * The pace that a move has at last before its rest (or at first behind it): the greater of the first two steps, walked
 * from the rest, that are alike. Infinite where there are none, or where they are slower than `least`.
 */
function paceHeld(steps: Float64Array, move: Move, direction: 1 | -1, least: number): number {
  const start = direction < 0 ? move.to : move.from + 1;
  const end = direction < 0 ? move.from : move.to + 1;
  for (let i = start; i + direction !== end; i += direction) {
    const near = steps[i];
    const far = steps[i + direction];
    if (far > alike * near || near > alike * far) continue;
    return Math.max(near, far) >= least ? Math.max(near, far) : Infinity;
  }
  return Infinity;
}

/** Whether a part is at rest beyond a move for two steps, measured by the pace that it had at last. */
function restsFrom(steps: Float64Array, move: Move, direction: 1 | -1, held: number): boolean {
  const first = direction < 0 ? move.to + 1 : move.from;
  const second = first - direction;
  if (first < 1 || first >= steps.length || second < 1 || second >= steps.length) return false;
  return Math.max(steps[first], steps[second]) < restOfPeak * held;
}

/** The end of a move, from what of it lies before a step that is longer than `most`. */
function endFrom(
  steps: Float64Array,
  move: Move,
  direction: 1 | -1,
  least: number,
  longest: number,
  most: number,
): SharpEnd | null {
  const start = direction < 0 ? move.to : move.from + 1;
  const end = direction < 0 ? move.from : move.to + 1;
  let peak = 0;
  let travel = 0;
  let toPeak = 0;
  for (let i = start; i !== end; i += direction) {
    if (steps[i] > most || (peak >= least && steps[i] < dip * peak)) break;
    travel += steps[i];
    if (steps[i] <= peak) continue;
    peak = steps[i];
    toPeak = travel - peak / 2;
  }
  if (peak < least) return null;
  const wayIn = travel;
  const slow = crossing(steps, start, end, direction, 0.1 * peak);
  const fast = crossing(steps, start, end, direction, nearPeak * peak);
  // What the part goes on creeping once it has come to rest is no way of the move that ends there.
  for (let i = start; direction < 0 ? i > slow : i < slow; i += direction) travel -= steps[i];
  // A move that is cut off within a step has gone half the way of the eased one that begins like it.
  const whole = Math.abs(fast - slow) <= 1 ? 2 * (wayIn - toPeak) : travel;
  const eased = Math.min(longest, easedStop(lengthFromPeak(Math.max(whole, travel), peak)));
  // A part that has slowed a little, and then stops dead, is hard too: from half of the peak an eased end takes less.
  const half = crossing(steps, start, end, direction, 0.5 * peak);
  // Where that takes more than a step it has a shape, and the end of smooth keys is no harder than all of it.
  const ratio = Math.abs(half - slow) > 1 ? wholeOverHalfInParabola : wholeOverHalf;
  const fromHalf = Math.abs(half - slow) * ratio;
  const fromFast = Math.abs(fast - slow);
  // Steps so long that they are no numbers any more have no end.
  if (!Number.isFinite(slow + fast + half)) return null;
  const last = fromHalf < fromFast ? half : fast;
  // A step is named by the pose to which it leads: a stop's last quick step leads to a pose, a start's first leaves one.
  const poseAt = (level: number) =>
    direction < 0 ? Math.min(Math.floor(level), move.to) : Math.max(Math.ceil(level) - 1, move.from);
  return {
    rest: poseAt(slow),
    fast: poseAt(last),
    peak,
    takes: Math.min(fromFast, fromHalf),
    share: fromHalf < fromFast ? 0.5 : nearPeak,
    time: fromHalf < fromFast ? Math.abs(half - slow) : fromFast,
    eased,
    most,
  };
}

/**
 * Poses that an end takes, from a share of its peak to a tenth of it; 0 where its steps never come so far.
 * @param quick the step next to which the part is at that share; from there on into the move its peak is looked for
 * @param rest the step at which the end begins, as seen from its rest
 * @param most steps that are longer are no part of it
 */
export function timeOfEnd(
  steps: Float64Array,
  quick: number,
  rest: number,
  direction: 1 | -1,
  share: number,
  most: number,
): number {
  let peak = steps[quick];
  for (let i = quick; i > 0 && i < steps.length && steps[i] >= dip * peak; i += direction) {
    if (steps[i] > most) break;
    peak = Math.max(peak, steps[i]);
  }
  const beyond = direction < 0 ? -1 : steps.length;
  const slow = crossing(steps, rest, beyond, direction, 0.1 * peak);
  return Math.abs(crossing(steps, rest, beyond, direction, share * peak) - slow);
}

/** Where the steps, walked from rest into the move, first reach a level; between steps they are taken as linear. */
function crossing(steps: Float64Array, start: number, end: number, direction: 1 | -1, level: number): number {
  let before = Math.min(level, steps[start - direction] ?? 0);
  for (let i = start; i !== end; i += direction) {
    if (steps[i] >= level) {
      const beyond = steps[i] - level;
      return i - direction * (beyond / Math.max(steps[i] - before, Number.MIN_VALUE));
    }
    before = steps[i];
  }
  return end - direction;
}
