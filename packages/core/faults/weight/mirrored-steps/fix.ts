import { logBetween, turnedBy } from "../../../base/quaternion.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { limbEdits } from "../../shared/posing/kept-ends.ts";
import { mirroredSteps } from "./check.ts";
import type { Step } from "./steps.ts";

export const mirroredStepsFix = defineFix(mirroredSteps, {
  what: "Lets one foot leave some frames later, or land sooner, or both, on its own way.",
  title: ({ node, frames }) =>
    `let ${node ?? "the foot"} step apart from the other, frames ${frames[0]} to ${frames[1]}`,
  *propose({ study, finding }) {
    const { step, numbers } = finding;
    for (const by of [numbers.offset, numbers.offset + 1]) {
      yield quickerStep(study, step, by, 0);
      yield quickerStep(study, step, 0, by);
      yield quickerStep(study, step, by, by);
    }
  },
});

/** Samples before a step leaves, and behind its landing, over which its foot comes back to its own times (our choice). */
const fade = 3;

/**
 * The keys of a leg whose foot leaves so many samples later, and lands so many sooner, on its own way: where it stood it
 * goes on standing.
 */
function quickerStep(study: Study, { leg, leaves, lands }: Step, later: number, sooner: number): KeyEdit[] {
  const { count } = gridOf(study);
  const [lo, hi] = [Math.max(0, leaves - fade), Math.min(count - 1, lands + fade)];
  if (leaves + later >= lands - sooner) return [];
  const { position, orientation } = worldOf(study, leg.end);
  const course = { position: floats(3 * count), orientation: floats(4 * count) };
  course.position.set(position);
  course.orientation.set(orientation);
  const knots: readonly (readonly [now: number, was: number])[] = [
    [lo, lo],
    [leaves + later, leaves],
    [lands - sooner, lands],
    [hi, hi],
  ];
  for (let i = lo + 1; i < hi; i++) {
    const n = knots.findIndex(([now]) => now > i);
    const [[a, wasA], [b, wasB]] = [knots[n - 1], knots[n]];
    const was = wasA + ((i - a) * (wasB - wasA)) / (b - a);
    const k = Math.min(Math.floor(was), count - 2);
    const share = was - k;
    for (let axis = 0; axis < 3; axis++) {
      const at = position[3 * k + axis];
      course.position[3 * i + axis] = at + share * (position[3 * k + 3 + axis] - at);
    }
    const from = orientation.subarray(4 * k, 4 * k + 4);
    const way = logBetween(from, orientation.subarray(4 * k + 4, 4 * k + 8));
    turnedBy(
      from,
      way.map((angle) => share * angle),
      course.orientation.subarray(4 * i, 4 * i + 4),
    );
  }
  return limbEdits(study, study, leg, { lo, hi }, course);
}
