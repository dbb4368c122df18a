import { defineFix } from "../../fix.ts";
import { bridgesOver } from "../../shared/posing/over-causes.ts";
import { subjectOf } from "../../shared/posing/subject.ts";

export const kinkedPath = defineFix({
  name: "kinked-path",
  checks: ["kinked-path"],
  what: "Rounds a corner of a path over the frames around it.",
  title: ({ frames, node }) => `round the corner of ${node ?? "the path"} at frame ${frames[0]}`,
  *propose(study, shot, note) {
    const subject = subjectOf(study, note);
    yield* bridgesOver(subject, shot, [
      [1, 1],
      [2, 2],
      [1, 2],
      [2, 1],
      [3, 3],
      [4, 4],
    ]);
  },
});
