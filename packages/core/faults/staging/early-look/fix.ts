import { figuresOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { offsetInTime, slidInTime } from "../../shared/posing/part-offset.ts";
import { earlyLook } from "./check.ts";

export const earlyLookFix = defineFix(earlyLook, {
  what: "Starts the turn of the head later, the neck's with it.",
  title: ({ node, frames }) => `start the turn of ${node ?? "the head"} at frame ${frames[0]} later`,
  *propose({ study, finding }) {
    const { frames, step } = gridOf(study);
    const { node, figure, from, to } = finding;
    const neck = figuresOf(study)[figure].parts.get("neck") ?? [];
    const by = Math.ceil(finding.numbers.early);
    for (const nodes of [[node], [node, ...neck]]) {
      for (const later of [by, by + 1, by + 3]) {
        const offset = {
          from: frames[from] - 2 * step,
          to: frames[to] + later * step,
          by: later * step,
          rampIn: 2 * step,
          rampOut: 3 * later * step,
        };
        yield slidInTime(study, nodes, offset);
        yield offsetInTime(study, nodes, offset);
      }
    }
  },
});
