import { referenceRate } from "../../../base/constants.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import { limbOfFoot, type PosedLimb } from "../../../motion/ground/all-limbs.ts";
import { groundOf } from "../../../motion/ground/contact.ts";
import { footPlantsOf, hipsOf } from "../../../motion/ground/foot-plant.ts";
import { restAround, restOfFoot } from "../../../motion/ground/rest-around.ts";
import { soleHeights } from "../../../motion/ground/sole-heights.ts";
import type { Surface } from "../../../motion/ground/surface.ts";
import { heldOf } from "../../../motion/path/held.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Subject } from "../../fix.ts";
import { type Faded, shareAt, shiftedCourse } from "../../shared/posing/end-courses.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { withoutBulge } from "../../shared/posing/lowered-handles.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import type { EndCourse } from "../../shared/posing/two-bone.ts";

/**
 * Brings a foot onto its surface: by the handles of a curve that bulges, or by the leg, the hips giving where it is too short.
 * @param height of the foot over its surface, metres: a gap above 0, a depth below
 */
export function* ontoGround(subject: Subject, height: number): Generator<KeyEdit[]> {
  const { study, shot, figure, node } = subject;
  yield* withoutBulge(subject);
  const leg = figure < 0 || node < 0 ? null : limbOfFoot(study, figure, node);
  if (leg === null) return;
  const isGap = height > 0;
  const surface = surfaceUnder(subject);
  const lowest = lowestPoints(subject, surface);
  for (const fade of [4, 6, 10]) {
    for (const faded of fadesOf(subject, leg, fade, isGap)) {
      const level = () => -height;
      const ways = isGap ? [level] : [(i: number) => Math.max(0, -lowest[i]), level];
      for (const way of ways) yield* legAndHips(subject, shot, leg, faded, surface, way);
    }
  }
}

/** Samples of a fade that reaches no neighbour. */
const betweenPoses = 0.5;

/** The note's own samples, the whole stance around them, and the rest of which they are part. */
function fadesOf(
  { study, figure, node, from, to }: Subject,
  { end }: PosedLimb,
  fade: number,
  isGap: boolean,
): Faded[] {
  const samples = Math.max(1, Math.round((fade * gridOf(study).rate) / referenceRate));
  const stance = footPlantsOf(study, figure).find(
    (other) => other.leg.end === end && other.from <= to && other.to >= from,
  );
  // From a pose of step keys to the next there is no way on which a change could fade.
  const held = heldOf(study, node);
  const own = {
    from,
    to,
    before: held[from + 1] === 1 ? betweenPoses : samples,
    after: held[to] === 1 ? betweenPoses : samples,
  };
  const rest = { ...own, ...restAround(study, figure, worldOf(study, node).position, { from, to }) };
  const foot = { ...own, ...restOfFoot(study, figure, end, { from, to }) };
  if (stance === undefined) return [own, rest, foot];
  const whole = { ...own, from: Math.min(from, stance.from), to: Math.max(to, stance.to) };
  // A foot that hovers does so for its whole stance; one that goes through the ground may do so for a moment.
  return isGap ? [whole, own, rest, foot] : [own, whole, rest, foot];
}

/** The leg alone; then the hips with it, by as much, where the leg does not reach. */
function* legAndHips(
  { study, figure }: Subject,
  shot: Shot,
  { end }: PosedLimb,
  faded: Faded,
  surface: Surface,
  rise: (sample: number) => number,
): Generator<KeyEdit[]> {
  const [nx, ny, nz] = surface.normal;
  const course: EndCourse = shiftedCourse(study, end, faded, (i) => {
    const by = rise(i);
    return [by * nx, by * ny, by * nz];
  });
  const courses = new Map([[end, course]]);
  yield withEndsKept(study, shot, [], courses);
  const { count } = gridOf(study);
  const way = new Float64Array(3 * count);
  for (let i = 0; i < count; i++) {
    const clamped = Math.min(faded.to, Math.max(faded.from, i));
    const by = rise(clamped) * shareAt(study, i, faded);
    way.set([by * nx, by * ny, by * nz], 3 * i);
  }
  const hips = shiftedNode(study, hipsOf(study, figure), { lo: 0, hi: count - 1 }, way);
  yield withEndsKept(study, shot, hips, courses);
}

/** The surface on which a foot stands at a note's frames; the ground where it stands on none. */
function surfaceUnder({ study, figure, node, from, to }: Subject): Surface {
  const stance = footPlantsOf(study, figure).find(
    (other) => other.leg.end === node && other.from <= to && other.to >= from,
  );
  return (stance?.toe ?? stance?.heel)?.surface ?? groundOf(study);
}

/** Height of a foot's lowest point over a surface, per sample. */
function lowestPoints({ study, figure, node }: Subject, surface: Surface): Float64Array {
  const { count } = gridOf(study);
  const lowest = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const foot = soleHeights(study, figure, surface).find(
    ({ ankle, points }) => ankle === node || points.some((point) => point.node === node),
  );
  for (const { height } of foot?.points ?? []) {
    for (let i = 0; i < count; i++) lowest[i] = Math.min(lowest[i], height[i]);
  }
  return lowest;
}
