import { rotateVector } from "../../../base/quaternion.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import type { PlantedContact } from "../../../motion/ground/contact-plants.ts";
import { levelWidthShare } from "../../../motion/ground/foot-points.ts";
import {
  downIn,
  farthestSquared,
  farthestTravel,
  soleCourse,
  type Travel,
} from "../../../motion/ground/slide.ts";
import { heightAt } from "../../../motion/ground/surface.ts";
import { statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import type { Span } from "../../../time/span.ts";
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
  const soleUnder = (of: PlantedContact) => movedSole(study, of, { from, to });
  const own = soleUnder(planted);
  const others = other === null ? null : soleUnder(other);
  const both = other === null ? null : downIn(downAt(study, figure, other), { from, to });
  const room = floats(3 * (to - from + 1));
  return {
    sees: ["slide", contact.surface.normal, own.offset, others?.offset ?? [], both ?? []],
    kind: "position",
    subject: contact.node,
    others: other === null ? [] : [other.contact.node],
    lo: from,
    hi: to,
    from: between.from,
    to: between.to,
    strength: (path, [toes]) => {
      const { normal } = contact.surface;
      if (others === null || both === null) return farthestTravel(own.path(path), run, normal);
      const course = soleCourse(own.path(path), others.path(toes), both, run, room);
      let least = Number.POSITIVE_INFINITY;
      for (const share of shares) least = Math.min(least, farthestSquared(course(share), run, normal, least));
      return Math.sqrt(least);
    },
  };
}

/**
 * To how many places in a metre it is known where a sole lies under its joint: to the millimetre. A sole's place comes from
 * all of its plants, and would else be another one after an edit of any of them.
 */
const soleSteps = 1000;

/**
 * The path of the point of a sole that goes with its joint where that is moved: that the foot turns meanwhile moves it
 * little. Each path is written over the last one.
 */
function movedSole(study: Study, { contact: { node }, offset: exact }: PlantedContact, { from, to }: Span) {
  const offset = Float64Array.from(exact, (way) => Math.round(way * soleSteps) / soleSteps);
  let ways: Float64Array | null = null;
  const path = floats(3 * (to - from + 1));
  // Asked for where it is measured, so that a trial hangs on how the foot is turned in its own samples.
  const waysDown = () => {
    const { orientation } = worldOf(study, node);
    const down = floats(3 * (to - from + 1));
    for (let i = from; i <= to; i++) rotateVector(orientation, 4 * i, offset, 0, down, 3 * (i - from));
    return down;
  };
  const pathOf = (moved: Float64Array) => {
    ways ??= waysDown();
    for (let k = 0; k < path.length; k++) path[k] = moved[k] + ways[k];
    return path;
  };
  return { offset, path: pathOf };
}

/** Tells whether an end of a foot is down at a sample. */
export function downAt(
  study: Study,
  figure: number,
  { contact, path, level }: PlantedContact,
): (i: number) => boolean {
  const { from, to, surface } = contact;
  const highest = level + levelWidthShare * statureOf(study, figure);
  return (i) => i >= from && i <= to && heightAt(surface, path, i) <= highest;
}
