import { evenSpacing } from "./even-spacing.ts";
import { hardStart } from "./hard-start.ts";
import { hardStop } from "./hard-stop.ts";
import { hitch } from "./hitch.ts";
import { jitter } from "./jitter.ts";
import { kinkedPath } from "./kinked-path.ts";
import type { Mend } from "./mend.ts";
import { pop } from "./pop.ts";
import { spacingJump } from "./spacing-jump.ts";

/** All mends, by family of the checks. Adding one is its file and its line here. */
export const mends: readonly Mend[] = [
  pop,
  hitch,
  hardStop,
  hardStart,
  spacingJump,
  evenSpacing,
  jitter,
  kinkedPath,
];

/** The mends for notes of a check, in the order in which they are tried. */
export function mendsFor(check: string): readonly Mend[] {
  return mends.filter(({ checks }) => checks.includes(check));
}
