import type { Study } from "../../../base/study.ts";
import type { PlantedContact } from "../../../motion/ground/contact-plants.ts";
import { levelWidthShare } from "../../../motion/ground/foot-points.ts";
import { farthestTravel, soleTravel, type Travel } from "../../../motion/ground/slide.ts";
import { heightsOver } from "../../../motion/ground/surface.ts";
import { statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import type { SeriesFault } from "../../trial.ts";

/** The travel of a foot from stand to stand, as it is told, measured again. */
export function slideFault(
  study: Study,
  figure: number,
  planted: PlantedContact,
  other: PlantedContact | null,
  { between, stands: { from, to } }: Pick<Travel, "between" | "stands">,
): SeriesFault {
  const { contact } = planted;
  const run = { from: 0, to: to - from };
  // A point of the sole goes with its joint: that the foot turns meanwhile moves it little.
  const soleUnder = ({ contact: { node }, path }: PlantedContact) => {
    const joint = worldOf(study, node).position;
    return (moved: Float64Array) => moved.map((place, k) => path[3 * from + k] + place - joint[3 * from + k]);
  };
  const own = soleUnder(planted);
  const others = other === null ? null : soleUnder(other);
  const isDown = other === null ? null : downAt(study, figure, other);
  return {
    kind: "position",
    subject: contact.node,
    others: other === null ? [] : [other.contact.node],
    lo: from,
    hi: to,
    from: between.from,
    to: between.to,
    strength: (path, [toes]) =>
      others === null || isDown === null
        ? farthestTravel(own(path), run, contact.surface.normal)
        : soleTravel(own(path), others(toes), (i) => isDown(i + from), run, contact.surface.normal).travel,
  };
}

/** Tells whether an end of a foot is down at a sample. */
export function downAt(
  study: Study,
  figure: number,
  { contact, path, level }: PlantedContact,
): (i: number) => boolean {
  const { from, to, surface } = contact;
  const heights = heightsOver(surface, path.subarray(3 * from, 3 * to + 3));
  const highest = level + levelWidthShare * statureOf(study, figure);
  return (i) => i >= from && i <= to && heights[i - from] <= highest;
}
