import type { Recompute } from "../shared/compare.ts";
import { soleHeights } from "../shared/sole-heights.ts";

/** How deep the lowest point of the sole is at its deepest. */
export const recompute: Recompute = (note, shot) => -Math.min(...soleHeights(note, shot));
