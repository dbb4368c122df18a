import { defineFix } from "../../fix.ts";
import { easedEnds } from "../../shared/posing/ends-of-moves.ts";
import { hardStart } from "./check.ts";

export const hardStartFix = defineFix(hardStart, {
  what: "Lets a move leave its rest earlier, gathering speed on the way, or gather speed over more frames.",
  title: ({ frames, node }) => `ease ${node ?? "the move"} out of the rest at frame ${frames[0]}`,
  // Four fifths of what an eased start takes, where two fifths are noted.
  margin: { share: 2 },
  propose: (subject) => easedEnds(subject, subject.shot, 1, subject.finding.numbers.eased),
});
