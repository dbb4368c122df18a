import { type FootPlant, footPlantsOf } from "../../../motion/ground/foot-plant.ts";
import { withRoll } from "../../../motion/ground/foot-roll.ts";
import type { Subject } from "../../fix.ts";

/** The stance that a note's foot is in at its last frame. */
export function stanceAtEnd({ study, figure, node, to }: Subject): FootPlant | null {
  if (figure < 0) return null;
  return (
    footPlantsOf(study, figure).find((stance) => {
      const { leg, from, to: end } = withRoll(study, figure, stance);
      return leg.end === node && from <= to && end >= to;
    }) ?? null
  );
}
