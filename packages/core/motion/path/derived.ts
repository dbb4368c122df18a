import { changedSamples, type Measure, overwritten, patchedMeasure, type Study } from "../../base/study.ts";

/**
 * A measure of a series that is worked out from a path, each sample from the path about it alone: an edit works out again
 * those about which the path has changed.
 * @param pathOf 3 numbers per sample
 * @param derive as many numbers from a path; of a part of one, all but the reach at an end that is none of the path's
 * @param reachIn samples on each side of one on which it hangs, at most
 */
export function derivedMeasure(
  name: string,
  pathOf: (study: Study, key: number) => Float64Array,
  derive: (study: Study, path: Float64Array) => Float64Array,
  reachIn: (study: Study) => number,
): Measure<number, Float64Array> {
  return patchedMeasure(
    name,
    (study, key: number): Float64Array => derive(study, pathOf(study, key)),
    (a, b) => changedSamples(a, b, 3),
    (study, key, series, from, to) => {
      const path = pathOf(study, key);
      if (path.length !== series.length) return undefined;
      const reach = reachIn(study);
      const end = path.length / 3 - 1;
      const first = Math.max(0, from - reach);
      const last = Math.min(end, to + reach);
      const start = Math.max(0, first - reach);
      const fresh = derive(study, path.subarray(3 * start, 3 * Math.min(end, last + reach) + 3));
      return overwritten(series, 3, first, fresh.subarray(3 * (first - start)), last - first + 1);
    },
  );
}
