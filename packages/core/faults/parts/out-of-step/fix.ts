import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { offsetInTime, slidInTime } from "../../shared/posing/part-offset.ts";
import { outOfStep } from "./check.ts";

export const outOfStepFix = defineFix(outOfStep, {
  what: "Slides the keys of the leg, or of the wing, by the frames that it is off. A step that is missing it leaves to whoever keys them.",
  title: ({ node, frames }) => `bring ${node ?? "it"} into step over frames ${frames[0]} to ${frames[1]}`,
  *propose({ study, finding }) {
    const { about, limb, from, to, numbers } = finding;
    if (about === "missed") return;
    const { frames, step } = gridOf(study);
    const by = -Math.round(numbers.late);
    for (const keys of [slidInTime, offsetInTime]) {
      for (const more of [0, 1, -1]) {
        if (by + more === 0) continue;
        const ramp = 3 * Math.abs(by + more) * step;
        yield keys(study, limb, {
          from: frames[from],
          to: frames[to],
          by: (by + more) * step,
          rampIn: ramp,
          rampOut: ramp,
        });
      }
    }
  },
});
