import type { Seen } from "../../../base/memo-cell.ts";
import { sifted } from "../../../base/sifted.ts";
import type { Study } from "../../../base/study.ts";
import { type Pace, posesOf } from "../../../motion/path/pace.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Motion, Steps } from "./paces.ts";

/** What checks find in a motion, kept from edit to edit while nothing changes of what they look at. */

/**
 * The poses of a motion that pass a first question, kept from edit to edit; see {@link sifted}.
 * @param name of who asks
 * @param sees numbers that answers hang on besides
 * @param reach poses on each side that an answer hangs on
 * @param sift adds the poses from..to that pass
 */
export function siftedPoses(
  study: Study,
  node: number,
  { paceOf, stepsOf, pace }: Motion,
  name: string,
  sees: readonly Seen[],
  reach: number,
  sift: (steps: Steps, from: number, to: number, found: number[]) => void,
): readonly number[] {
  if (!study.memo.keepsPieces()) {
    const steps = stepsOf(study, node) ?? pace.steps;
    const found: number[] = [];
    sift({ poses: pace.poses, steps }, 0, steps.length - 1, found);
    return found;
  }
  return sifted(study, {
    name: `${name} ${node} ${paceOf.definition.name}`,
    sees,
    reach,
    isWhole: pace.poses.length === gridOf(study).count,
    series: () => ({ poses: pace.poses, steps: stepsOf(study, node) ?? pace.steps }),
    count: ({ steps }) => steps.length,
    sift,
  });
}

/** What is found in the steps of a motion alone, kept while these do not change; as for {@link siftedPoses}. */
export function keptOfSteps<T>(
  study: Study,
  node: number,
  { paceOf, stepsOf, pace: { steps } }: Motion,
  name: string,
  sees: readonly Seen[],
  find: (steps: Steps) => T,
): T {
  return kept(study, node, paceOf, name, sees, () =>
    find({ poses: posesOf(study, node), steps: stepsOf(study, node) ?? steps }),
  );
}

/** What is found in the pace of a motion alone, kept while that does not change; as for {@link siftedPoses}. */
export function keptOfPace<T>(
  study: Study,
  node: number,
  { paceOf, pace }: Motion,
  name: string,
  sees: readonly Seen[],
  find: (pace: Pace) => T,
): T {
  return kept(study, node, paceOf, name, sees, () => find(paceOf(study, node) ?? pace));
}

/** Kept as a whole, under the name of who asks, the node, and the way in which it moves. */
function kept<T>(
  study: Study,
  node: number,
  { definition }: Motion["paceOf"],
  name: string,
  sees: readonly Seen[],
  find: () => T,
): T {
  const all = Number.POSITIVE_INFINITY;
  if (!study.memo.keepsPieces()) return find();
  return study.memo.keep(study, `${name} ${node} ${definition.name}`, -all, all, sees, find);
}
