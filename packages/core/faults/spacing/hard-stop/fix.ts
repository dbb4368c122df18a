import { defineFix } from "../../fix.ts";
import { easedEnds } from "../../shared/posing/ends-of-moves.ts";
import { hardStop } from "./check.ts";

export const hardStopFix = defineFix(hardStop, {
  what: "Lets a move arrive later, slowing down on the way, or slow down earlier.",
  title: ({ frames, node }) => `ease ${node ?? "the move"} into the stop at frame ${frames[1]}`,
  // Four fifths of what an eased end takes, where two fifths are noted.
  margin: { share: 2 },
  propose: (subject) => easedEnds(subject, subject.shot, -1, subject.finding.numbers.eased),
});
