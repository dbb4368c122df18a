import { referenceRate } from "../../base/constants.ts";
import { numbersInWords } from "../../base/number-words.ts";
import { conjugate, rotateVector } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import type { Study } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { contactsOf, groundOf } from "../../motion/ground/contact.ts";
import { type FoundFootPoint, footPointsOf } from "../../motion/ground/feet.ts";
import { besideShare } from "../../motion/ground/foot.ts";
import { highestShares } from "../../motion/ground/foot-points.ts";
import { slowSpeed } from "../../motion/ground/rest-around.ts";
import { type GroundPoint, solesOf } from "../../motion/ground/soles.ts";
import { heightsOver } from "../../motion/ground/surface.ts";
import { nodeNameOf } from "../../notes/wording.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import type { World } from "../../rig/world.ts";
import { gridOf } from "../../time/grid.ts";
import { runsWhere, type Span } from "../../time/span.ts";
import type { Law, PointSteps, SolePoint, SoleRest } from "./law.ts";
import { passesThrough } from "./shifted.ts";
import { slideShare } from "./stances.ts";

/** Frames (at 24 per second) for which a sole is slow to rest: at the top of a flight it is for two at most (our choice). */
const restFrames = 4;

/**
 * Stretches in which a sole rests: heel, ball or toes of it are slow, whatever the rest of the foot rolls. Whether it
 * touches anything does not count, so that a foot that hovers is one as well.
 */
export function soleRestsOf(study: Study): SoleRest[] {
  const rate = gridOf(study).rate;
  return figuresOf(study).flatMap((_, figure) => {
    const slow = (slowSpeed * statureOf(study, figure)) / rate;
    const isLong = ({ from, to }: Span) => to - from + 1 >= (restFrames * rate) / referenceRate;
    const hasFeet = footPointsOf(study, figure).length > 0;
    return solesIn(study, figure).flatMap(({ foot, points }) => {
      const steps = stepsOf(study, points, (node) => worldOf(study, node));
      const isDown = hasFeet ? () => true : lyingAt(study, figure, foot);
      // In a swing some place between heel and toes may stand for a moment, as a foot turns about it.
      const isSlow = (i: number) =>
        steps.some(({ steps }, k) => points[k].isWithin !== true && steps[i] < slow);
      const rests = runsWhere(gridOf(study).count, (i) => i > 0 && isSlow(i) && isDown(i));
      // What stands on one point rolls over nothing else.
      const ends = points.length === 1 ? (_: number, to: number) => to : contactEnds(study, figure, foot);
      return rests
        .filter(isLong)
        .map(({ from, to }) => ({ figure, foot, points, from, to, until: ends(from, to), steps }));
    });
  });
}

/**
 * Until when a foot that rests touches what it stands on: it rolls on over its toes, wherever those end, when all that is
 * known of it is on its way.
 */
function contactEnds(study: Study, figure: number, foot: number): (from: number, to: number) => number {
  const own = contactsOf(study, figure).filter(({ node, slides }) => node === foot && !slides);
  return (from, to) =>
    own.reduce((last, one) => (one.from <= to && one.to >= from ? Math.max(last, one.to) : last), to);
}

/** Whether a node is as low as it ever is, by sample; never where that is high over the ground: what swims lies on nothing. */
function lyingAt(study: Study, figure: number, node: number): (i: number) => boolean {
  const heights = heightsOver(groundOf(study), worldOf(study, node).position);
  const lowest = heights.reduce((low, height) => Math.min(low, height), Number.POSITIVE_INFINITY);
  const stature = statureOf(study, figure);
  if (lowest > besideShare * stature) return () => false;
  return (i) => heights[i] <= lowest + highestShares.ball * stature;
}

/** A sole that stands is pushed by less than this in a frame: 3 mm of a person of 1.7 m, within which it still touches. */
const pushShare = 0.003 / 1.7;

/** Points that move by no more than this in a frame stand alike: 0.2 mm of a person of 1.7 m, what digits leave. */
const alikeShare = 0.0002 / 1.7;

/**
 * A sole that rests slides no farther than before: frame by frame, of the points that it stands on or rolls over, the one
 * that moves least.
 */
export const keepsSoles: Law = (made) => {
  const { study, before, after } = made;
  let [worst, way]: [number, number] = [1, 0];
  let found: SoleRest | null = null;
  const known = new Map<readonly SolePoint[], readonly PointSteps[]>();
  for (const rest of before.soles) {
    const { points, from, steps: old, figure } = rest;
    // A heel that a fix lets come off rolls over what nothing is known of.
    const until = made.note.check === "flat-foot" ? rest.to : rest.until;
    if (points.every(({ node }) => after[node] === before.worlds[node])) continue;
    const steps = known.get(points) ?? stepsOf(study, points, (node) => after[node]);
    known.set(points, steps);
    const stature = statureOf(study, figure);
    let [more, push] = [0, 0];
    for (let i = from; i <= until; i++) {
      const by = growthAt(old, steps, i, { alike: alikeShare * stature, touching: pushShare * stature });
      more += by;
      push = Math.max(push, by);
    }
    const over = Math.max(more / (slideShare * stature), push / (pushShare * stature));
    if (!(over > worst) || points.every(({ node }) => passesThrough(made, node))) continue;
    [worst, way, found] = [over, Math.max(more, push), rest];
  }
  if (found === null) return null;
  const { frames } = gridOf(study);
  const span = `over frames ${frames[found.from - 1]} to ${frames[found.until]}`;
  return `the ${nodeNameOf(study, found.foot)} would slide by ${numbersInWords.length(way)} ${span}`;
};

/**
 * By how much more what a sole stands on moves to a sample than before, metres: what it stood on or rolled over before, or
 * what it touches the ground with now.
 * @param within metres: see {@link alikeShare} and {@link pushShare}
 */
function growthAt(
  old: readonly PointSteps[],
  now: readonly PointSteps[],
  i: number,
  within: { readonly alike: number; readonly touching: number },
): number {
  let [least, lowest] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const { steps } of old) least = Math.min(least, steps[i]);
  for (const { heights } of now) lowest = Math.min(lowest, heights[i]);
  let way = Number.POSITIVE_INFINITY;
  for (let k = 0; k < old.length; k++) {
    const carries = old[k].steps[i] <= least + within.alike || now[k].heights[i] <= lowest + within.touching;
    if (carries) way = Math.min(way, now[k].steps[i]);
  }
  return way - least;
}

/**
 * The soles of a figure, by foot: their corners where proportions say them, else the joints. What has no feet at all stands
 * on whatever of it lies lowest.
 */
function solesIn(study: Study, figure: number): { foot: number; points: SolePoint[] }[] {
  const feet = new Map<number, SolePoint[]>();
  for (const point of footPointsOf(study, figure)) {
    const own = feet.get(point.foot) ?? [];
    feet.set(point.foot, own);
    own.push(...cornersOf(study, figure, point));
    if (point.tip >= 0) own.push({ node: point.tip, at: null });
  }
  if (feet.size > 0) return [...feet].map(([foot, points]) => ({ foot, points }));
  return figuresOf(study)[figure].nodes.map((foot) => ({ foot, points: [{ node: foot, at: null }] }));
}

/** Corners of what a point of a foot stands on, in its space, taken in the middle of its longest stand. */
function cornersOf(study: Study, figure: number, { node, point }: FoundFootPoint): SolePoint[] {
  const sole = solesOf(study, figure).get(node);
  const [stand] = contactsOf(study, figure)
    .filter((contact) => contact.node === node)
    .sort((a, b) => b.to - b.from - (a.to - a.from));
  if (sole === undefined || stand === undefined) return [{ node, at: null }];
  const i = (stand.from + stand.to) >> 1;
  const corners: GroundPoint[] = [];
  sole(i, corners);
  // The front of a foot with a ball turns with that: of its ankle the heel alone counts.
  const own = point === "heel" ? corners.slice(0, corners.length / 2) : corners;
  const { position, orientation } = worldOf(study, node);
  const height = heightsOver(groundOf(study), position)[i];
  const back = conjugate(orientation, 4 * i);
  return withinSole(own).map(([x, z], k) => {
    const way = Float64Array.of(x - position[3 * i], -height, z - position[3 * i + 2]);
    const at = floats(3);
    rotateVector(back, 0, way, 0, at, 0);
    return { node, at, ...(k < own.length ? {} : { isWithin: true }) };
  });
}

/** Parts of the way from the heel to the toes at which a sole may roll as well: how far its front reaches is a guess. */
const between = [0.5, 0.7, 0.85];

/** Corners of a sole, heels first, with points on its middle line; two corners alone as they are. */
function withinSole(corners: readonly GroundPoint[]): GroundPoint[] {
  if (corners.length !== 4) return [...corners];
  const middle = (a: GroundPoint, b: GroundPoint, t: number): GroundPoint => [
    a[0] + t * (b[0] - a[0]),
    a[1] + t * (b[1] - a[1]),
  ];
  const [heel, toes] = [middle(corners[0], corners[1], 0.5), middle(corners[2], corners[3], 0.5)];
  return [...corners, ...between.map((t) => middle(heel, toes, t))];
}

/** How far each point of a sole goes from the sample before to each sample, and how high it is, metres. */
function stepsOf(study: Study, points: readonly SolePoint[], worldAt: (node: number) => World): PointSteps[] {
  const [nx, ny, nz] = groundOf(study).normal;
  return points.map(({ node, at }) => {
    const { position, orientation } = worldAt(node);
    const count = position.length / 3;
    const [steps, heights] = [floats(count), floats(count)];
    const [here, before] = [floats(3), floats(3)];
    for (let i = 0; i < count; i++) {
      before.set(here);
      if (at === null) here.fill(0);
      else rotateVector(orientation, 4 * i, at, 0, here, 0);
      for (let k = 0; k < 3; k++) here[k] += position[3 * i + k];
      heights[i] = here[0] * nx + here[1] * ny + here[2] * nz;
      if (i > 0) steps[i] = distanceBetween(before, 0, here, 0);
    }
    return { steps, heights };
  });
}
