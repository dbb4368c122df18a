import type { Recompute } from "../shared/compare.ts";
import { median } from "../shared/geometry.ts";
import { soleHeights } from "../shared/sole-heights.ts";

/** How high the lowest point of the sole is over the surface, in the middle one of the frames by height. */
export const recompute: Recompute = (note, shot) => median(soleHeights(note, shot));
