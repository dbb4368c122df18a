import { inRadians } from "../../../base/constants.ts";
import { scaled } from "../../../base/vector.ts";
import { lensOf } from "../../../staging/camera.ts";
import { defineFix } from "../../fix.ts";
import { axesOfSight, type Turning, waysToTurn } from "../shared/turnings.ts";
import { limbAtLens } from "./check.ts";

export const limbAtLensFix = defineFix(limbAtLens, {
  what: "Turns an arm at the shoulder or the elbow by the least that brings it across the line of sight.",
  title: ({ node, frames }) =>
    `turn the arm of ${node ?? "the hand"} across the line of sight from frame ${frames[0]} on`,
  // Half of its length is seen of an arm that is 30° off the line of sight.
  margin: { share: 0.5 / 0.35 },
  *propose({ study, finding }) {
    const lens = lensOf(study);
    if (lens === null) return;
    const { arm } = finding;
    const turnings: Turning[] = [];
    for (const degrees of [10, 20, 30, 45, 60]) {
      for (const node of [arm.root, arm.middle]) {
        // About what is up in the picture, or to its right.
        for (const axis of [2, 1] as const) {
          for (const angle of [inRadians(degrees), -inRadians(degrees)])
            turnings.push({ node, turnAt: (i) => scaled(axesOfSight(lens, i)[axis], angle) });
        }
      }
    }
    yield* waysToTurn(study, finding, turnings);
  },
});
