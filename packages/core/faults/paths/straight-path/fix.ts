import { defineFix } from "../../fix.ts";
import { asides } from "../../shared/posing/arcs.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { straightPath } from "./check.ts";

export const straightPathFix = defineFix(straightPath, {
  what: "Bows a straight way by a breakdown in its middle.",
  title: ({ node, frames }) =>
    `bow the way of ${node ?? "the part"} by a breakdown between frames ${frames[0]} and ${frames[1]}`,
  *propose(subject) {
    const { study, shot } = subject;
    const { from, to, finding } = subject;
    const node = finding?.node ?? subject.node;
    if (node < 0) return;
    const length = finding.numbers.length;
    for (const share of [0.05, 0.08, 0.12]) {
      for (const aside of asides(study, node, [{ from, to }])) {
        for (const sign of [1, -1]) yield* keptAndPlain(subject, shot, aside(sign * share * length));
      }
    }
  },
});
