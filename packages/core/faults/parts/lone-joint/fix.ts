import { conjugate, logBetween, multiplyQuaternions, turnedBy } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { chainOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { ramp } from "../../shared/keying/courses.ts";
import type { Samples } from "../../shared/posing/offsets.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { turnedInWorld } from "../../shared/posing/trail.ts";
import { loneJoint } from "./check.ts";

export const loneJointFix = defineFix(loneJoint, {
  what: "Gives the joints under a head part of its turn, a frame or two after it; the head looks where it looked.",
  title: ({ frames }) =>
    `let neck and chest take part in the head's turn over frames ${frames[0]} to ${frames[1]}`,
  *propose(subject) {
    const { study, shot } = subject;
    const { node: head, figure, from, to } = subject;
    if (head < 0 || figure < 0) return;
    const { root } = figuresOf(study)[figure];
    const { count } = gridOf(study);
    const chain = chainOf(rigOf(study), head);
    const under = chain.slice(Math.max(0, chain.indexOf(root)) + 1, -1).slice(-3);
    if (under.length === 0) return;
    for (const share of [0.25, 0.35, 0.5]) {
      // The turn is kept to the end of the range, or given back over half a second.
      const samples = { lo: Math.max(0, from - 1), hi: count - 1 };
      const turned = under.map((node, k) => ({
        node,
        turns: sharedTurns(
          study,
          head,
          from,
          to,
          (share * (k + 1)) / under.length,
          under.length - k,
          samples,
        ),
      }));
      const still = { node: head, turns: identityTurns(samples) };
      yield* keptAndPlain(subject, shot, turnedInWorld(study, [...turned, still], samples));
    }
  },
});

/** A share of the turn that the head makes from a sample on, late by some samples, in the world's axes. */
function sharedTurns(
  study: Study,
  head: number,
  from: number,
  to: number,
  share: number,
  late: number,
  { lo, hi }: Samples,
): Float64Array {
  const { orientation } = worldOf(study, head);
  const turns = new Float64Array(4 * (hi - lo + 1));
  const identity = Float64Array.of(0, 0, 0, 1);
  const start = conjugate(orientation, 4 * from);
  const turn = new Float64Array(4);
  multiplyQuaternions(orientation, 4 * to, start, 0, turn, 0);
  const whole = logBetween(identity, turn);
  for (let i = lo; i <= hi; i++) {
    const amount = share * ramp(i, from + late, to + late);
    const way = whole.map((part) => part * amount);
    turnedBy(identity, way, turns.subarray(4 * (i - lo), 4 * (i - lo) + 4));
  }
  return turns;
}

function identityTurns({ lo, hi }: Samples): Float64Array {
  const turns = new Float64Array(4 * (hi - lo + 1));
  for (let i = 3; i < turns.length; i += 4) turns[i] = 1;
  return turns;
}
