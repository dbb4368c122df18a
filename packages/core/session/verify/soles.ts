import { referenceRate } from "../../base/constants.ts";
import { numbersInWords } from "../../base/number-words.ts";
import { conjugate, rotateVector } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import type { Study } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { contactsOf, groundOf } from "../../motion/ground/contact.ts";
import { type FoundFootPoint, footPointsOf } from "../../motion/ground/feet.ts";
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
import type { Law, SolePoint, SoleRest } from "./law.ts";
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
      const steps = stepsOf(points, (node) => worldOf(study, node));
      const isDown = hasFeet ? () => true : lyingAt(study, figure, foot);
      const rests = runsWhere(steps.length, (i) => i > 0 && steps[i] < slow && isDown(i));
      return rests.filter(isLong).map(({ from, to }) => ({ figure, foot, points, from, to, steps }));
    });
  });
}

/** Whether a node is as low as it ever is, by sample. */
function lyingAt(study: Study, figure: number, node: number): (i: number) => boolean {
  const heights = heightsOver(groundOf(study), worldOf(study, node).position);
  const highest =
    highestShares.ball * statureOf(study, figure) + heights.reduce((low, height) => Math.min(low, height));
  return (i) => heights[i] <= highest;
}

/** A sole that stands is pushed by less than this in a frame: 3 mm of a person of 1.7 m, within which it still touches. */
const pushShare = 0.003 / 1.7;

/** A sole that rests slides no farther than before: of its points the one that moves less counts, frame by frame. */
export const keepsSoles: Law = (made) => {
  const { study, before, after } = made;
  let [worst, way]: [number, number] = [1, 0];
  let found: SoleRest | null = null;
  const known = new Map<readonly SolePoint[], Float64Array>();
  for (const rest of before.soles) {
    const { points, from, to, steps: old, figure } = rest;
    if (points.every(({ node }) => after[node] === before.worlds[node])) continue;
    const steps = known.get(points) ?? stepsOf(points, (node) => after[node]);
    known.set(points, steps);
    const stature = statureOf(study, figure);
    let [more, push] = [0, 0];
    for (let i = from; i <= to; i++) {
      more += steps[i] - old[i];
      push = Math.max(push, steps[i] - old[i]);
    }
    const over = Math.max(more / (slideShare * stature), push / (pushShare * stature));
    if (!(over > worst) || points.every(({ node }) => passesThrough(made, node))) continue;
    [worst, way, found] = [over, Math.max(more, push), rest];
  }
  if (found === null) return null;
  const { frames } = gridOf(study);
  const span = `over frames ${frames[found.from - 1]} to ${frames[found.to]}`;
  return `the ${nodeNameOf(study, found.foot)} would slide by ${numbersInWords.length(way)} ${span}`;
};

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
  return own.map(([x, z]) => {
    const way = Float64Array.of(x - position[3 * i], -height, z - position[3 * i + 2]);
    const at = floats(3);
    rotateVector(back, 0, way, 0, at, 0);
    return { node, at };
  });
}

/** How far the point of a sole that moves least goes from the sample before to each sample, metres. */
function stepsOf(points: readonly SolePoint[], worldAt: (node: number) => World): Float64Array {
  const paths = points.map(({ node, at }) => {
    const { position, orientation } = worldAt(node);
    if (at === null) return position;
    const path = floats(position.length);
    for (let i = 0; 3 * i < path.length; i++) {
      rotateVector(orientation, 4 * i, at, 0, path, 3 * i);
      for (let k = 3 * i; k < 3 * i + 3; k++) path[k] += position[k];
    }
    return path;
  });
  const steps = floats(paths[0].length / 3).fill(Number.POSITIVE_INFINITY, 1);
  for (const path of paths) {
    for (let i = 1; i < steps.length; i++)
      steps[i] = Math.min(steps[i], distanceBetween(path, i - 1, path, i));
  }
  return steps;
}
