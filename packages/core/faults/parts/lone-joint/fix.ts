import { inRadians } from "../../../base/constants.ts";
import { conjugate, logBetween, multiplyQuaternions, turnedBy } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { dot, minus, pointAt, scaled, vectorLength } from "../../../base/vector.ts";
import { figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { chainOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { ramp } from "../../shared/keying/courses.ts";
import { keysAlone } from "../../shared/keying/rekey.ts";
import type { Samples } from "../../shared/posing/offsets.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { turnedInWorld } from "../../shared/posing/trail.ts";
import { loneJoint } from "./check.ts";

export const loneJointFix = defineFix(loneJoint, {
  what: "Gives the neck, or all joints under a head, part of its turn, a frame or two after it. It lasts as long as the head looks there, and the head looks where it looked.",
  title: ({ frames }) =>
    `let what is under the head take part in its turn over frames ${frames[0]} to ${frames[1]}`,
  *propose(subject) {
    const { study, shot } = subject;
    const { node: head, figure, from, to } = subject;
    if (head < 0 || figure < 0) return;
    const { root } = figuresOf(study)[figure];
    const { count } = gridOf(study);
    const chain = chainOf(rigOf(study), head);
    const under = chain.slice(Math.max(0, chain.indexOf(root)) + 1, -1).slice(-3);
    if (under.length === 0) return;
    const turn = turnOf(study, head, from, to);
    const samples = { lo: Math.max(0, from - 1), hi: Math.min(count - 1, turn.away + to - from + 3) };
    const still = { node: head, turns: identityTurns(samples) };
    // The neck alone moves nothing but the head, which keeps its turn; a trunk takes the arms along.
    for (const joints of under.length === 1 ? [under] : [under.slice(-1), under]) {
      for (const share of [0.35, 0.5]) {
        // A joint that turns about its own bone leaves the head where it is.
        for (const partOf of [aboutBone, wholeTurn]) {
          const turned = joints.map((node, k) => ({
            node,
            turns: sharedTurns(
              { ...turn, whole: partOf(study, node, head, turn) },
              (share * (k + 1)) / joints.length,
              joints.length - k,
              samples,
            ),
          }));
          for (const loose of [keysAlone, 30, 10]) {
            const laying = { newFrom: leastNew, loose };
            yield* keptAndPlain(subject, shot, turnedInWorld(study, [...turned, still], samples, laying));
          }
        }
      }
    }
  },
});

/** Turn from which on a channel without keys gets some, radians (1°). */
const leastNew = inRadians(1);

/** A turn of a head, in the world's axes. */
interface Turn {
  readonly from: number;
  readonly to: number;
  /** Rotation vector, radians. */
  readonly whole: readonly number[];
  /** Sample from which on the head looks half the way back; past the range where it stays. */
  readonly away: number;
}

function turnOf(study: Study, head: number, from: number, to: number): Turn {
  const { orientation } = worldOf(study, head);
  const identity = Float64Array.of(0, 0, 0, 1);
  const start = conjugate(orientation, 4 * from);
  const turn = new Float64Array(4);
  const wayTo = (i: number) => {
    multiplyQuaternions(orientation, 4 * i, start, 0, turn, 0);
    return [...logBetween(identity, turn)] as [number, number, number];
  };
  const whole = wayTo(to);
  const size = vectorLength(whole) ** 2;
  const { count } = gridOf(study);
  let away = to;
  while (away < count && dot(wayTo(away), whole) > 0.5 * size) away++;
  return { from, to, whole, away: away === count ? 2 * count : away };
}

/** What of a head's turn a joint under it takes part in, as a rotation vector in the world. */
type TurnPart = (study: Study, node: number, head: number, turn: Turn) => readonly number[];

const wholeTurn: TurnPart = (_study, _node, _head, { whole }) => whole;

const aboutBone: TurnPart = (study, node, head, { from, whole }) => {
  const bone = minus(
    pointAt(worldOf(study, head).position, from),
    pointAt(worldOf(study, node).position, from),
  );
  const size = vectorLength(bone);
  if (!(size > 0)) return whole;
  const [x, y, z] = whole;
  return scaled(bone, dot([x, y, z], bone) / (size * size));
};

/** A share of a head's turn, late by some samples, and given back as late where the head looks back. */
function sharedTurns(
  { from, to, whole, away }: Turn,
  share: number,
  late: number,
  { lo, hi }: Samples,
): Float64Array {
  const turns = new Float64Array(4 * (hi - lo + 1));
  const identity = Float64Array.of(0, 0, 0, 1);
  const half = 0.5 * (to - from);
  for (let i = lo; i <= hi; i++) {
    const there = ramp(i, from + late, to + late) * (1 - ramp(i, away - half + late, away + half + late));
    const way = whole.map((part) => part * share * there);
    turnedBy(identity, way, turns.subarray(4 * (i - lo), 4 * (i - lo) + 4));
  }
  return turns;
}

function identityTurns({ lo, hi }: Samples): Float64Array {
  const turns = new Float64Array(4 * (hi - lo + 1));
  for (let i = 3; i < turns.length; i += 4) turns[i] = 1;
  return turns;
}
