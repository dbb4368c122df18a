import { defineFix } from "../../fix.ts";
import { easedEnds } from "../../shared/posing/ends-of-moves.ts";
import { subjectOf } from "../../shared/posing/subject.ts";

export const hardStart = defineFix({
  name: "hard-start",
  checks: ["hard-start"],
  what: "Lets a move leave its rest earlier, gathering speed on the way, or gather speed over more frames.",
  title: ({ frames, node }) => `ease ${node ?? "the move"} out of the rest at frame ${frames[0]}`,
  propose: (study, shot, note) => easedEnds(subjectOf(study, note), shot, 1),
});
