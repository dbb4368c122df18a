import { excused } from "../../../base/excuse.ts";
import { medianOf } from "../../../base/median.ts";
import type { Study } from "../../../base/study.ts";
import {
  turnOfWingRoots,
  type WingPair,
  type WingTurn,
  wingTurnsOf,
} from "../../../motion/body/wing-pairs.ts";
import { gridOf } from "../../../time/grid.ts";

/** A stretch of beats in which one wing is behind the other. */
export interface WingLag {
  readonly pair: WingPair;
  readonly from: number;
  readonly to: number;
  /** Samples by which the left wing is later, the median over turning points, and samples of a beat. */
  readonly late: number;
  readonly beat: number;
  /** Beats that the stretch lasts, in halves. */
  readonly beats: number;
}

/** Between two samples an extreme is known to about a quarter of one: less than this is no lag. */
const leastSamples = 0.75;
/** Turning points in a row that are late: two whole beats (our choice: one may be a flick). */
const leastTurns = 5;
/** Radians by which the line through the wings' roots turns within a beat, from which on the body rolls or turns (our choice). */
const turning = Math.PI / 12;

/**
 * Stretches in which a wing beats behind the other one.
 * @param offset share of a beat by which it is behind
 */
export function wingLagsOf(study: Study, figure: number, pair: WingPair, offset: number): WingLag[] {
  const { count } = gridOf(study);
  const found: WingLag[] = [];
  let run: WingTurn[] = [];
  const close = () => {
    if (run.length >= leastTurns) {
      const beat = medianOf(run.map((turn) => turn.beat));
      const late = medianOf(run.map((turn) => turn.late));
      // Half a beat before and behind, the wings are on their way to and from these turning points.
      const from = Math.max(0, Math.round(run[0].at - beat / 2));
      const to = Math.min(count - 1, Math.round(run[run.length - 1].at + beat / 2));
      found.push({ pair, from, to, late, beat, beats: (run.length - 1) / 2 });
    }
    run = [];
  };
  for (const turn of wingTurnsOf(study, figure, pair)) {
    const isLate = Math.abs(turn.late) >= Math.max(leastSamples, offset * turn.beat);
    const last = run[run.length - 1];
    if (!isLate || (last !== undefined && !follows(last, turn))) close();
    if (!isLate) continue;
    const [from, to] = [turn.at - turn.beat / 2, turn.at + turn.beat / 2].map((at) =>
      Math.max(0, Math.min(count - 1, Math.round(at))),
    );
    if (turnOfWingRoots(study, pair, from, to) > turning) {
      excused(pair.left, from, to, "the body rolls or turns, with one wing before the other");
      close();
    } else run.push(turn);
  }
  close();
  return found;
}

const follows = (last: WingTurn, turn: WingTurn) =>
  Math.sign(last.late) === Math.sign(turn.late) && turn.at - last.at < Math.max(last.beat, turn.beat);
