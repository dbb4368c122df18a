import { inRadians, referenceRate } from "../../../base/constants.ts";
import { footAxesAt } from "../../../motion/ground/foot-roll.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { ramp } from "../../shared/keying/courses.ts";
import { rolledFoot } from "../../shared/posing/rolled-foot.ts";
import { stanceAtEnd } from "../../shared/posing/stance-of.ts";
import { flatFoot } from "./check.ts";

export const flatFootFix = defineFix(flatFoot, {
  what: "Lets the heel rise over the ball through the last third of a plant.",
  title: ({ node, frames }) =>
    `let the heel of ${node ?? "the foot"} rise over the ball before it leaves at frame ${frames[1]}`,
  *propose(subject) {
    const { study, shot } = subject;
    // The plant of a foot that peels ends before its ball is off the ground.
    const stance = stanceAtEnd(subject) ?? stanceAtEnd({ ...subject, to: subject.from });
    if (stance === null || stance.leg.ball < 0 || subject.finding === null) return;
    const { lean: leaning, straight, usual, tilt, rise: from } = subject.finding.numbers;
    // A leg that does not lean tells nothing of how far its heel should rise.
    const lean = usual > 0 ? usual - tilt : straight === 1 ? usualRoll : leaning;
    const to = usual > 0 ? subject.to : stance.to;
    const axes = footAxesAt(study, stance, from);
    if (axes === null) return;
    const { rate } = gridOf(study);
    for (const share of [0.6, 0.9, 1.2]) {
      for (const swing of [8, 12]) {
        const most = Math.min(mostRoll, Math.max(leastRoll, share * lean));
        const after = Math.round((swing * rate) / referenceRate);
        // The heel goes up faster and faster, and comes down again in the swing.
        const heelUp = (i: number) => {
          if (i <= from || i >= to + after) return 0;
          const t = (i - from) / Math.max(1, to - from);
          return i <= to ? most * t * t : most * (1 - ramp(i, to, to + after));
        };
        yield rolledFoot(study, shot, stance.leg, axes, { heelUp, outward: () => 0 });
      }
    }
  },
});

/** Bounds of a heel's rise, radians: what is seen as a roll (12°), and what an ankle does (50°); common practice. */
const leastRoll = inRadians(12);
const mostRoll = inRadians(50);
/** A usual roll of a foot that leaves the ground, radians: 30°, the middle of what captured steps have (see the check). */
const usualRoll = inRadians(30);
