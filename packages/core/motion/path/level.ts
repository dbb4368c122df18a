import { changedSamples, type Measure, overwritten, patchedMeasure, type Study } from "../../base/study.ts";
import { worldOf } from "../../rig/pose.ts";
import { paceAlong, stepsAlong } from "./pace.ts";

/** Path of a node over the ground, as seen from above: metres, with no height. */
export const levelPathOf: Measure<number, Float64Array> = patchedMeasure(
  "level path",
  (study: Study, node: number) => levelled(worldOf(study, node).position),
  (a, b) => changedSamples(a, b, 3),
  (study, node, path, from, to) => {
    const fresh = levelled(worldOf(study, node).position.subarray(3 * from, 3 * to + 3));
    return overwritten(path, 3, from, fresh, to - from + 1);
  },
);

/** The steps of {@link levelTravelPaceOf}. */
export const levelTravelStepsOf = stepsAlong("level travel steps", levelPathOf);
/** Travel of a node over the ground, metres per judged frame: a body that bobs goes on rising while its way ends. */
export const levelTravelPaceOf = paceAlong("level travel pace", levelTravelStepsOf);

/**
 * A path without its height.
 * @param path 3 numbers per sample, y up; is left as it is
 */
export function levelled(path: Float64Array): Float64Array {
  const level = path.slice();
  for (let i = 1; i < level.length; i += 3) level[i] = 0;
  return level;
}
