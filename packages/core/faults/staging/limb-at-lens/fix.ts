import { lensOf } from "../../../staging/camera.ts";
import { defineFix } from "../../fix.ts";
import { axesOfSight, turnedOver } from "../shared/turned-arm.ts";
import { limbAtLens } from "./check.ts";

export const limbAtLensFix = defineFix(limbAtLens, {
  what: "Turns an arm at the shoulder by the least that brings it across the line of sight.",
  title: ({ node, frames }) =>
    `turn the arm of ${node ?? "the hand"} across the line of sight from frame ${frames[0]} on`,
  *propose({ study, finding }) {
    const lens = lensOf(study);
    if (lens === null) return;
    const { arm, from, to } = finding;
    const [, right, up] = axesOfSight(lens, Math.round((from + to) / 2));
    for (const degrees of [10, 20, 30, 40]) {
      for (const joint of [arm.root, arm.middle]) {
        for (const axis of [up, right]) {
          for (const way of [1, -1]) yield turnedOver(study, joint, { from, to }, axis, way * degrees);
        }
      }
    }
  },
});
