import { referenceRate } from "../../../base/constants.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { bump } from "../../shared/keying/courses.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { legSnap } from "./check.ts";

export const legSnapFix = defineFix(legSnap, {
  what: "Lowers the hips around the frame at which a leg comes to full stretch, so that its knee keeps a little bend.",
  title: ({ frames }) => `lower the hips around frame ${frames[1]}, so that the knee keeps a bend`,
  // Half of what is noted, and from a bend of 28° on where legs count as stretched from 20°.
  margin: { jump: 0.5, lost: 0.5, spread: 0.5, stretch: 0.985 },
  *propose({ study, shot, figure, to: at, finding }) {
    if (figure < 0 || finding.numbers.arm === 1) return;
    const { rate, count } = gridOf(study);
    const over = finding.numbers.over;
    for (const times of [2, 3, 4.5, 7]) {
      for (const frames of [6, 4, 10]) {
        const reach = Math.max(2, Math.round((frames * rate) / referenceRate));
        const way = new Float64Array(3 * count);
        for (let i = 0; i < count; i++) {
          way[3 * i + 1] = -times * over * bump(i, at - reach, at, at + reach);
        }
        const edits = shiftedNode(study, hipsOf(study, figure), { lo: 0, hi: count - 1 }, way);
        yield withEndsKept(study, shot, edits);
      }
    }
  },
});
