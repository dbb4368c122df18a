import { defineFix } from "../../fix.ts";
import { easedEnds } from "../../shared/posing/ends-of-moves.ts";
import { subjectOf } from "../../shared/posing/subject.ts";

export const hardStop = defineFix({
  name: "hard-stop",
  checks: ["hard-stop"],
  what: "Lets a move arrive later, slowing down on the way, or slow down earlier.",
  title: ({ frames, node }) => `ease ${node ?? "the move"} into the stop at frame ${frames[1]}`,
  propose: (study, shot, note) => easedEnds(subjectOf(study, note), shot, -1),
});
