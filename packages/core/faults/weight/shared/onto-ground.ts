import { referenceRate } from "../../../base/constants.ts";
import { logBetween, turnedBy } from "../../../base/quaternion.ts";
import { distanceBetween, scaled } from "../../../base/vector.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import { limbOfFoot, type PosedLimb } from "../../../motion/ground/all-limbs.ts";
import { groundOf } from "../../../motion/ground/contact.ts";
import { footPlantsOf, hipsOf } from "../../../motion/ground/foot-plant.ts";
import { restAround, restOfFoot } from "../../../motion/ground/rest-around.ts";
import { soleHeights } from "../../../motion/ground/sole-heights.ts";
import type { Surface } from "../../../motion/ground/surface.ts";
import { statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import type { Subject } from "../../fix.ts";
import {
  betweenPoses,
  type Faded,
  fadedBeside,
  shareAt,
  shiftedCourse,
} from "../../shared/posing/end-courses.ts";
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
  if (!isGap) {
    const under = samplesUnder(subject, lowest);
    const standing = asBeside(subject, leg, under, lowest);
    if (standing !== null) yield withEndsKept(study, shot, [], new Map([[leg.end, standing]]));
    yield* legAndHips(subject, shot, leg, under, surface, (i) => Math.max(0, -lowest[i]));
  }
  for (const fade of [4, 6, 10]) {
    for (const faded of fadesOf(subject, leg, fade, isGap)) {
      const level = () => -height;
      const ways = isGap ? [level] : [(i: number) => Math.max(0, -lowest[i]), level];
      for (const way of ways) yield* legAndHips(subject, shot, leg, faded, surface, way);
    }
  }
}

/** What is nearer to its surface stands on it, in body heights: half a centimetre of a person of 1.7 m. */
const standsShare = 0.005 / 1.7;
/** A foot whose ankle goes farther between two samples has made a step, in body heights: half a foot's length. */
const stepShare = 0.07;
/** What is under a surface by less is on it, in body heights: a millimetre of a person of 1.7 m. */
const onShare = 0.001 / 1.7;

/** All samples around a note at which the foot is under its surface; what is beside them stays as it is. */
function samplesUnder({ study, figure, from, to }: Subject, lowest: Float64Array): Faded {
  const least = onShare * statureOf(study, figure);
  let [first, last] = [from, to];
  while (first > 0 && lowest[first - 1] < -least) first--;
  while (last + 1 < lowest.length && lowest[last + 1] < -least) last++;
  return { from: first, to: last, before: betweenPoses, after: betweenPoses };
}

/** A foot that stands on both sides of some samples, between them as it does there; null for others. */
function asBeside(
  { study, figure }: Subject,
  { end }: PosedLimb,
  { from, to }: Faded,
  lowest: Float64Array,
): EndCourse | null {
  const [before, after] = [from - 1, to + 1];
  const touching = standsShare * statureOf(study, figure);
  const stands = (i: number) => i >= 0 && i < lowest.length && Math.abs(lowest[i]) <= touching;
  if (!stands(before) || !stands(after)) return null;
  const world = worldOf(study, end);
  if (distanceBetween(world.position, before, world.position, after) > stepShare * statureOf(study, figure))
    return null;
  const [position, orientation] = [world.position.slice(), world.orientation.slice()];
  const turn = logBetween(
    orientation.slice(4 * before, 4 * before + 4),
    orientation.slice(4 * after, 4 * after + 4),
  );
  for (let i = from; i <= to; i++) {
    const t = (i - before) / (after - before);
    for (let k = 0; k < 3; k++) {
      const [a, b] = [position[3 * before + k], world.position[3 * after + k]];
      position[3 * i + k] = a + t * (b - a);
    }
    turnedBy(
      orientation.slice(4 * before, 4 * before + 4),
      scaled([turn[0], turn[1], turn[2]], t),
      orientation.subarray(4 * i, 4 * i + 4),
    );
  }
  return { position, orientation };
}

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
  const own = fadedBeside(study, node, { from, to }, samples);
  const rest = { ...own, ...restAround(study, figure, worldOf(study, node).position, { from, to }) };
  const foot = { ...own, ...restOfFoot(study, figure, end, { from, to }) };
  const whole = stance === undefined ? own : spanned(own, [own, stance]);
  // One that rolls over toes of which nothing is known is on its way before it leaves, and still on it when it has come.
  const all = spanned(own, [whole, rest, foot]);
  const longer = [0, 3, 6].map((more) => {
    const by = Math.round((more * gridOf(study).rate) / referenceRate);
    return { ...all, from: Math.max(0, all.from - by), to: Math.min(gridOf(study).count - 1, all.to + by) };
  });
  // A foot that hovers does so for its whole stance; one that goes through the ground may do so for a moment.
  return distinct(isGap ? [whole, own, rest, foot, ...longer] : [own, whole, rest, foot, ...longer]);
}

/** A fade from the first to the last of some stretches. */
function spanned(faded: Faded, spans: readonly Span[]): Faded {
  return {
    ...faded,
    from: Math.min(...spans.map(({ from }) => from)),
    to: Math.max(...spans.map(({ to }) => to)),
  };
}

function distinct(fades: readonly Faded[]): Faded[] {
  return [...new Map(fades.map((one) => [`${one.from} ${one.to}`, one])).values()];
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
