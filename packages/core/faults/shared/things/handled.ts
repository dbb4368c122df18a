import type { Study } from "../../../base/study.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { gridOf } from "../../../time/grid.ts";
import { thingFlightsOf } from "./flights.ts";

/** A hand that catches a thing that flies, or throws one. */
export interface Handled {
  readonly hand: number;
  readonly thing: number;
  /** First sample at which it has it; last one at which it has it. */
  readonly at: number;
  /** First sample of the hold. */
  readonly from: number;
  readonly isCatch: boolean;
}

/** Seconds within which a thing settles in the hand that has caught it, or leaves the one that throws it (our choice). */
const settles = 0.25;

/** The catches and throws of all hands: a hand holds a thing at one end of its flight. */
export function handledOf(study: Study): Handled[] {
  const near = Math.round(settles * gridOf(study).rate);
  return thingFlightsOf(study).flatMap(({ thing, from, to }) =>
    gripsOf(study).flatMap((grip): Handled[] => {
      if (grip.thing !== thing) return [];
      if (grip.from > to - near && grip.from <= to + near)
        return [{ hand: grip.hand, thing, at: to + 1, from: grip.from, isCatch: true }];
      if (grip.to < from + near && grip.to >= from - near)
        return [{ hand: grip.hand, thing, at: from - 1, from: grip.from, isCatch: false }];
      return [];
    }),
  );
}
