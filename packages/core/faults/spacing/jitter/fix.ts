import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { smoothedCourse } from "../../shared/keying/courses.ts";
import { rekeyed } from "../../shared/keying/rekey.ts";
import { causeSets } from "../../shared/posing/causes.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { jitter } from "./check.ts";

export const jitterFix = defineFix(jitter, {
  what: "Smooths the channels that tremble over the frames of the note.",
  title: ({ frames, node }) => `smooth ${node ?? "the move"} over frames ${frames[0]} to ${frames[1]}`,
  // Half of the finest noise that is seen, and no more reversals than of a hand that taps at ease (7 a second).
  margin: { floor: 0.5, ofSpacing: 0.5, rate: 0.5 },
  *propose(subject) {
    const { study, shot } = subject;
    const { frames, step } = gridOf(study);
    const span = { from: frames[subject.from] - 2 * step, to: frames[subject.to] + 2 * step };
    for (const tracks of causeSets(subject, span.from, span.to)) {
      for (const reach of [1, 2, 3, 5]) {
        const edits = tracks.flatMap((track) =>
          rekeyed(study, track, span, smoothedCourse(track, span.from, span.to, reach * step, step)),
        );
        yield* keptAndPlain(subject, shot, edits);
      }
    }
  },
});
