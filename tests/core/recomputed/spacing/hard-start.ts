import type { Recompute } from "../shared/compare.ts";
import { framesOfEnd } from "./hard-ends.ts";

export const recompute: Recompute = (note, shot) => framesOfEnd(note, shot, 1);
