import { defineFix } from "../../fix.ts";
import { ontoGround } from "../shared/onto-ground.ts";
import { throughGround } from "./check.ts";

export const throughGroundFix = defineFix(throughGround, {
  what: "Lowers the handles of a curve that bulges there. Else brings a foot that goes through the ground up onto it; the hips give where the leg is too short.",
  title: ({ node, frames }) =>
    `bring ${node ?? "the foot"} up to the ground over frames ${frames[0]} to ${frames[1]}`,
  propose: (subject) => ontoGround(subject, -subject.finding.numbers.depth),
});
