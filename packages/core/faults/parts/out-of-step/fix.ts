import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { offsetInTime, slidInTime } from "../../shared/posing/part-offset.ts";
import { outOfStep } from "./check.ts";

export const outOfStepFix = defineFix(outOfStep, {
  what: "Slides the keys of a wing by the frames that it is behind. Steps it leaves to whoever keys them. A stance that comes at another time takes the place of a swing, and where the foot is set down then is a choice.",
  title: ({ node, frames }) => `bring ${node ?? "it"} into step over frames ${frames[0]} to ${frames[1]}`,
  *propose({ study, finding }) {
    const { about, limb, from, to, numbers } = finding;
    if (about !== "wing") return;
    const { frames, step } = gridOf(study);
    const late = Math.round(numbers.late);
    for (const keys of [slidInTime, offsetInTime]) {
      for (const by of [late, late + 1, late - 1]) {
        if (by === 0) continue;
        // It comes about over a few frames before and behind, in which no key overtakes another.
        const ramp = 3 * by * step;
        yield keys(study, limb, {
          from: frames[from],
          to: frames[to],
          by: -by * step,
          rampIn: ramp,
          rampOut: ramp,
        });
      }
    }
  },
});
