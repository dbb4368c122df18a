import type { Note } from "@keyside/core";
import type { Recompute } from "../shared/compare.ts";
import { fallBetween, freeFrom } from "../shared/fall.ts";
import type { Sampled } from "../shared/sampled.ts";

/**
 * After a take-off: frames from the last contact to the last one at which the body is driven up by more than 0.3 g over its
 * own fall. For wings: frames from the start of the stroke to that of the lift, below 0 where the body is first.
 */
export const recompute: Recompute = (note, shot) => {
  const { quantity } = note.measured;
  if (quantity.includes("take-off")) return leadOfStroke(note, shot);
  return quantity.includes("wings") ? leadOfWings(note, shot) : lateGain(note, shot);
};

/**
 * Frames from the first one without a foot down to the one from which the end of the wing, seen from the body, sinks; not
 * to be told where it sank before.
 */
function leadOfStroke(note: Note, shot: Sampled): number {
  const [from, to] = shot.spanOf(note);
  const hips = shot.nodeOf(note);
  const isDown = (i: number) =>
    shot.contacts(shot.figureOf(hips)).some((contact) => contact.from <= i && i <= contact.to);
  let tip = shot.node(note.keys[0]?.node);
  while (shot.rig.children[tip].length > 0) [tip] = shot.rig.children[tip];
  const over = (i: number) => shot.at(tip, i)[1] - shot.at(hips, i)[1];
  const strikes = over(to + 1) < over(to) && over(to) >= over(to - 1) - 1e-6;
  return strikes && isDown(from - 1) && !isDown(from) ? from - to : Number.NaN;
}

function lateGain(note: Note, shot: Sampled): number {
  const hips = shot.nodeOf(note);
  const [first, to] = shot.spanOf(note);
  const figure = shot.figureOf(hips);
  const { over } = fallBetween(shot, hips, first, freeFrom(shot, figure, to, 1));
  const isDriven = (i: number) => over(i) > 0.3 * 9.80665;
  let last = to;
  while (isDriven(last + 1)) last++;
  return isDriven(to) ? last - first + 1 : Number.NaN;
}

/** The lift has begun where the upward acceleration, over two frames on either side, has a third of its peak. */
function leadOfWings(note: Note, shot: Sampled): number {
  const hips = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const reach = Math.max(1, Math.round((2 * shot.rate) / 24));
  const around = Math.round((10 * shot.rate) / 24);
  const lift = (i: number) =>
    shot.at(hips, i + reach)[1] - 2 * shot.at(hips, i)[1] + shot.at(hips, i - reach)[1];
  // The body is first: the note begins with its lift and ends with the stroke.
  const first = Math.max(reach, to - around);
  const last = Math.min(shot.count - 1 - reach, to + around);
  let peak = first;
  for (let i = first; i <= last; i++) if (lift(i) > lift(peak)) peak = i;
  let rise = peak;
  while (rise > first && lift(rise - 1) > lift(peak) / 3) rise--;
  return rise === from || from === to ? from - to : Number.NaN;
}
