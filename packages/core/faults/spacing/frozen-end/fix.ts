import { defineFix } from "../../fix.ts";
import { driftsOn } from "../shared/drift-on.ts";
import { frozenEnd } from "./check.ts";

export const frozenEndFix = defineFix(frozenEnd, {
  what: "Lets a body drift on through the last pose, a little and ever slower, the way it came; or run on into it.",
  title: ({ node, frames }) =>
    `let ${node ?? "the body"} drift on through the end, frames ${frames[0]} to ${frames[1]}`,
  propose: driftsOn,
});
