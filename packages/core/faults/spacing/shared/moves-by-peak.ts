import type { Move } from "../../../motion/path/moves.ts";

/** Moves whose rest is relative to their own peak: what hard stops and hard starts are told by. */

/** A part is at rest from here on, as a share of the peak of the move that ends: a moving hold creeps on. */
export const restOfPeak = 0.1;
/**
 * A dip under this share of the peak so far parts a move in two: only what lies between the dip and the rest counts.
 * Halving is what a move does that is about to end (our choice).
 */
export const dip = 0.5;

/** A move has to be this many times faster than the floor of rest somewhere: the hysteresis of the detection. */
const overFloor = 2;

/** Which moves of a motion are looked for. */
export interface Sought {
  /** Step under which every part is at rest. */
  readonly floor: number;
  /** Moves that come to rest (−1), or start from it (1). */
  readonly direction: 1 | -1;
  /** Moves that are nowhere so fast are left out. */
  readonly least: number;
}

/**
 * Moves that come to rest (`direction` −1), or start from it (1). Rest is relative to the move: slower than a tenth of
 * its peak, however fast that still is, or than a floor.
 * @param steps length of the step that leads to each pose; the first entry is not used
 * @returns the moves in the order in which they are come upon: starts are looked for from the last pose on
 */
export function movesByPeak(steps: Float64Array, sought: Sought): Move[] {
  const moves: Move[] = [];
  walk(steps, sought, 1, steps.length, none, 0, moves);
  return moves;
}

/** Which of a list of moves are others after some steps have changed. */
export interface MovesAnew {
  /** Index of the first one that is left out, and of the first one behind it that stays. */
  readonly first: number;
  readonly end: number;
  /** What comes between. */
  readonly moves: readonly Move[];
}

/**
 * Looks for moves again where steps have changed. A walk knows nothing of what came before where a move begins, and where
 * a step is under the floor: so it begins at the last such step before the change, and ends at the first one behind it.
 * @param known what {@link movesByPeak} gave for the steps as they were
 * @param from first step that may have changed
 * @param to last step that may have changed
 */
export function movesByPeakAnew(
  steps: Float64Array,
  sought: Sought,
  known: readonly Move[],
  from: number,
  to: number,
): MovesAnew {
  const { direction, floor } = sought;
  const last = steps.length - 1;
  const begins = direction < 0 ? from : last + 1 - to;
  const ends = direction < 0 ? to : last + 1 - from;
  let first = known.length;
  while (first > 0 && startOf(known[first - 1], direction, last) >= begins) first--;
  const before = first > 0 ? startOf(known[first - 1], direction, last) : 1;
  let start = Math.max(before, begins - 1);
  while (start > before && !(steps[direction < 0 ? start : last + 1 - start] < floor)) start--;
  // The move before may go on into what has changed.
  if (first > 0 && start === before) first--;
  const moves: Move[] = [];
  const end = walk(steps, sought, start, ends, known, first, moves);
  return { first, end, moves };
}

const none: readonly never[] = [];

/** The step with which a move begins, counted in the order in which steps are walked, from 1 on. */
function startOf({ from, to }: Move, direction: 1 | -1, last: number): number {
  return direction < 0 ? from + 1 : last + 1 - to;
}

/**
 * Walks over steps from one with which a move may begin.
 * @param ends where, behind this step, one of the known moves is come upon, all that follows is known
 * @param next the first of the known moves that may be come upon
 * @param moves what is found is added to it
 * @returns index of the known move that was come upon; their number where there was none
 */
function walk(
  steps: Float64Array,
  { floor, direction, least }: Sought,
  start: number,
  ends: number,
  known: readonly Move[],
  next: number,
  moves: Move[],
): number {
  const last = steps.length - 1;
  let peak = 0;
  // The step at the peak, and below which one a part is at rest after it.
  let most = 0;
  let rest = floor;
  let low = 0;
  let first = 0;
  let isMoving = false;
  let coming = next;
  for (let n = start, i = direction < 0 ? n : last + 1 - n; n <= last; n++, i -= direction) {
    const size = steps[i];
    if (isMoving && size >= rest) {
      // A move that has halved and gets twice as fast again is another one: its rest is measured by its own peak.
      if (size > most || (low < dip * most && dip * size >= low)) {
        peak = i;
        most = size;
        low = size;
        rest = Math.max(floor, restOfPeak * size);
      } else if (size < low) low = size;
      continue;
    }
    if (isMoving && most >= overFloor * floor && !(most < least)) {
      const [from, to] = direction < 0 ? [first - 1, i - 1] : [i, first];
      moves.push({ from, peak, to, peakSpeed: 0, travel: 0, startsAtRest: from > 0, endsAtRest: to < last });
    }
    if (n > ends) {
      while (coming < known.length && startOf(known[coming], direction, last) < n) coming++;
      const isKnown = coming < known.length && startOf(known[coming], direction, last) === n;
      if (isKnown || size < floor) return coming;
    }
    isMoving = size >= floor;
    first = i;
    peak = i;
    most = size;
    low = size;
    rest = Math.max(floor, restOfPeak * size);
  }
  return known.length;
}
