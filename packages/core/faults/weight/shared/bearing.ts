import { referenceRate, standardGravity } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { massCentreVelocityOf } from "../../../motion/body/mass-centre.ts";
import { propulsorsOf } from "../../../motion/body/propulsors.ts";
import { slowShare, standingSpeedOf } from "../../../motion/ground/foot.ts";
import { levelWidthShare } from "../../../motion/ground/foot-points.ts";
import { type FootOverSurface, lowestOf } from "../../../motion/ground/sole-heights.ts";
import { heldOf } from "../../../motion/path/held.ts";
import { statureOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";

/**
 * A foot that keeps still for fewer frames (at 24 per second) than this is on its way: half a step of a walk on
 * twelves.
 */
export const hoverFrames = 6;
/** A body whose centre of mass is accelerated downward by less than this share of gravity is carried by something (our choice). */
const fallShare = 0.5;

/**
 * Stretches in which a foot bears its figure, however far over the ground it does so: nothing else carries it, and it does
 * not fall. What bears stands, if it keeps its height and goes no faster than a foot that may stand; whether it slides
 * as well is a question of its own. The stretch goes on where the foot does so beside another one that stands.
 * @param carried 1 at the samples at which something else carries the figure
 * @param stands whether the foot may stand in the air at a sample, by where and how it is
 */
export function bearingOf(
  study: Study,
  figure: number,
  foot: FootOverSurface,
  { carried, stands }: { readonly carried: Uint8Array; readonly stands: (sample: number) => boolean },
): Span[] {
  if (propulsorsOf(study, figure).length > 0) return [];
  const { rate, count } = gridOf(study);
  const stature = statureOf(study, figure);
  const lowest = lowestOf(foot);
  const speeds = foot.points.map(({ node }) => standingSpeedOf(study, node));
  // Poses that step keys hold have no speed, and tell nothing of a fall.
  const held = heldOf(study, foot.ankle);
  const isSlow = (i: number) => speeds.some((speed) => speed[i] < slowShare * stature);
  const mayStand = (i: number) => i >= 0 && i < count && held[i] === 0 && stands(i) && isSlow(i);
  const width = levelWidthShare * stature;
  const least = (hoverFrames * rate) / referenceRate;
  const found: Span[] = [];
  for (let i = 0; i < count; i++) {
    if (carried[i] === 1 || !mayStand(i)) continue;
    let [low, high] = [lowest[i], lowest[i]];
    const isLevel = (k: number) => Math.max(high, lowest[k]) - Math.min(low, lowest[k]) <= width;
    const take = (k: number) => {
      low = Math.min(low, lowest[k]);
      high = Math.max(high, lowest[k]);
    };
    let [from, to] = [i, i];
    while (to + 1 < count && carried[to + 1] === 0 && mayStand(to + 1) && isLevel(to + 1)) take(++to);
    i = to;
    if (to - from + 1 < least || falls(study, figure, from, to)) continue;
    while (mayStand(from - 1) && isLevel(from - 1)) take(--from);
    while (mayStand(to + 1) && isLevel(to + 1)) take(++to);
    found.push({ from, to });
    i = to;
  }
  return found;
}

/** Whether a body falls from one sample to another, rising or sinking. */
function falls(study: Study, figure: number, from: number, to: number): boolean {
  const velocity = massCentreVelocityOf(study, figure);
  const gained = velocity[3 * to + 1] - velocity[3 * from + 1];
  return gained <= -fallShare * standardGravity * (to - from) * gridOf(study).dt;
}
