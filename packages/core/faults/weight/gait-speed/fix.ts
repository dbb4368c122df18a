import { defineFix } from "../../fix.ts";
import { gaitSpeed } from "./check.ts";

export const gaitSpeedFix = defineFix(gaitSpeed, {
  what: "Nothing: whether strides are to be longer, quicker or slower is for whoever keys them.",
  title: ({ node }) => `fit the strides of ${node ?? "the body"} to its speed`,
  propose: function* () {
    // Longer strides and other timings change where a shot goes: no few keys put them right.
  },
});
