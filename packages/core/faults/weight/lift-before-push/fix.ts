import { standardGravity } from "../../../base/constants.ts";
import { logBetween, turnedBy } from "../../../base/quaternion.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import { freeFallsOf } from "../../../motion/body/free-fall.ts";
import { propulsorsOf } from "../../../motion/body/propulsors.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { inFreeFall } from "../../shared/posing/free-fall.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { between } from "../../shared/posing/offsets.ts";
import { offsetInTime, offsetWarp, partBelow, type TimeOffset } from "../../shared/posing/part-offset.ts";
import type { EndCourse } from "../../shared/posing/two-bone.ts";
import { liftBeforePush } from "./check.ts";

export const liftBeforePushFix = defineFix(liftBeforePush, {
  what: "Starts the wings that drive a body sooner; lets a body fall freely from where its feet leave the ground, or the feet stay down until it has its speed.",
  title: ({ frames }) => `let the push come before the rise at frame ${frames[0]}`,
  *propose(subject) {
    const { shot, finding } = subject;
    if (subject.figure < 0) return;
    if ("wing" in finding.numbers) yield* soonerWings(subject, finding.numbers);
    else {
      yield* fallingFromTakeOff(subject);
      yield* laterFeet(subject, shot, finding.numbers.late);
    }
  },
});

/** All propulsors sooner by the frames that are named; the gain is kept, or given back over the beats that follow. */
function* soonerWings(
  { study, figure }: Subject,
  lift: { readonly stroke: number; readonly sooner: number },
): Generator<KeyEdit[]> {
  const { frames, count, step } = gridOf(study);
  const stroke = frames[0] + lift.stroke * step;
  const { sooner } = lift;
  const nodes = propulsorsOf(study, figure).flatMap(({ node }) => partBelow(study, figure, node));
  const unique = [...new Set(nodes)];
  for (const by of [sooner, sooner + 1, Math.max(1, sooner - 1)]) {
    // Before the first stroke the wings rest or glide: the offset comes in there unseen.
    const start = { from: stroke - by * step, by: -by * step, rampIn: pause * step };
    for (const beats of [3, 6, 10]) {
      yield offsetInTime(study, unique, { ...start, to: stroke + 2 * step, rampOut: beats * by * step });
    }
    yield offsetInTime(study, unique, { ...start, to: frames[count - 1], rampOut: 0 });
  }
}

/** Frames without a stroke before a start of beating, at the least. */
const pause = 6;

/** The body on the fall's parabola from the last frame that something carried it. */
function* fallingFromTakeOff({ study, figure, from, to }: Subject): Generator<KeyEdit[]> {
  const { count } = gridOf(study);
  const fall = freeFallsOf(study, figure).find((other) => other.from <= to && other.to >= from);
  if (fall === undefined) return;
  const last = Math.min(count - 1, fall.to + 1);
  for (const first of [fall.from - 1, fall.from]) {
    if (first < 0 || last - first < 3) continue;
    for (const share of [1, 0.9, 1.1]) {
      yield inFreeFall(study, figure, first, last, share * standardGravity);
    }
  }
}

/** Both feet later, on their own courses; or the hips' rise earlier, with the feet on theirs. */
function* laterFeet(subject: Subject, shot: Shot, late: number): Generator<KeyEdit[]> {
  const { study, figure, from } = subject;
  const { count, rate } = gridOf(study);
  const legs = limbsOf(study, figure).filter(({ kind }) => kind === "leg");
  const hips = hipsOf(study, figure);
  for (const by of [late, late + 1]) {
    for (const ease of [6, 10]) {
      const offset: TimeOffset = {
        from: from - by - Math.round(rate / 12),
        to: from + by,
        by,
        rampIn: ease * by,
        rampOut: ease * by,
      };
      const courses = new Map(legs.map(({ end }) => [end, courseAt(study, end, offset)]));
      yield withEndsKept(study, shot, [], courses);
      const { position } = worldOf(study, hips);
      const height = Float64Array.from({ length: count }, (_, i) => position[3 * i + 1]);
      const warp = offsetWarp({ ...offset, by: -by });
      const way = new Float64Array(3 * count);
      for (let i = 0; i < count; i++) way[3 * i + 1] = between(height, warp(i)) - height[i];
      yield withEndsKept(study, shot, shiftedNode(study, hips, { lo: 0, hi: count - 1 }, way));
    }
  }
}

/** A node's own world course at other times. */
function courseAt(study: Subject["study"], node: number, offset: TimeOffset): EndCourse {
  const world = worldOf(study, node);
  const count = world.position.length / 3;
  const warp = offsetWarp(offset);
  const position = new Float64Array(3 * count);
  const orientation = new Float64Array(4 * count);
  const axes = [0, 1, 2].map((k) =>
    Float64Array.from({ length: count }, (_, i) => world.position[3 * i + k]),
  );
  for (let i = 0; i < count; i++) {
    const at = Math.min(count - 1, Math.max(0, warp(i)));
    for (let k = 0; k < 3; k++) position[3 * i + k] = between(axes[k], at);
    const before = Math.min(count - 2, Math.floor(at));
    const a = world.orientation.subarray(4 * before, 4 * before + 4);
    const turn = logBetween(a, world.orientation.subarray(4 * before + 4, 4 * before + 8));
    for (let k = 0; k < 3; k++) turn[k] *= at - before;
    turnedBy(a, turn, orientation.subarray(4 * i, 4 * i + 4));
  }
  return { position, orientation };
}
