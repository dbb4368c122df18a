import type { Study } from "../../../base/study.ts";
import { clearanceOf, type Flight } from "../../../motion/body/flight.ts";
import { bodyContactAt } from "../../../motion/ground/contact.ts";
import { footCountOf } from "../../../motion/ground/feet.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { buoyedAt } from "../../../motion/ground/medium.ts";
import { cutsOf } from "../../../motion/path/cuts.ts";
import { statureOf } from "../../../rig/body.ts";
import { isReachedAt } from "../../../settings/stage.ts";
import { runsWhere } from "../../../time/span.ts";

/** What is asked of a flight: its samples, and when its last point leaves the ground. */
export type TakeOff = Pick<Flight, "from" | "to" | "takeOff">;

/** A flight gets at least this far off the ground, in body heights, as one that is a motion does (our choice). */
const clearShare = 0.03;

/**
 * Flights of blocked work, in order: poses of step keys in which nothing supports a figure and it is clear of the ground, after
 * one in which it stands. No parabola runs through them.
 */
export function drawnFlightsOf(study: Study, figure: number): TakeOff[] {
  const cuts = new Set(cutsOf(study, hipsOf(study, figure)));
  // What leaps on more than two legs rears in one pose and is stretched out in the next: none of its heights tells of a push.
  if (cuts.size === 0 || footCountOf(study, figure) > 2) return [];
  const supported = bodyContactAt(study, figure);
  const buoyed = buoyedAt(study, figure);
  const clearance = clearanceOf(study, figure);
  const clear = clearShare * statureOf(study, figure);
  return runsWhere(supported.length, (i) => supported[i] === 0 && buoyed[i] === 0).flatMap(({ from, to }) => {
    const isClear = clearance.subarray(from, to + 1).some((height) => height >= clear);
    const isDrawn = from > 0 && cuts.has(from) && !isReachedAt(study, "splining", from, from);
    return isDrawn && isClear ? [{ from, to, takeOff: from - 1 }] : [];
  });
}
