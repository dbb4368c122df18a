import type { Study } from "../../../base/study.ts";
import { nodeContactAt } from "../../../motion/ground/contact.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { limbReachOf, limbsOf } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { drawnFlightsOf } from "../shared/drawn-flights.ts";

/** A landing from pose to pose of blocked work. */
export interface DrawnLanding {
  /** Last sample in the air, the first one on the ground, and the one at which the legs are bent most. */
  readonly air: number;
  readonly lands: number;
  readonly lowest: number;
  /** Metres from the highest pose in the air to the one in which it lands. */
  readonly fall: number;
  /** Metres by which the legs that stand are bent: how much shorter the straighter one is than its bones. */
  readonly bent: number;
}

/**
 * Landings of a figure in poses of step keys. No speed tells of the fall, and one pose may both touch and give: what gives is
 * how far the legs are bent in any pose of the time in which bodies give.
 * @param window seconds after the contact in which a body gives
 */
export function drawnLandingsOf(study: Study, figure: number, window: number): DrawnLanding[] {
  const { count, dt } = gridOf(study);
  const path = worldOf(study, hipsOf(study, figure)).position;
  const legs = limbsOf(study, figure).filter(({ kind }) => kind === "leg");
  return drawnFlightsOf(study, figure).flatMap(({ from, to }) => {
    const lands = to + 1;
    const last = Math.floor(lands + window / dt);
    // What the shot cuts off may give behind the cut.
    if (lands >= count || last >= count) return [];
    let top = path[3 * from + 1];
    for (let i = from; i <= to; i++) top = Math.max(top, path[3 * i + 1]);
    let bent = 0;
    let lowest = lands;
    for (let i = lands; i <= last; i++) {
      let straightest = Number.POSITIVE_INFINITY;
      for (const { root, end, upper, lower } of legs) {
        if (nodeContactAt(study, end)[i] === 0) continue;
        straightest = Math.min(straightest, upper + lower - limbReachOf(study, root, end)[i]);
      }
      if (straightest <= bent || straightest === Number.POSITIVE_INFINITY) continue;
      bent = straightest;
      lowest = i;
    }
    // Where no foot is known to stand, hands, a seat or a roll take the fall.
    const stands = legs.some(({ end }) => nodeContactAt(study, end)[lands] === 1);
    return stands ? [{ air: to, lands, lowest, fall: top - path[3 * lands + 1], bent }] : [];
  });
}
