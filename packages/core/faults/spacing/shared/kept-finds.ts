import type { Seen, Stretch } from "../../../base/memo-cell.ts";
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

/**
 * What is found in the steps of a motion alone, kept from edit to edit and brought up to date in place where some of them
 * change; for who has asked `keepsPieces`.
 * @param patch as of `Memo.keepPatched`; not asked where the motion does not show a pose of its own in each sample
 */
export function patchedOfSteps<T>(
  study: Study,
  node: number,
  { paceOf, stepsOf, pace }: Motion,
  name: string,
  sees: readonly Seen[],
  find: (steps: Steps) => T,
  patch: (kept: T, steps: Steps, from: number, to: number) => Stretch | null,
): T {
  const stepsNow = () => ({ poses: posesOf(study, node), steps: stepsOf(study, node) ?? pace.steps });
  return study.memo.keepPatched(
    study,
    `${name} ${node} ${paceOf.definition.name}`,
    sees,
    () => find(stepsNow()),
    (kept, from, to) => {
      const now = stepsNow();
      return now.steps.length === gridOf(study).count ? patch(kept, now, from, to) : undefined;
    },
  );
}

/** What is found in the pace of a motion alone; as for {@link patchedOfSteps}, and simply found where nobody edits. */
export function patchedOfPace<T>(
  study: Study,
  node: number,
  { paceOf, pace }: Motion,
  name: string,
  sees: readonly Seen[],
  find: (pace: Pace) => T,
  patch: (kept: T, pace: Pace, from: number, to: number) => Stretch | null,
): T {
  const paceNow = () => paceOf(study, node) ?? pace;
  if (!study.memo.keepsPieces()) return find(paceNow());
  return study.memo.keepPatched(
    study,
    `${name} ${node} ${paceOf.definition.name}`,
    sees,
    () => find(paceNow()),
    (kept, from, to) => {
      const now = paceNow();
      return now.poses.length === gridOf(study).count ? patch(kept, now, from, to) : undefined;
    },
  );
}
