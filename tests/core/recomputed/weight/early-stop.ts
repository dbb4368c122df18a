import type { Recompute } from "../shared/compare.ts";
import { fallBetween, freeFrom } from "../shared/fall.ts";

/**
 * Frames from the first one at which the body falls (by 0.3 m/s) and is driven up by more than 0.35 g over its own fall, to the contact
 * with which the note ends. It is driven so from the note's first frame on.
 */
export const recompute: Recompute = (note, shot) => {
  const hips = shot.nodeOf(note);
  const [from, lands] = shot.spanOf(note);
  const figure = shot.figureOf(hips);
  const { over, speed } = fallBetween(shot, hips, freeFrom(shot, figure, lands - 1, -1), lands - 1);
  const isBraked = (i: number) => over(i) > 0.35 * 9.80665 && speed(i) < -0.3;
  let first = from;
  while (isBraked(first - 1)) first--;
  return isBraked(from) ? lands - first : Number.NaN;
};
