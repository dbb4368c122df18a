import type { Study } from "../../../base/study.ts";
import { heldOf } from "../../../motion/path/held.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { ramp } from "../keying/courses.ts";
import type { EndCourse } from "./two-bone.ts";

/** A stretch of samples with its fade: a change is full from `from` to `to`, and nothing a fade away from either. */
export interface Faded {
  readonly from: number;
  readonly to: number;
  /** Samples before and after it over which it fades; ignored where the range starts, or ends, with it. */
  readonly before: number;
  readonly after: number;
}

/** Samples of a fade that reaches no neighbour. */
export const betweenPoses = 0.5;

/**
 * A stretch with a fade on both sides; from a pose of step keys to the next there is no way on which a change could fade.
 * @param node by whose keys poses are told
 * @param samples of the fade
 */
export function fadedBeside(study: Study, node: number, { from, to }: Span, samples: number): Faded {
  const held = heldOf(study, node);
  return {
    from,
    to,
    before: held[from + 1] === 1 ? betweenPoses : samples,
    after: held[to] === 1 ? betweenPoses : samples,
  };
}

/** Share of a change at a sample, 0 to 1. */
export function shareAt(study: Study, i: number, { from, to, before, after }: Faded): number {
  const last = gridOf(study).count - 1;
  if (i < from) return from === 0 ? 1 : ramp(i, from - before, from);
  if (i > to) return to === last ? 1 : 1 - ramp(i, to, to + after);
  return 1;
}

/** A node's course with a way added to it: `way` writes metres for a sample, `share` says how much of it counts. */
export function shiftedCourse(
  study: Study,
  node: number,
  faded: Faded,
  way: (sample: number) => readonly [number, number, number],
): EndCourse {
  const world = worldOf(study, node);
  const position = world.position.slice();
  for (let i = 0; i < position.length / 3; i++) {
    const share = shareAt(study, i, faded);
    if (share === 0) continue;
    const clamped = Math.min(faded.to, Math.max(faded.from, i));
    const [x, y, z] = way(clamped);
    position[3 * i] += share * x;
    position[3 * i + 1] += share * y;
    position[3 * i + 2] += share * z;
  }
  return { position, orientation: world.orientation };
}
