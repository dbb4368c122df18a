import { type Stance, stancesOf } from "../../../motion/ground/stance.ts";
import type { Subject } from "../../fix.ts";

/** The stance that a note's foot is in at its last frame. */
export function stanceAtEnd({ study, figure, node, to }: Subject): Stance | null {
  if (figure < 0) return null;
  return (
    stancesOf(study, figure).find(
      (stance) => stance.leg.end === node && stance.from <= to && stance.to >= to,
    ) ?? null
  );
}
