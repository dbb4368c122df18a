import { defineFix } from "../../fix.ts";
import { blendingColours } from "./check.ts";

export const blendingColoursFix = defineFix(blendingColours, {
  what: "Nothing: colours are no keys of the motion. Change the colour of the figure or of what is behind it.",
  title: ({ frames }) => `change a colour at frame ${frames[0]}`,
  propose: () => [],
});
