import { medianOf, perMedianDeviation } from "../../../base/median.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { nodeContactAt } from "../../../motion/ground/contact.ts";
import { type FootOverSurface, lowestOf } from "../../../motion/ground/sole-heights.ts";

/**
 * From this share of the body's height on an error of a foot is plain to everybody: 21 mm of a grown person. Feet that
 * slide are seen from less than that on in most conditions (Pražák, Hoyet, O'Sullivan 2011, abstract); what is smaller
 * may be seen too, and is no major note.
 */
export const plainlySeen = 0.0125;

/** What lies farther out than this many standard deviations is no noise (common practice). */
const noiseDeviations = 3;
/** Fewer samples on the ground than this do not tell how exactly feet stand in a shot: half a second. */
const fewest = 12;

/**
 * How far from its level a foot may be, metres: as exactly as the other feet of this shot stand, or all of them where
 * these do not tell, no finer than what is seen and no coarser than a limit. Feet that are keyed stand within a
 * millimetre; those that were captured wander. What a foot is judged by is not learned from that foot itself.
 * @param feet of one figure over one surface
 * @param judged one of them
 * @param seen what is seen of a gap at all, metres
 * @param limit metres
 * @param usual the limit that nobody set, metres: one that was raised is meant, as on soft ground, and counts alone
 */
export function standLimit(
  study: Study,
  feet: readonly FootOverSurface[],
  judged: FootOverSurface,
  seen: number,
  limit: number,
  usual: number,
): number {
  if (limit > usual * (1 + 1e-9)) return limit;
  const near = 2 * limit;
  const others = offLevels(
    study,
    feet.filter((foot) => foot !== judged),
    near,
  );
  const off = others.length >= fewest ? others : offLevels(study, feet, near);
  if (off.length < fewest) return limit;
  const noise = noiseDeviations * perMedianDeviation * medianOf(off);
  return Math.min(limit, Math.max(seen, noise));
}

/** How far feet are from their level at the samples at which they touch something near it, metres. */
function offLevels(study: Study, feet: readonly FootOverSurface[], near: number): Float64Array {
  let count = 0;
  for (const foot of feet) count += lowestOf(foot).length;
  const off = floats(count);
  count = 0;
  for (const foot of feet) {
    const lowest = lowestOf(foot);
    const touches = foot.points.map(({ node }) => nodeContactAt(study, node));
    for (let i = 0; i < lowest.length; i++) {
      const height = Math.abs(lowest[i]);
      if (height < near && anyAt(touches, i)) off[count++] = height;
    }
  }
  return off.subarray(0, count);
}

/** Whether one of some flags is set at a sample. */
function anyAt(flags: readonly Uint8Array[], sample: number): boolean {
  for (const flag of flags) if (flag[sample] === 1) return true;
  return false;
}
