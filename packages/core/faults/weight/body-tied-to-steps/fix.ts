import { referenceRate } from "../../../base/constants.ts";
import { heightOf, hipsOf } from "../../../motion/ground/foot-plant.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { shareAt } from "../../shared/posing/end-courses.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { between } from "../../shared/posing/offsets.ts";
import { bodyTiedToSteps } from "./check.ts";

export const bodyTiedToStepsFix = defineFix(bodyTiedToSteps, {
  what: "Lets the hips' rise and fall come a frame or two after the feet.",
  title: ({ frames }) =>
    `let the hips rise and fall later than the feet over frames ${frames[0]} to ${frames[1]}`,
  *propose({ study, shot, figure, from, to, finding }) {
    if (figure < 0) return;
    const { rate, count } = gridOf(study);
    const hips = hipsOf(study, figure);
    const height = heightOf(study, hips);
    for (const frames of [1.5, 2, 1, 3]) {
      const lag = (frames * rate) / referenceRate;
      const fade = Math.max(2, Math.round(4 * lag));
      // Lows at the very ends of the frames are shifted as well.
      const [first, last] = finding.numbers.lows > 0 ? [from - fade, to + fade] : [from, to];
      const faded = { from: first + fade, to: last - fade, before: fade, after: fade };
      const way = new Float64Array(3 * count);
      for (let i = Math.max(0, first); i <= Math.min(count - 1, last); i++) {
        way[3 * i + 1] = shareAt(study, i, faded) * (between(height, i - lag) - height[i]);
      }
      const edits = shiftedNode(study, hips, { lo: 0, hi: count - 1 }, way);
      yield withEndsKept(study, shot, edits);
    }
  },
});
