import { inDegrees, inRadians } from "../../base/constants.ts";
import type { Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { isCarried, limbEndsOf } from "../../faults/paths/shared/limb-ends.ts";
import { nodeContactAt } from "../../motion/ground/contact.ts";
import { isChainStepped } from "../../motion/path/held.ts";
import { chordOf } from "../../motion/path/path.ts";
import { localAngularSpeedOf } from "../../motion/path/rotation.ts";
import { deviationAt } from "../../motion/path/spike.ts";
import { strokesOf } from "../../motion/path/strokes.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { chainOf, worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { samplesOf } from "../shared/frames.ts";
import { defineStrength, type Held } from "../strength.ts";

/** With numbers in working units. */
interface CleanArc extends Held {
  readonly travel: number;
  readonly bow: number;
  readonly most: number;
}

/** Strokes that are told go this far at least, body heights, and last this long, frames at 24 per second. */
const leastTravel = 0.25;
const leastFrames = 8;
/** How far an arc bows out at least, as a share of its chord. */
const leastBow = 0.06;
/** How far a frame may be off the path through its neighbours, as a share of the stroke: 4 mm of half a metre. */
const offShare = 0.008;
/** How much of all its turning goes one way. */
const oneWay = 0.92;
/** Steps shorter than this share of the longest have no direction that is seen. */
const seenStep = 0.12;
/** How far the path turns from one step to the next at most. */
const mostTurn = inRadians(30);
/** A joint has a share in the stroke from this turn on. */
const sharing = inRadians(5);

/** Arcs that run clean. */
export const cleanArc = defineStrength<CleanArc>({
  name: "clean-arc",
  title: "Clean arc",
  what: "The end of a limb swings on one arc: no frame leaves it and it bends one way.",
  computes:
    "A stroke goes 0.25 body heights far or more, over 8 frames (at 24 per second) or more, and two joints or more turn by 5° each for it. It bows out by 6 % of its chord or more. No frame is off the cubic through its two neighbours on either side by more than 0.8 % of its length. No turn from step to step is larger than 30°. Of the turning 92 % goes one way: the length of the sum of the turns over the sum of their lengths. Steps under 12 % of the longest are left out.",
  canFail:
    "One joint alone turns on a circle and is not praised; of several, each key that comes early or late bends the path.",
  sources: [
    "6 %: common practice, three times the bow under which a swing counts as straight",
    "0.8 % and 92 %: common practice, what a hand traced from frame to frame shows as one line",
    "30°: common practice, half of the turn from which a path has a corner",
  ],
  hangsOn: ["body"],
  find(study, figure) {
    const own = new Set(figuresOf(study)[figure].nodes);
    const stature = statureOf(study, figure);
    const least = samplesOf(study, leastFrames);
    const found: CleanArc[] = [];
    for (const node of limbEndsOf(study).keys()) {
      if (!own.has(node) || isChainStepped(study, node)) continue;
      const planted = nodeContactAt(study, node);
      const path = worldOf(study, node).position;
      for (const { from, to } of strokesOf(study, node)) {
        if (to - from < least || planted.subarray(from, to + 1).includes(1)) continue;
        const { chord, arc, deviation } = chordOf(path, from, to);
        if (arc < leastTravel * stature || deviation < leastBow * chord) continue;
        if (isCarried(study, node, from, to, chord, 0.5) || joints(study, node, from, to) < 2) continue;
        if (farthestOff(path, from, to) > offShare * arc) continue;
        const { sum, all, most } = turningOf(path, from, to);
        if (sum < oneWay * all || most > mostTurn) continue;
        found.push({
          node,
          nodes: [node],
          from,
          to,
          measured: { quantity: "largest turn from step to step", value: inDegrees(most), unit: "deg" },
          within: {
            max: inDegrees(mostTurn),
            unit: "deg",
            source: "common practice: half of the turn at which a path has a corner",
          },
          size: arc,
          travel: arc,
          bow: deviation,
          most,
        });
      }
    }
    return found;
  },
  word: ({ from, to, travel, bow, most }, words) =>
    `${words.part} swings ${words.length(travel)} on one arc that bows ${words.length(bow)} and turns by ${words.angle(most)} a frame at most, ${words.span(from, to)}`,
});

/** How many joints above a node turn by 5° or more within some samples. */
function joints(study: Study, node: number, from: number, to: number): number {
  const { dt } = gridOf(study);
  let count = 0;
  for (const joint of chainOf(rigOf(study), node)) {
    if (joint === node) continue;
    const speeds = localAngularSpeedOf(study, joint);
    let turn = 0;
    for (let i = from + 1; i <= to; i++) turn += speeds[i] * dt;
    if (turn >= sharing) count++;
  }
  return count;
}

/** The farthest that a sample within a stroke, all of whose neighbours are in it, is off the path through them, metres. */
function farthestOff(path: Float64Array, from: number, to: number): number {
  let most = 0;
  for (let i = from + 2; i <= to - 2; i++) most = Math.max(most, deviationAt(path, i));
  return most;
}

/** How a path turns from step to step, radians: the length of the sum of its turns, the sum of their lengths, the largest. */
function turningOf(path: Float64Array, from: number, to: number) {
  let longest = 0;
  for (let i = from + 1; i <= to; i++) longest = Math.max(longest, stepAt(path, i)[3]);
  const turns = [0, 0, 0];
  let [all, most] = [0, 0];
  let before: readonly number[] | null = null;
  for (let i = from + 1; i <= to; i++) {
    const here = stepAt(path, i);
    // The first and last steps out of a turning point, and into one, are too short to have a direction.
    if (here[3] < seenStep * longest) continue;
    if (before !== null) {
      const [ax, ay, az] = before;
      const [bx, by, bz] = here;
      const turn = [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx];
      const length = lengthOf(turn[0], turn[1], turn[2]);
      const angle = Math.atan2(length, ax * bx + ay * by + az * bz);
      for (let k = 0; k < 3 && length > 0; k++) turns[k] += (turn[k] / length) * angle;
      all += angle;
      most = Math.max(most, angle);
    }
    before = here;
  }
  return { sum: lengthOf(turns[0], turns[1], turns[2]), all, most };
}

function stepAt(path: Float64Array, i: number): readonly [number, number, number, number] {
  const k = 3 * i;
  const [x, y, z] = [path[k] - path[k - 3], path[k + 1] - path[k - 2], path[k + 2] - path[k - 1]];
  return [x, y, z, lengthOf(x, y, z)];
}
