import { inRadians, referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import type { FootPlant } from "../../../motion/ground/foot-plant.ts";
import { footAxesAt, withRoll } from "../../../motion/ground/foot-roll.ts";
import { toeOffsOf, usualTilt } from "../../../motion/ground/toe-off.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { ramp } from "../../shared/keying/courses.ts";
import { footWithoutBall, rolledFoot } from "../../shared/posing/rolled-foot.ts";
import { stanceAtEnd } from "../../shared/posing/stance-of.ts";
import { flatFoot } from "./check.ts";

export const flatFootFix = defineFix(flatFoot, {
  what: "Lets the heel rise over the ball through the last third of a plant.",
  title: ({ node, frames }) =>
    `let the heel of ${node ?? "the foot"} rise over the ball before it leaves at frame ${frames[1]}`,
  *propose(subject) {
    const { study, shot, figure } = subject;
    // The plant of a foot that peels ends before its ball is off the ground; a declared one may end before it rolls.
    const plant = stanceAtEnd(subject) ?? stanceAtEnd({ ...subject, to: subject.from });
    if (plant === null || subject.finding === null) return;
    const stance = withRoll(study, figure, plant);
    const { lean: leaning, straight, usual, tilt, rise } = subject.finding.numbers;
    const { rate } = gridOf(study);
    const frames = (count: number) => Math.round((count * rate) / referenceRate);
    // How far the feet tilt in like steps says how far this one should; else how far its leg leans, if it does.
    const like = usual > 0 ? usual : usualOf(study, figure, stance);
    const lean = like > 0 ? Math.max(0, like - tilt) : straight === 1 ? usualRoll : leaning;
    const to = usual > 0 ? subject.to : stance.to;
    // The last third of a long stand is no part of the step.
    const from = usual > 0 ? rise : Math.max(rise, to - frames(longestRise));
    const whole = stance.leg.ball < 0 ? footWithoutBall(study, figure, stance, from) : null;
    const axes = whole?.axes ?? footAxesAt(study, stance, from);
    if (axes === null) return;
    for (const share of like > 0 ? [0.9, 0.7, 1.1, 0.5] : [0.6, 0.9, 1.2]) {
      for (const swing of [8, 12]) {
        const most = Math.min(Math.max(mostRoll, like), Math.max(leastRoll, share * lean));
        const after = frames(swing);
        // The heel goes up faster and faster, and comes down again in the swing.
        const heelUp = (i: number) => {
          if (i <= from || i >= to + after) return 0;
          const t = (i - from) / Math.max(1, to - from);
          return i <= to ? most * t * t : most * (1 - ramp(i, to, to + after));
        };
        yield rolledFoot(study, shot, stance.leg, axes, { heelUp, outward: () => 0 }, whole?.ball);
      }
    }
  },
});

/** With how much tilt a foot leaves in steps like one that ends with a stance, radians; 0 where there is none. */
function usualOf(study: Study, figure: number, { leg, to }: FootPlant): number {
  const toeOffs = toeOffsOf(study, figure);
  const own = toeOffs.find(({ stance }) => stance.leg.end === leg.end && stance.to === to);
  return own === undefined ? 0 : (usualTilt(toeOffs, own)?.usual ?? 0);
}

/** Frames (at 24 per second) over which a heel rises at most: two thirds of a step of a walk on twelves (our choice). */
const longestRise = 8;
/** Bounds of a heel's rise, radians: what is seen as a roll (12°), and what an ankle does (50°); common practice. */
const leastRoll = inRadians(12);
const mostRoll = inRadians(50);
/** A usual roll of a foot that leaves the ground, radians: 30°, the middle of what captured steps have (see the check). */
const usualRoll = inRadians(30);
