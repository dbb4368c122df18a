import { floats } from "../base/room.ts";
import { type Study, shotMeasure } from "../base/study.ts";
import { documentRateOf, rangeOf } from "../document/inputs.ts";

/** The moments at which a shot is judged; every series has one entry per sample. */
export interface Grid {
  /** Number of samples, at least 1. */
  readonly count: number;
  /** Judged frames per second. */
  readonly rate: number;
  /** Seconds from one sample to the next. */
  readonly dt: number;
  /** Document frames from one sample to the next. */
  readonly step: number;
  /** Per sample: its time in document frames. */
  readonly frames: Float64Array;
}

/** Samples of the longest grid: more than eleven hours at 24 frames per second. What lies beyond is not judged. */
export const maxSamples = 1_000_000;

/** Part of a step by which the last sample may miss the end of the range and still be counted in. */
const roundingSlack = 1e-9;

/** Input: frames per second at which the shot is judged; null, as long as nothing is chosen, is the document's own rate. */
export const judgedRateOf = shotMeasure<number | null>("judged rate", () => null);

/** Chooses the rate at which a study's shot is judged; null takes the document's own. */
export function setJudgedRate(study: Study, rate: number | null): void {
  if (judgedRateOf(study) !== rate) study.memo.write(judgedRateOf.definition, undefined, rate);
}

/**
 * The judged frames: from the first frame of the range to the last one, both included, at the rate of the settings
 * or, where they name none, at the document's own. A range that is empty, reversed or not finite is judged at its
 * first frame alone.
 * @returns samples with their frames in the numbering of the document, and the seconds between them
 */
export const gridOf = shotMeasure<Grid>(
  "grid",
  (study) => {
    const [first, last] = rangeOf(study);
    const documentRate = documentRateOf(study);
    const chosen = judgedRateOf(study);
    const rate = chosen ?? documentRate;
    const step = chosen === null ? 1 : documentRate / chosen;
    const steps = Math.floor((last - first) / step + roundingSlack);
    const count = steps >= 1 ? Math.min(steps + 1, maxSamples) : 1;
    const frames = floats(count);
    for (let i = 0; i < count; i++) frames[i] = first + i * step;
    return { count, rate, dt: 1 / rate, step, frames };
  },
  (a, b) => a.count === b.count && a.rate === b.rate && a.step === b.step && a.frames[0] === b.frames[0],
);

/**
 * Index of the sample nearest to a frame of the document, within the grid.
 * @param grid what `gridOf` gives
 * @param frame frame in the numbering of the document; may lie between two
 * @returns index of the sample
 */
export function sampleAt(grid: Grid, frame: number): number {
  return Math.min(grid.count - 1, Math.max(0, Math.round((frame - grid.frames[0]) / grid.step)));
}
