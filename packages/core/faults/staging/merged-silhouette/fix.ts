import { inRadians } from "../../../base/constants.ts";
import { scaled } from "../../../base/vector.ts";
import { lensOf } from "../../../staging/camera.ts";
import { defineFix } from "../../fix.ts";
import { axesOfSight, type Turning, waysToTurn } from "../shared/turnings.ts";
import { mergedSilhouette } from "./check.ts";

export const mergedSilhouetteFix = defineFix(mergedSilhouette, {
  what: "Turns an arm, at the elbow or the shoulder, by the least that brings its hand out of the body's shape.",
  title: ({ node, frames }) =>
    `turn the arm so that ${node ?? "the hand"} stands out from frame ${frames[0]} on`,
  // More of the hand than not.
  margin: { share: 2 },
  *propose({ study, finding }) {
    const lens = lensOf(study);
    if (lens === null) return;
    const { arm } = finding;
    const turnings: Turning[] = [];
    for (const degrees of [10, 20, 30, 45, 60, 80]) {
      for (const node of [arm.middle, arm.root]) {
        // In the plane of the picture, or about what is up in it.
        for (const axis of [0, 2] as const) {
          for (const angle of [inRadians(degrees), -inRadians(degrees)])
            turnings.push({ node, turnAt: (i) => scaled(axesOfSight(lens, i)[axis], angle) });
        }
      }
    }
    yield* waysToTurn(study, finding, turnings);
  },
});
