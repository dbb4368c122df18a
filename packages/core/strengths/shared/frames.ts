import { referenceRate } from "../../base/constants.ts";
import type { Study } from "../../base/study.ts";
import { gridOf } from "../../time/grid.ts";

/** Judged frames in so many frames at 24 per second, at least 1. */
export function samplesOf(study: Study, frames: number): number {
  return Math.max(1, Math.round((frames * gridOf(study).rate) / referenceRate));
}

/**
 * When a series first passes a level on its way from sample `from` on, as an index with a fraction; NaN where it never does.
 * The series is read from its first entry, which stands for sample `first`.
 */
export function passes(series: Float64Array, first: number, level: number): number {
  for (let i = 1; i < series.length; i++) {
    const [before, here] = [series[i - 1], series[i]];
    if (before < level && here >= level) return first + i - 1 + (level - before) / (here - before);
  }
  return Number.NaN;
}
