import type { Recompute } from "../shared/compare.ts";
import { fallBetween, freeFrom } from "../shared/fall.ts";
import type { Sampled } from "../shared/sampled.ts";

/**
 * Frames from the first one at which the body falls (by 0.3 m/s) and is driven up by more than 0.35 g over its own fall, to the contact
 * with which the note ends. It is driven so from the note's first frame on. Of a stop in mid step, the share of its speed that is left.
 */
export const recompute: Recompute = (note, shot) => {
  const hips = shot.nodeOf(note);
  const [from, lands] = shot.spanOf(note);
  if (note.measured.unit === "share") return speedLeft(shot, hips, from, lands);
  const figure = shot.figureOf(hips);
  const { over, speed } = fallBetween(shot, hips, freeFrom(shot, figure, lands - 1, -1), lands - 1);
  const isBraked = (i: number) => over(i) > 0.35 * 9.80665 && speed(i) < -0.3;
  let first = from;
  while (isBraked(first - 1)) first--;
  return isBraked(from) ? lands - first : Number.NaN;
};

/**
 * The hips' least speed over the ground before the landing, over the lesser of its peaks: the one in six frames and more before,
 * the one from there to three frames behind the landing.
 */
function speedLeft(shot: Sampled, hips: number, from: number, lands: number): number {
  const frames = Math.round((6 * shot.rate) / 24);
  const place = (i: number) => shot.at(hips, Math.min(shot.count - 1, Math.max(0, i)));
  const speed = (i: number) =>
    Math.hypot(place(i + 1)[0] - place(i - 1)[0], place(i + 1)[2] - place(i - 1)[2]) / 2;
  let slowest = from;
  for (let i = from; i < lands; i++) if (speed(i) < speed(slowest)) slowest = i;
  const most = (a: number, b: number) => {
    let best = 0;
    for (let i = a; i <= b; i++) best = Math.max(best, speed(i));
    return best;
  };
  const before = most(Math.max(0, slowest - frames), slowest - 1);
  const after = most(slowest + 1, lands + (frames >> 1));
  return speed(slowest) / Math.min(before, after);
}
