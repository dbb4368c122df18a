import { referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import { type PlantTravel, plantTravelsByFoot } from "../../../motion/ground/plant-travel.ts";
import { statureOf } from "../../../rig/body.ts";
import { type Limb, limbsOf } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { shiftedCourse } from "../../shared/posing/end-courses.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { valuesOf } from "../../values.ts";
import { contactSlide } from "./check.ts";

export const contactSlideFix = defineFix(contactSlide, {
  what: "Holds a planted foot where it stands; the leg follows, and the swing before or after it makes up the way.",
  title: ({ node, frames }) =>
    `hold ${node ?? "the foot"} where it stands over frames ${frames[0]} to ${frames[1]}`,
  *propose(subject) {
    const { shot } = subject;
    const { figure, node, finding } = subject;
    const { numbers } = finding;
    if (figure < 0 || node < 0 || !("travel" in numbers)) return;
    const stretch = slidingStretch(subject);
    if (stretch === null) return;
    const { from, to } = stretch.plant;
    // Where it came down first: what led it there was meant.
    const holds = new Set([from, numbers.hold, to, (from + to) >> 1]);
    for (const hold of holds) {
      for (const fade of [4, 6, 9, 14]) yield held(subject, shot, stretch, hold, fade);
    }
  },
});

/** The plant that a note is about: the one that slides farthest over its frames. */
function slidingStretch({ study, figure, from, to, node }: Subject): PlantTravel | null {
  const { step } = valuesOf(study, contactSlide, figure);
  const leg = limbsOf(study, figure).find(({ end }) => end === node);
  let best: PlantTravel | null = null;
  for (const stretch of plantTravelsByFoot(study, figure, step).flat()) {
    const { contact } = stretch.planted;
    const isOwn = contact.node === node || contact.node === leg?.ball;
    if (!isOwn || stretch.between.from > to || stretch.between.to < from) continue;
    if (best === null || stretch.travel > best.travel) best = stretch;
  }
  return best;
}

/** The leg's keys with the sliding point held where it is at a sample, until the foot leaves. */
function held(
  { study, figure, node }: Subject,
  shot: Shot,
  { planted, plant }: PlantTravel,
  hold: number,
  fade: number,
): KeyEdit[] {
  const { path, contact } = planted;
  const { rate } = gridOf(study);
  const [nx, ny, nz] = contact.surface.normal;
  const samples = Math.max(1, Math.round((fade * rate) / referenceRate));
  const leg = limbsOf(study, figure).find(({ end }) => end === node);
  if (leg === undefined) return [];
  const rest = { from: plant.from, to: restAfter(study, figure, leg, plant.to) };
  const course = shiftedCourse(study, node, { ...rest, before: samples, after: samples }, (i) => {
    // Beyond the plant the foot rolls on as it did, from where it is now.
    const at = 3 * Math.min(plant.to, Math.max(plant.from, i));
    const v = [0, 1, 2].map((k) => path[3 * hold + k] - path[at + k]);
    const out = v[0] * nx + v[1] * ny + v[2] * nz;
    return [v[0] - out * nx, v[1] - out * ny, v[2] - out * nz];
  });
  return withEndsKept(study, shot, [], new Map([[node, course]]));
}

/** Slower than this a foot rests, or rolls off, and does not swing yet, body heights per second (our choice). */
const slowSpeed = 0.1;

/** The last sample to which ankle or ball go on being slow: a foot that has slid stands there until it leaves. */
function restAfter(study: Study, figure: number, { end, ball }: Limb, from: number): number {
  const { rate, count } = gridOf(study);
  const slow = (slowSpeed * statureOf(study, figure)) / rate;
  const paths = [end, ball].flatMap((point) => (point < 0 ? [] : [worldOf(study, point).position]));
  const isSlow = (i: number) => paths.some((path) => distanceBetween(path, i - 1, path, i) < slow);
  let last = from;
  while (last + 1 < count && isSlow(last + 1)) last++;
  return last;
}
