import { referenceRate } from "../../../base/constants.ts";
import { footAxesAt } from "../../../motion/ground/foot-roll.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { ramp } from "../../shared/keying/courses.ts";
import { rolledFoot } from "../../shared/posing/rolled-foot.ts";
import { stanceAtEnd } from "../../shared/posing/stance-of.ts";
import { oneAxisRoll } from "./check.ts";

export const oneAxisRollFix = defineFix(oneAxisRoll, {
  what: "Lets the heel swing outward as it rises.",
  title: ({ node, frames }) =>
    `let the heel of ${node ?? "the foot"} swing outward over frames ${frames[0]} to ${frames[1]}`,
  *propose(subject) {
    const { study, shot } = subject;
    const stance = stanceAtEnd(subject);
    if (stance === null || stance.leg.ball < 0 || subject.finding === null) return;
    const { from, to } = subject;
    const axes = footAxesAt(study, stance, from);
    if (axes === null) return;
    const after = Math.round((10 * gridOf(study).rate) / referenceRate);
    // Outward is away from the body: for the left foot's heel, which stands behind the ball, a turn to the right.
    const side = stance.leg.side === "left" ? -1 : 1;
    for (const sign of [side, -side]) {
      for (const share of [0.6, 1, 1.6]) {
        const turn = sign * share * subject.finding.numbers.turn;
        const outward = (i: number) => turn * ramp(i, from, to) * (1 - ramp(i, to, to + after));
        yield rolledFoot(study, shot, stance.leg, axes, { heelUp: () => 0, outward });
      }
    }
  },
});
