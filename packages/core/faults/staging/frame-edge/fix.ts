import { lensOf } from "../../../staging/camera.ts";
import { defineFix } from "../../fix.ts";
import { axesOfSight, turnedOver } from "../shared/turned-arm.ts";
import { frameEdge } from "./check.ts";

export const frameEdgeFix = defineFix(frameEdge, {
  what: "Turns an arm at the shoulder by the least that brings its hand into the safe area.",
  title: ({ node, frames }) => `bring ${node ?? "the hand"} into the picture from frame ${frames[0]} on`,
  *propose({ study, finding }) {
    const lens = lensOf(study);
    if (lens === null || finding.joint < 0) return;
    const { joint, from, to } = finding;
    const [sight, , up] = axesOfSight(lens, Math.round((from + to) / 2));
    for (const degrees of [8, 15, 25, 40, 60]) {
      for (const axis of [sight, up]) {
        for (const way of [1, -1]) yield turnedOver(study, joint, { from, to }, axis, way * degrees);
      }
    }
  },
});
