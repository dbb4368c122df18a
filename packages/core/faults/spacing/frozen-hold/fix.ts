import { defineFix } from "../../fix.ts";
import { driftsOn } from "../shared/drift-on.ts";
import { frozenHold } from "./check.ts";

export const frozenHoldFix = defineFix(frozenHold, {
  what: "Lets a body drift on through a hold, a little and ever slower, the way it came; or run on into it.",
  title: ({ node, frames }) =>
    `let ${node ?? "the body"} drift on through the hold of frames ${frames[0]} to ${frames[1]}`,
  propose: driftsOn,
});
