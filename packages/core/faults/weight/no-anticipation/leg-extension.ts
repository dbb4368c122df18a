import type { Study } from "../../../base/study.ts";
import { airborneAt } from "../../../motion/body/flight.ts";
import { footCountOf } from "../../../motion/ground/feet.ts";
import { limbReachOf, limbsOf } from "../../../rig/limb.ts";

/** A body on more than two legs stands as high as it does in a quarter of its time on the ground (our choice). */
const standingShare = 0.25;

/**
 * By what share of their length the legs extend between their most bent in some samples and the last of these. Legs that
 * stand bent, as those of animals do, are not crouched by that: there it is up to where they stand.
 */
export function extensionIn(study: Study, figure: number, first: number, last: number): number {
  const isUpright = footCountOf(study, figure) <= 2;
  const air = airborneAt(study, figure);
  let most = 0;
  for (const { kind, root, end, upper, lower } of limbsOf(study, figure)) {
    if (kind !== "leg") continue;
    const reach = limbReachOf(study, root, end);
    let least = reach[last];
    for (let i = first; i <= last; i++) least = Math.min(least, reach[i]);
    const stands = isUpright ? reach[last] : standingReach(reach, air);
    most = Math.max(most, (Math.min(reach[last], stands) - least) / (upper + lower));
  }
  return most;
}

function standingReach(reach: Float64Array, air: Uint8Array): number {
  const grounded = reach.filter((_, i) => air[i] === 0).sort();
  return grounded[Math.floor((1 - standingShare) * (grounded.length - 1))] ?? Number.POSITIVE_INFINITY;
}
