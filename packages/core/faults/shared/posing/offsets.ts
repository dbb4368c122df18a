import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { gridOf } from "../../../time/grid.ts";
import { toleranceOf } from "../keying/precision.ts";
import { keysAlone, rekeyed } from "../keying/rekey.ts";
import type { Course, Track } from "../keying/track.ts";

/** Judged samples, both included, over which something changes. */
export interface Samples {
  readonly lo: number;
  readonly hi: number;
}

/**
 * Edits that add an amount to what a channel of one number does.
 * @param amount one number per sample from lo to hi, document units; 0 at both ends unless the range ends there
 * @param loose see `Laying`, as `most`
 */
export function offsetTrack(
  study: Study,
  track: Track,
  { lo, hi }: Samples,
  amount: Float64Array,
  loose = 1,
  most = Number.POSITIVE_INFINITY,
): KeyEdit[] {
  const { frames, step } = gridOf(study);
  // Keys that are to stay as many as they are take each amount that is seen.
  const coarse = loose === keysAlone ? 1 : loose;
  const least = 0.25 * coarse * toleranceOf(study, track.node, track.channel);
  if (amount.every((value) => Math.abs(value) < least)) return [];
  const span = spanOf(frames, step, lo, hi, amount, track.curve === null);
  const course: Course = (frame, out) => {
    track.read(frame, out);
    out[0] += between(amount, (frame - frames[lo]) / step);
  };
  return rekeyed(study, track, span, course, { loose, most });
}

/** The span of samples in frames, a step wider where the amount does not start, or end, at nothing. */
export function spanOf(
  frames: Float64Array,
  step: number,
  lo: number,
  hi: number,
  amount: Float64Array,
  isNew: boolean,
): { from: number; to: number } {
  const width = amount.length / (hi - lo + 1);
  const isZero = (at: number) => {
    for (let k = 0; k < width; k++) if (amount[width * at + k] !== 0) return false;
    return true;
  };
  return {
    from: isNew || isZero(0) ? frames[lo] : frames[lo] - step,
    to: isNew || isZero(hi - lo) ? frames[hi] : frames[hi] + step,
  };
}

/** A value between samples, on the cubic through its neighbours (Catmull-Rom); held beyond the ends. */
export function between(series: Float64Array, at: number): number {
  const last = series.length - 1;
  if (at <= 0) return series[0];
  if (at >= last) return series[last];
  const i = Math.floor(at);
  const t = at - i;
  if (t === 0) return series[i];
  const [b, c] = [series[i], series[i + 1]];
  const m0 = 0.5 * (c - series[Math.max(0, i - 1)]);
  const m1 = 0.5 * (series[Math.min(last, i + 2)] - b);
  return b + t * (m0 + t * (3 * (c - b) - 2 * m0 - m1 + t * (m0 + m1 - 2 * (c - b))));
}
