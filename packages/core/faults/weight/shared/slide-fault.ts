import type { Study } from "../../../base/study.ts";
import type { PlantedContact } from "../../../motion/ground/contact-plants.ts";
import { levelWidthShare } from "../../../motion/ground/foot-points.ts";
import { farthestTravel, soleCourse, type Travel } from "../../../motion/ground/slide.ts";
import { heightsOver } from "../../../motion/ground/surface.ts";
import { statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import type { SeriesFault } from "../../trial.ts";

/** Points of the sole, by their share of the way from end to end, of which the one that travels least is told. */
const shares = [0, 0.25, 0.5, 0.75, 1] as const;

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
    strength: (path, [toes]) => {
      const { normal } = contact.surface;
      if (others === null || isDown === null) return farthestTravel(own(path), run, normal);
      const course = soleCourse(own(path), others(toes), (i) => isDown(i + from), run);
      return shares.reduce(
        (least, share) => Math.min(least, farthestTravel(course(share), run, normal)),
        Infinity,
      );
    },
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
