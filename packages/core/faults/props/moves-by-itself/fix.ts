import { defineFix } from "../../fix.ts";
import { movesByItself } from "./check.ts";

export const movesByItselfFix = defineFix(movesByItself, {
  what: "Proposes nothing: whether the thing waits or the hand comes sooner is up to whoever keys them.",
  title: ({ node, frames }) => `let ${node ?? "the thing"} rest from frame ${frames[0]} on`,
  *propose() {},
});
