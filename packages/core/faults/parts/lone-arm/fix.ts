import { inRadians, referenceRate } from "../../../base/constants.ts";
import { turnedBy } from "../../../base/quaternion.ts";
import { cross, dot, minus, pointAt, scaled, type Vector, vectorLength } from "../../../base/vector.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { chainOf, worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { ramp } from "../../shared/keying/courses.ts";
import { keysAlone } from "../../shared/keying/rekey.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { turnedInWorld } from "../../shared/posing/trail.ts";
import { type LoneArmFinding, loneArm } from "./check.ts";

/** Most that a trunk is turned into an act, radians (35°): common practice. */
const most = inRadians(35);
/** Turn from which on a channel without keys gets some, radians (1°). */
const leastNew = inRadians(1);
/** How long the trunk is before the arm, frames at 24 per second (common practice). */
const lead = 2;

export const loneArmFix = defineFix(loneArm, {
  what: "Turns or leans the joints of the trunk into the act, a little before the arm, and back with it. The head keeps its turn, feet and hands that hold something their places.",
  title: ({ node, frames }) =>
    `let the trunk go into what ${node ?? "the arm"} does over frames ${frames[0]} to ${frames[1]}`,
  *propose(subject) {
    const { study, shot, figure, node: hand } = subject;
    const { chest } = subject.finding.numbers;
    if (figure < 0 || hand < 0) return;
    const body = figuresOf(study)[figure];
    const chain = chainOf(rigOf(study), chest);
    const spine = chain.slice(chain.indexOf(carrierOf(body)) + 1);
    const head = body.parts.get("head")?.[0];
    for (const part of [0.75, 1]) {
      const turn = turnInto(subject, part);
      if (turn === null) return;
      const course = courseOf(subject);
      const turned = spine.map((node, k) => ({
        node,
        turns: course.turns(scaled(turn, (k + 1) / spine.length)),
      }));
      const still = head === undefined ? [] : [{ node: head, turns: course.turns([0, 0, 0]) }];
      for (const loose of [keysAlone, 30, 10]) {
        const edits = turnedInWorld(study, [...turned, ...still], course, { newFrom: leastNew, loose });
        yield* keptAndPlain(subject, shot, edits);
      }
    }
  },
});

/**
 * The turn about the hips that takes the hand along as far as it lacks, as a rotation vector in the world.
 * @param part how much of what is wanted
 */
function turnInto(
  { study, figure, node: hand, finding }: Subject<LoneArmFinding>,
  part: number,
): Vector | null {
  const { numbers, along, from } = finding;
  const root = carrierOf(figuresOf(study)[figure]);
  const arm = minus(
    pointAt(worldOf(study, hand).position, from),
    pointAt(worldOf(study, root).position, from),
  );
  const axis = cross(arm, along);
  const lever = vectorLength(axis);
  if (!(lever > 0)) return null;
  const angle = Math.min(most, (part * numbers.wanted - numbers.given) / lever);
  return angle > 0 ? scaled(axis, angle / lever) : null;
}

/** How much of a turn there is at each sample: into the act with a lead, held while the hand is out, and back with it. */
function courseOf({ study, node: hand, finding }: Subject<LoneArmFinding>) {
  const { from, to, along } = finding;
  const { count, rate } = gridOf(study);
  const { position } = worldOf(study, hand);
  const before = Math.round((lead * rate) / referenceRate);
  const isOut = (i: number) =>
    dot(minus(pointAt(position, i), pointAt(position, from)), along) > 0.5 * finding.numbers.way;
  let away = to;
  while (away < count && isOut(away)) away++;
  const half = Math.ceil(0.5 * Math.max(to - from, 4));
  const start = Math.max(0, from - before);
  const [leaves, back] = away === count ? [count, 2 * count] : [Math.max(to, away - half), away + 2 * half];
  const samples = { lo: Math.max(0, start - 1), hi: Math.min(count - 1, back + 1) };
  const turns = (whole: Vector) => {
    const out = new Float64Array(4 * (samples.hi - samples.lo + 1));
    const identity = Float64Array.of(0, 0, 0, 1);
    for (let i = samples.lo; i <= samples.hi; i++) {
      const there = ramp(i, start, Math.max(start + 1, to - before)) * (1 - ramp(i, leaves, back));
      const at = 4 * (i - samples.lo);
      turnedBy(identity, scaled(whole, there), out.subarray(at, at + 4));
    }
    return out;
  };
  return { ...samples, turns };
}
