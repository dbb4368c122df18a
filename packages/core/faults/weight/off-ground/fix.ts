import { defineFix } from "../../fix.ts";
import { ontoGround } from "../shared/onto-ground.ts";
import { offGround } from "./check.ts";

export const offGroundFix = defineFix(offGround, {
  what: "Lowers the handles of a curve that bulges there. Else brings a foot that hovers over its surface onto it; the hips give where the leg is too short.",
  title: ({ node, frames }) =>
    `bring ${node ?? "the foot"} down onto the ground over frames ${frames[0]} to ${frames[1]}`,
  propose: (subject) => ontoGround(subject, subject.finding.numbers.gap),
});
