import { referenceRate } from "../../../base/constants.ts";
import { everywhere, type Study } from "../../../base/study.ts";
import type { Move } from "../../../motion/path/moves.ts";
import { gridOf } from "../../../time/grid.ts";
import { patchedOfSteps } from "./kept-finds.ts";
import { movesByPeak, movesByPeakAnew, type Sought } from "./moves-by-peak.ts";
import type { Motion, Steps } from "./paces.ts";
import { restBeyond, type SharpEnd, sharpEnd } from "./sharp-ends.ts";

/** A rest shorter than this many frames (at 24 per second) is a pause within a move: one drawing on twos. */
const shortestRest = 2;
/** A part that is cut off has more than this share of its peak speed left on its last step (our choice). */
export const cutOff = 0.5;

/** What makes an end hard. */
interface Limits {
  readonly share: number;
  readonly longest: number;
}

/** All moves of a motion, in the order in which they are come upon, and the end of each that is harder than it may be. */
interface Ends {
  readonly moves: Move[];
  readonly ends: (HardEnd | null)[];
  /** Those ends alone. */
  readonly hard: HardEnd[];
}

const none: readonly never[] = [];

/** Ends of the moves of a pace that are harder than they may be, whatever they are at. */
export function sharpEndsOf(
  study: Study,
  node: number,
  motion: Motion,
  sought: Sought,
  { share, longest }: Limits,
): readonly HardEnd[] {
  const { rate } = gridOf(study);
  const limits = { share, longest };
  if (!study.memo.keepsPieces()) {
    const steps = { poses: motion.pace.poses, steps: motion.stepsOf(study, node) ?? motion.pace.steps };
    // Most parts never move fast enough for a move to be judged.
    if (!isEver(steps.steps, sought.least)) return none;
    return movesByPeak(steps.steps, sought).flatMap(
      (move) => sharpEndOf(steps, rate, sought, limits, move) ?? none,
    );
  }
  const { direction, floor, least } = sought;
  // A walk that is taken up again begins with any move, however slow it is.
  const all = { ...sought, least: 0 };
  const { hard } = patchedOfSteps<Ends>(
    study,
    node,
    motion,
    direction < 0 ? "hard stops" : "hard starts",
    [least, floor, share, longest],
    (steps) => {
      const moves = movesByPeak(steps.steps, all);
      const ends = moves.map((move) => sharpEndOf(steps, rate, sought, limits, move));
      return { moves, ends, hard: ends.filter((end) => end !== null) };
    },
    (kept, steps, from, to) => {
      const { first, end, moves } = movesByPeakAnew(steps.steps, all, kept.moves, from, to);
      const fresh = moves.map((move) => sharpEndOf(steps, rate, sought, limits, move));
      let isOther = isAny(fresh, 0, fresh.length) || isAny(kept.ends, first, end);
      kept.moves.splice(first, end - first, ...moves);
      kept.ends.splice(first, end - first, ...fresh);
      // What is beside a move tells whether it rests there.
      const reach = 2 + Math.round(((shortestRest + 1) * rate) / referenceRate);
      const look = (k: number): boolean => {
        const move = kept.moves[k];
        if (move === undefined || move.to + reach < from || move.from - reach > to) return false;
        const before = kept.ends[k];
        kept.ends[k] = sharpEndOf(steps, rate, sought, limits, move);
        isOther ||= before !== null || kept.ends[k] !== null;
        return true;
      };
      for (let k = first - 1; look(k); ) k--;
      for (let k = first + moves.length; look(k); ) k++;
      if (!isOther) return null;
      kept.hard.length = 0;
      for (const end of kept.ends) if (end !== null) kept.hard.push(end);
      return everywhere;
    },
  );
  return hard;
}

function isAny(ends: readonly (HardEnd | null)[], from: number, to: number): boolean {
  for (let k = from; k < to; k++) if (ends[k] !== null) return true;
  return false;
}

/** Whether a part is ever so fast. */
function isEver(steps: Float64Array, least: number): boolean {
  for (let i = 1; i < steps.length; i++) if (!(steps[i] < least)) return true;
  return false;
}

/** The end of a move, where that is harder than it may be. */
function sharpEndOf(
  { poses, steps }: Steps,
  rate: number,
  { least, floor, direction }: Sought,
  { share, longest }: Limits,
  move: Move,
): HardEnd | null {
  if (steps[move.peak] < least) return null;
  const perPose = (poses[move.to] - poses[move.from]) / (move.to - move.from);
  const rests = restsLongEnough(steps, rate, move, floor, perPose, direction);
  if (!rests && !easesBeyond(steps, move, floor, direction)) return null;
  const end = sharpEnd(steps, move, direction, least, longest / perPose);
  return end === null || end.takes >= share * end.eased ? null : { move, end, perPose, isTurn: !rests };
}

/** An end that is harder than it may be. */
export interface HardEnd {
  readonly move: Move;
  readonly end: SharpEnd;
  /** Frames per pose of the move. */
  readonly perPose: number;
  /** Whether the part rests for less than a hold, and eases on the other side of that: it turns round there. */
  readonly isTurn: boolean;
}

/**
 * Whether a part that is cut off at more than half of its peak eases on the other side of its rest, however short that is:
 * it turns round there, and only one side of the turn is hard. A hitch is quick on both sides.
 */
function easesBeyond(steps: Float64Array, move: Move, floor: number, direction: 1 | -1): boolean {
  const next = direction < 0 ? move.to : move.from + 1;
  const other = next - 2 * direction;
  return (
    steps[next] > cutOff * steps[move.peak] &&
    other >= 1 &&
    other < steps.length &&
    steps[other] < cutOff * steps[next] &&
    restBeyond(steps, move, floor, direction, 1) === 1
  );
}

/** Whether the rest beyond a move is a hold: longer than a pause within it, which a hitch is told by. */
function restsLongEnough(
  steps: Float64Array,
  rate: number,
  move: Move,
  floor: number,
  perPose: number,
  direction: 1 | -1,
): boolean {
  // Where the part is cut off at more than half of its peak, there is no pause that belongs to the move.
  const next = direction < 0 ? move.to : move.from + 1;
  const isCutOff = steps[next] > cutOff * steps[move.peak];
  const frames = Math.max(
    Math.round(((isCutOff ? shortestRest : shortestRest + 1) * rate) / referenceRate),
    perPose,
  );
  const shortest = Math.ceil(frames / perPose);
  return restBeyond(steps, move, floor, direction, shortest) >= shortest;
}
