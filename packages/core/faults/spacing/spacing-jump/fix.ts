import { defineFix } from "../../fix.ts";
import { bridgesOver } from "../../shared/posing/over-causes.ts";
import { subjectOf } from "../../shared/posing/subject.ts";

export const spacingJump = defineFix({
  name: "spacing-jump",
  checks: ["spacing-jump"],
  what: "Spreads a change of spacing over the frames around it.",
  title: ({ frames, node }) =>
    `spread the change of spacing of ${node ?? "the move"} around frame ${frames[0]}`,
  *propose(study, shot, note) {
    const subject = subjectOf(study, note);
    yield* bridgesOver(subject, shot, [
      [1, 1],
      [2, 1],
      [1, 2],
      [2, 2],
      [3, 2],
      [2, 3],
      [3, 3],
      [4, 4],
      [6, 6],
    ]);
  },
});
