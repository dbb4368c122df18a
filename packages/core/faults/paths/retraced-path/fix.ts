import { strokesOf } from "../../../motion/path/strokes.ts";
import { defineFix } from "../../fix.ts";
import { asides } from "../../shared/posing/arcs.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { retracedPath } from "./check.ts";

export const retracedPathFix = defineFix(retracedPath, {
  what: "Brings the way back off the way out by a breakdown in its middle.",
  title: ({ node }) => `bring the way back of ${node ?? "the part"} off its way out by a breakdown`,
  *propose(subject) {
    const { study, shot } = subject;
    const { from, to, finding } = subject;
    const { node } = finding;
    const length = finding.numbers.length;
    const strokes = strokesOf(study, node).filter((stroke) => stroke.from >= from && stroke.to <= to);
    // Every second way: out and back then lie apart everywhere.
    for (const first of [1, 0]) {
      const ways = strokes.filter((_, k) => k % 2 === first && strokes[k].to - strokes[k].from > 1);
      if (ways.length === 0) continue;
      for (const share of [0.1, 0.15, 0.22]) {
        for (const aside of asides(study, node, ways)) {
          for (const sign of [1, -1]) yield* keptAndPlain(subject, shot, aside(sign * share * length));
        }
      }
    }
  },
});
