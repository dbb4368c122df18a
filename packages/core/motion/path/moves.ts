import { inRadians, referenceRate } from "../../base/constants.ts";
import type { Stretch } from "../../base/memo-cell.ts";
import { floats } from "../../base/room.ts";
import { measure, type Study, sampledMeasure } from "../../base/study.ts";
import { figureOfNode, figuresOf, statureOf } from "../../rig/body.ts";
import { assumedStature } from "../../rig/stature.ts";
import { gridOf } from "../../time/grid.ts";
import { cutsOf, ownCutsOf, piecesOf } from "./cuts.ts";
import { onTwosOf } from "./held.ts";
import { localAngularSpeedOf } from "./rotation.ts";
import { spacingOf } from "./spacing.ts";

/** One move of a part, from rest to rest or to an end of the range. Indices are grid indices. */
export interface Move {
  /** Onset: the last sample at rest. */
  readonly from: number;
  /** The sample at whose step (from the sample before) the part is fastest. */
  readonly peak: number;
  /** Arrival: the first sample at rest again. */
  readonly to: number;
  /** Fastest step over its time: m/s, or rad/s for turns. */
  readonly peakSpeed: number;
  /** Length of the path: metres, or radians for turns. */
  readonly travel: number;
  /** False where the range starts while the part moves. */
  readonly startsAtRest: boolean;
  /** False where the range ends while the part moves. */
  readonly endsAtRest: boolean;
}

/** A stretch in which a part is at rest: first and last sample. */
export interface Hold {
  readonly from: number;
  readonly to: number;
}

/**
 * Travel per frame at 24 frames per second under which a part counts as at rest, in body heights: 2.5 mm of a grown
 * person, about a pixel and a half where the figure fills the height of a picture of 1080 lines (our choice).
 */
const restShare = 0.0015;
/**
 * Turn per frame at 24 frames per second under which a joint counts as at rest, radians: 0.25°, which moves the end of
 * an arm of 0.6 m by as much as {@link restShare} (our choice).
 */
export const restTurn = inRadians(0.25);
/** A stretch counts as a move only if it gets this many times faster than rest: the hysteresis of the detection. */
const moveOverRest = 2;
/** Pauses of up to this many frames at 24 frames per second belong to a move: too short to be seen as a hold. */
export const longestPause = 2;

/**
 * Metres per judged frame under which a node counts as at rest: 0.0015 body heights per frame at 24 frames per
 * second, the same speed at other rates.
 */
export const restFloorOf = measure("rest floor", (study, node: number): number => {
  return (restShare * statureNear(study, node) * referenceRate) / gridOf(study).rate;
});

/** Radians per judged frame under which a joint counts as at rest; see {@link restTurn}. */
export function restTurnOf(study: Study): number {
  return (restTurn * referenceRate) / gridOf(study).rate;
}

/**
 * Moves of a node through the world, in order. Together with {@link holdsOf} they cover the range. A cut from one held
 * pose to the next is none of them.
 * @param node rig index of the node
 * @returns indices of samples, metres and m/s of each, in order
 */
export const movesOf = sampledMeasure(
  "moves",
  (study, node: number): readonly Move[] =>
    movesBetweenCuts(
      spacingOf(study, node),
      null,
      cutsOf(study, node),
      restFloorOf(study, node),
      pauseOf(study, node),
      gridOf(study).rate,
    ),
  changedMoves,
  true,
  false,
);

/** From the first to the last sample of the moves in which two lists differ; null where they are alike. */
export function changedMoves(a: readonly Move[], b: readonly Move[]): Stretch | null {
  if (a === b) return null;
  let first = 0;
  while (first < a.length && first < b.length && isSameMove(a[first], b[first])) first++;
  if (first === a.length && first === b.length) return null;
  let i = a.length - 1;
  let k = b.length - 1;
  for (; i >= first && k >= first && isSameMove(a[i], b[k]); i--) k--;
  const one = a[first]?.from ?? Infinity;
  const other = b[first]?.from ?? Infinity;
  const end = a[i]?.to ?? 0;
  const otherEnd = b[k]?.to ?? 0;
  return [Math.min(one, other), Math.max(end, otherEnd)];
}

function isSameMove(a: Move, b: Move): boolean {
  return (
    a.from === b.from &&
    a.to === b.to &&
    a.peak === b.peak &&
    Object.is(a.peakSpeed, b.peakSpeed) &&
    Object.is(a.travel, b.travel) &&
    a.startsAtRest === b.startsAtRest &&
    a.endsAtRest === b.endsAtRest
  );
}

/**
 * Stretches in which a node is at rest in the world.
 * @param node rig index of the node
 * @returns indices of the first and last sample of each, in order
 */
export const holdsOf = measure("holds", (study, node: number): readonly Hold[] => {
  return holdsBetween(movesOf(study, node), gridOf(study).count);
});

/** Turns of a node against its parent, found as moves are; `peakSpeed` in rad/s, `travel` in radians. */
export const turnsOf = measure("turns", (study, node: number): readonly Move[] => {
  const { dt, rate } = gridOf(study);
  const speeds = localAngularSpeedOf(study, node);
  const steps = floats(speeds.length);
  for (let i = 0; i < steps.length; i++) steps[i] = speeds[i] * dt;
  const floor = (restTurn * referenceRate) / rate;
  return movesBetweenCuts(steps, null, ownCutsOf(study, node), floor, pauseOf(study, node), rate);
});

/** Body height in metres of the figure a node belongs to; of the first figure, or 1.7, where it belongs to none. */
export function statureNear(study: Study, node: number): number {
  const figure = figureOfNode(study, node);
  if (figure >= 0) return statureOf(study, figure);
  return figuresOf(study).length > 0 ? statureOf(study, 0) : assumedStature;
}

/**
 * Moves in a series of steps.
 *
 * A move is a stretch of steps of at least `floor` which somewhere reaches twice that; pauses of up to `pause` steps
 * in it belong to it.
 * @param steps length of the step that leads to each sample; the first entry is not used
 * @param rate samples per second
 */
export function findMoves(steps: ArrayLike<number>, floor: number, pause: number, rate: number): Move[] {
  const moves: Move[] = [];
  const count = steps.length;
  let i = 1;
  while (i < count) {
    if (!(steps[i] >= floor)) {
      i++;
      continue;
    }
    const first = i;
    let last = i;
    for (let k = i + 1; k < count && k - last <= pause + 1; k++) if (steps[k] >= floor) last = k;
    i = last + 1;
    let peak = first;
    let travel = 0;
    for (let k = first; k <= last; k++) {
      travel += steps[k];
      if (steps[k] > steps[peak]) peak = k;
    }
    if (steps[peak] < moveOverRest * floor) continue;
    moves.push({
      from: first - 1,
      peak,
      to: last,
      peakSpeed: steps[peak] * rate,
      travel,
      startsAtRest: first > 1,
      endsAtRest: last < count - 1,
    });
  }
  return moves;
}

/**
 * Moves in a series of steps from pose to pose, those of each piece between cuts by themselves; as {@link findMoves}.
 * A move that a cut begins or ends does not start or end at rest.
 * @param poses the samples to which the steps lead, ascending; null where they lead to all
 */
export function movesBetweenCuts(
  steps: Float64Array,
  poses: Int32Array | null,
  cuts: Int32Array,
  floor: number,
  pause: number,
  rate: number,
): readonly Move[] {
  if (cuts.length === 0) return findMoves(steps, floor, pause, rate);
  return piecesOf(steps.length, poses, cuts).flatMap(({ from, to }) =>
    findMoves(steps.subarray(from, to + 1), floor, pause, rate).map((move) => ({
      ...move,
      from: move.from + from,
      peak: move.peak + from,
      to: move.to + from,
    })),
  );
}

/** The stretches of `count` samples that no move covers; they share their end samples with the moves. */
export function holdsBetween(moves: readonly Move[], count: number): Hold[] {
  const holds: Hold[] = [];
  let from = 0;
  for (const move of moves) {
    if (move.from > from) holds.push({ from, to: move.from });
    from = move.to;
  }
  if (count > 0 && (count - 1 > from || moves.length === 0)) holds.push({ from, to: count - 1 });
  return holds;
}

function pauseOf(study: Study, node: number): number {
  return Math.max(Math.round((longestPause * gridOf(study).rate) / referenceRate), onTwosOf(study, node) - 1);
}
