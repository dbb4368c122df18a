import { defineFix } from "../../fix.ts";
import { flashing } from "./check.ts";

export const flashingFix = defineFix(flashing, {
  what: "Nothing: visibility and colours are no keys of the motion. Let them change more slowly.",
  title: ({ frames }) => `slow the flicker from frame ${frames[0]} on`,
  propose: () => [],
});
