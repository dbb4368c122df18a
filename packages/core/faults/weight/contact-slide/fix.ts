import { referenceRate } from "../../../base/constants.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import { limbOfFoot, type PosedLimb } from "../../../motion/ground/all-limbs.ts";
import type { PlantTravel } from "../../../motion/ground/plant-travel.ts";
import { restOfFoot } from "../../../motion/ground/rest-around.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { shiftedCourse } from "../../shared/posing/end-courses.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { keysOut } from "../../shared/posing/keys-out.ts";
import { withoutBulge } from "../../shared/posing/lowered-handles.ts";
import { valuesOf } from "../../values.ts";
import { travelsByFoot } from "../shared/stands-aloft.ts";
import { contactSlide } from "./check.ts";

export const contactSlideFix = defineFix(contactSlide, {
  what: "Lowers the handles of a curve that bulges over the plant. Else holds a planted foot where it stands; the leg follows, and the swing before or after it makes up the way. Else takes out a key that takes the foot along.",
  title: ({ node, frames }) =>
    `hold ${node ?? "the foot"} where it stands over frames ${frames[0]} to ${frames[1]}`,
  *propose(subject) {
    yield* withoutBulge(subject);
    const { shot } = subject;
    const { study, figure, node, finding } = subject;
    const { numbers } = finding;
    if (figure < 0 || node < 0 || !("travel" in numbers)) return;
    const leg = limbOfFoot(study, figure, node);
    const stretch = leg === null ? null : slidingStretch(subject, leg);
    if (leg === null || stretch === null) return;
    const { from, to } = stretch.plant;
    // Where it came down first: what led it there was meant.
    const holds = new Set([from, numbers.hold, to, (from + to) >> 1]);
    // What stands is held by the point that slides; or by the heel, where the foot turns about it in a slip of its own.
    const points = [stretch.planted.path, worldOf(study, leg.end).position];
    for (const hold of holds) {
      for (const fade of [4, 6, 9, 14]) {
        for (const path of points) yield held(subject, shot, leg, stretch, path, hold, fade);
      }
    }
    // Where the leg cannot make it up, a key that takes the foot along may be one that nobody meant.
    yield* keysOut(subject);
  },
});

/** The plant that a note is about: the one that slides farthest over its frames. */
function slidingStretch({ study, figure, from, to, node }: Subject, leg: PosedLimb): PlantTravel | null {
  const { step } = valuesOf(study, contactSlide, figure);
  let best: PlantTravel | null = null;
  for (const stretch of travelsByFoot(study, figure, step).flat()) {
    const { contact } = stretch.planted;
    const isOwn = contact.node === node || contact.node === leg.end || contact.node === leg.ball;
    if (!isOwn || stretch.between.from > to || stretch.between.to < from) continue;
    if (best === null || stretch.travel > best.travel) best = stretch;
  }
  return best;
}

/** The leg's keys with a point of the foot held where it is at a sample, until the foot leaves. */
function held(
  { study, figure }: Subject,
  shot: Shot,
  leg: PosedLimb,
  { planted, plant }: PlantTravel,
  path: Float64Array,
  hold: number,
  fade: number,
): KeyEdit[] {
  const { contact } = planted;
  const { rate } = gridOf(study);
  const [nx, ny, nz] = contact.surface.normal;
  const samples = Math.max(1, Math.round((fade * rate) / referenceRate));
  const rest = { from: plant.from, to: restOfFoot(study, figure, leg.end, plant).to };
  const course = shiftedCourse(study, leg.end, { ...rest, before: samples, after: samples }, (i) => {
    // Beyond the plant the foot rolls on as it did, from where it is now.
    const at = 3 * Math.min(plant.to, Math.max(plant.from, i));
    const v = [0, 1, 2].map((k) => path[3 * hold + k] - path[at + k]);
    const out = v[0] * nx + v[1] * ny + v[2] * nz;
    return [v[0] - out * nx, v[1] - out * ny, v[2] - out * nz];
  });
  return withEndsKept(study, shot, [], new Map([[leg.end, course]]));
}
