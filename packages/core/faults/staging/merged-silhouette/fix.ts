import { lensOf } from "../../../staging/camera.ts";
import { defineFix } from "../../fix.ts";
import { axesOfSight, turnedOver } from "../shared/turned-arm.ts";
import { mergedSilhouette } from "./check.ts";

export const mergedSilhouetteFix = defineFix(mergedSilhouette, {
  what: "Turns an arm, at the elbow or the shoulder, by the least that brings its hand out of the body's shape.",
  title: ({ node, frames }) =>
    `turn the arm so that ${node ?? "the hand"} stands out from frame ${frames[0]} on`,
  *propose({ study, finding }) {
    const lens = lensOf(study);
    if (lens === null) return;
    const { arm, from, to } = finding;
    const [sight, , up] = axesOfSight(lens, Math.round((from + to) / 2));
    for (const degrees of [10, 20, 30, 45, 60, 80]) {
      for (const joint of [arm.middle, arm.root]) {
        for (const axis of [sight, up]) {
          for (const way of [1, -1]) yield turnedOver(study, joint, { from, to }, axis, way * degrees);
        }
      }
    }
  },
});
