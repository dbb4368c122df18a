import { medianOf } from "../../../base/median.ts";
import type { Study } from "../../../base/study.ts";
import { marginAt, supportPolygonOf } from "../../../motion/body/balance.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { bodyContactAt } from "../../../motion/ground/contact.ts";
import { heelShare } from "../../../motion/ground/soles.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { lengthShare } from "../../../rig/proportions.ts";
import { gridOf } from "../../../time/grid.ts";

/**
 * How far the sole of a body that is no human may reach around its points, metres: as far as a human's behind its ankle,
 * and as far outside them as its mass is over more than half of the time that it stands.
 */
export function unknownSole(study: Study, figure: number): number {
  if (figuresOf(study)[figure].kind === "human") return 0;
  return Math.max(heelShare * lengthShare.foot * statureOf(study, figure), usualReach(study, figure));
}

/** How far outside what carries a body its mass usually is, metres: the median of six samples a second at which it stands. */
function usualReach(study: Study, figure: number): number {
  const centre = massCentreOf(study, figure);
  const stands = bodyContactAt(study, figure);
  const ways: number[] = [];
  // A hull per sample costs more than all the rest; a median needs but some of them.
  const stride = Math.max(1, Math.round(gridOf(study).rate / 6));
  for (let i = 0; i < stands.length; i += stride) {
    if (stands[i] === 0) continue;
    const hull = supportPolygonOf(study, figure, i);
    if (hull.length > 0) ways.push(-marginAt(hull, centre[3 * i], centre[3 * i + 2]));
  }
  return ways.length === 0 ? 0 : medianOf(ways);
}
