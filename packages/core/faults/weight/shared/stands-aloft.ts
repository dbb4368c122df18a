import { measure, type Study } from "../../../base/study.ts";
import { type Contact, groundOf } from "../../../motion/ground/contact.ts";
import { type PlantedContact, plantedIn } from "../../../motion/ground/contact-plants.ts";
import { footPointsOf } from "../../../motion/ground/feet.ts";
import { levelWidthShare } from "../../../motion/ground/foot-points.ts";
import { type PlantTravel, plantTravelsByFoot } from "../../../motion/ground/plant-travel.ts";
import { soleHeights } from "../../../motion/ground/sole-heights.ts";
import { statureOf } from "../../../rig/body.ts";
import { isGroundSeen } from "./ground-seen.ts";
import { hoversOf } from "./hovers.ts";

/**
 * Feet that stand in the air, as contacts with the ground under them: that they hover is one fault, and must not hide what
 * else is wrong with their stand.
 */
const standsAloftOf = measure("stands aloft", (study, figure: number): readonly PlantedContact[] => {
  const ground = groundOf(study);
  if (!isGroundSeen(study, figure, ground)) return [];
  const gap = levelWidthShare * statureOf(study, figure);
  const found: PlantedContact[] = [];
  for (const foot of soleHeights(study, figure, ground)) {
    const own = footPointsOf(study, figure).filter((point) => point.foot === foot.ankle);
    for (const { from, to } of hoversOf(study, figure, foot, ground, gap).inAir()) {
      for (const { node, point } of own) {
        const contact: Contact = {
          node,
          point,
          from,
          to,
          surface: ground,
          declared: false,
          slides: false,
          landing: 0,
        };
        const planted = plantedIn(study, figure, contact);
        if (planted.plants.length > 0) found.push(planted);
      }
    }
  }
  return found;
});

/** The plants of a figure's contacts by foot (see `plantTravelsByFoot`), with those of feet that stand in the air. */
export function travelsByFoot(study: Study, figure: number, stepSpeed: number): PlantTravel[][] {
  return plantTravelsByFoot(study, figure, stepSpeed, standsAloftOf(study, figure));
}
