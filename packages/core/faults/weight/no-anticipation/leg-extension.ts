import type { Study } from "../../../base/study.ts";
import { airborneAt } from "../../../motion/body/flight.ts";
import { groundOf } from "../../../motion/ground/contact.ts";
import { footCountOf } from "../../../motion/ground/feet.ts";
import { heightAt } from "../../../motion/ground/surface.ts";
import { statureOf } from "../../../rig/body.ts";
import { limbReachOf, limbsOf } from "../../../rig/limb.ts";

/** A body on more than two legs stands as high as it does in a quarter of its time on the ground (our choice). */
const standingShare = 0.25;

/** By what share of their length legs extend, and in how many samples they are bent by more than half of that. */
export interface Extension {
  readonly share: number;
  readonly bent: number;
}

/**
 * How the legs extend between their most bent in some samples and the last of these. Legs that stand bent, as those of
 * animals do, are not crouched by that: there it is up to where they stand. It is that of the leg that extends most.
 */
export function extensionIn(study: Study, figure: number, first: number, last: number): Extension {
  const isUpright = footCountOf(study, figure) <= 2;
  const air = airborneAt(study, figure);
  let most: Extension = { share: 0, bent: 0 };
  for (const { kind, root, end, upper, lower } of limbsOf(study, figure)) {
    if (kind !== "leg") continue;
    const reach = limbReachOf(study, root, end);
    let least = reach[last];
    for (let i = first; i <= last; i++) least = Math.min(least, reach[i]);
    const stands = isUpright ? reach[last] : Math.min(reach[last], standingReach(reach, air));
    const share = (stands - least) / (upper + lower);
    if (share <= most.share) continue;
    let bent = 0;
    for (let i = first; i <= last; i++) if (reach[i] <= (stands + least) / 2) bent++;
    most = { share, bent };
  }
  return most;
}

/** Height of the centre of mass of a body that stands upright, body heights (de Leva 1996: 0.55 to 0.57). */
const upright = 0.55;

/**
 * How high the centre of mass of a body on more than two legs stands, metres, and what share of its stature a body is tall
 * that stands as high upright: legs push, and the stature of an animal counts its trunk and its tail too.
 * @param path of the centre of mass, 3 numbers per sample
 * @param leaves sample at which it leaves the ground on which it stands, since it last came down
 */
export function standOf(
  study: Study,
  figure: number,
  path: Float64Array,
  leaves: number,
): { readonly height: number; readonly size: number } {
  const air = airborneAt(study, figure);
  let first = leaves;
  while (first > 0 && air[first - 1] === 0) first--;
  const heights = path.filter((_, k) => k % 3 === 1 && k >= 3 * first && k < 3 * leaves);
  const height = standingReach(heights, air.subarray(first, leaves));
  const ground = groundOf(study);
  let over = Number.POSITIVE_INFINITY;
  for (let i = first; i < leaves; i++)
    if (path[3 * i + 1] === height) over = Math.min(over, heightAt(ground, path, i));
  return { height, size: Math.min(1, Math.max(0, over) / upright / statureOf(study, figure)) };
}

function standingReach(reach: Float64Array, air: Uint8Array): number {
  const grounded = reach.filter((_, i) => air[i] === 0).sort();
  return grounded[Math.floor((1 - standingShare) * (grounded.length - 1))] ?? Number.POSITIVE_INFINITY;
}
