import { referenceRate } from "../../../base/constants.ts";
import { figuresOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { offsetInTime, slidInTime } from "../../shared/posing/part-offset.ts";
import { competingMoves } from "./check.ts";

export const competingMovesFix = defineFix(competingMoves, {
  what: "Lets the smaller of two moves come later, all of its figure together.",
  title: ({ figure, frames }) =>
    `let the move of ${figure ?? "the second figure"} around frame ${frames[0]} come later`,
  *propose({ study, figure, from, to, finding }) {
    if (figure < 0) return;
    const { frames, rate, step } = gridOf(study);
    const wait = finding.numbers.wait;
    const { nodes } = figuresOf(study)[figure];
    const least = Math.round((leastApart * rate) / referenceRate);
    for (const later of new Set([Math.max(least, Math.ceil(wait / 2)), wait, least, wait + least])) {
      for (const reach of [6, 12]) {
        const around = Math.round((reach * rate) / referenceRate) * step;
        const offset = {
          from: frames[from] - around,
          to: frames[to] + later * step + around,
          by: later * step,
          rampIn: 2 * later * step,
          rampOut: 4 * later * step,
        };
        yield slidInTime(study, nodes, offset);
        yield offsetInTime(study, nodes, offset);
      }
    }
  },
});

/** Frames (at 24 per second) by which two moves have to be apart to be seen one after the other: common practice. */
const leastApart = 5;
