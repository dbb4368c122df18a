import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { offsetInTime } from "../../shared/posing/part-offset.ts";
import { movesByItself } from "./check.ts";

export const movesByItselfFix = defineFix(movesByItself, {
  what: "Lets the thing rest for some frames longer, until the hand comes by, and catch up with its own course by then.",
  title: ({ node, frames }) => `let ${node ?? "the thing"} rest longer from frame ${frames[0]} on`,
  *propose({ study, finding }) {
    const { start, numbers } = finding;
    const { frames, step } = gridOf(study);
    const whole = (share: number) => Math.max(1, Math.round(share * numbers.ahead));
    for (const by of new Set([0.25, 0.5, 0.75, 1].map(whole))) {
      for (const catches of [Math.max(2 * by, numbers.ahead), 3 * by + numbers.ahead]) {
        yield offsetInTime(study, [start.thing], {
          from: frames[start.at],
          to: frames[start.at] + step,
          by: by * step,
          rampIn: (by + 1) * step,
          rampOut: catches * step,
        });
      }
    }
  },
});
