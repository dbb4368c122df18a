import { referenceRate } from "../../../base/constants.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import { type PlantTravel, plantTravelsByFoot } from "../../../motion/ground/plant-travel.ts";
import { limbsOf } from "../../../rig/limb.ts";
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
    const { study, figure, node, finding } = subject;
    const { numbers } = finding;
    if (figure < 0 || node < 0 || !("travel" in numbers)) return;
    const stretch = slidingStretch(subject);
    if (stretch === null) return;
    const { from, to } = stretch.plant;
    // A foot that has stood for a while before it slides stays where it stood: what led it there was meant.
    const hasStood = subject.from - from > Math.round((settling * gridOf(study).rate) / referenceRate);
    const holds = new Set([numbers.hold, from, to, (from + to) >> 1]);
    for (const fade of [4, 6, 9, 14]) {
      if (hasStood) yield held(subject, shot, stretch, from, fade);
      const edits = [...holds].map((hold) => held(subject, shot, stretch, hold, fade));
      yield* edits.sort((a, b) => a.length - b.length);
    }
  },
});

/** A foot settles in so many frames (at 24 per second): a quarter of a second. */
const settling = 6;

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

/** The leg's keys with the sliding point held where it is at a sample. */
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
  const course = shiftedCourse(study, node, { ...plant, before: samples, after: samples }, (i) => {
    const v = [0, 1, 2].map((k) => path[3 * hold + k] - path[3 * i + k]);
    const out = v[0] * nx + v[1] * ny + v[2] * nz;
    return [v[0] - out * nx, v[1] - out * ny, v[2] - out * nz];
  });
  const isLeg = limbsOf(study, figure).some(({ end }) => end === node);
  return isLeg ? withEndsKept(study, shot, [], new Map([[node, course]])) : [];
}
