import { extremesOf } from "./beat.ts";
import { leastBeat } from "./propulsors.ts";

/** When a propulsor begins to beat after a pause. */
export interface BeatStart {
  /** First sample of its first stroke. */
  readonly onset: number;
  /** The first extreme that the stroke reaches. */
  readonly extreme: number;
}

/** Share of the first stroke under which the propulsor still rests. */
const restShare = 0.15;

/**
 * Starts of beating: first strokes after a pause of at least `pause` samples without a stroke. The start of the range
 * is none, since what went before it is not known.
 * @param series of a propulsor (see `propulsorsOf`)
 */
export function beatStartsOf(series: Float64Array, pause: number): BeatStart[] {
  const extremes = extremesOf(series, leastBeat);
  const starts: BeatStart[] = [];
  for (let e = 0; e < extremes.length; e++) {
    const extreme = extremes[e];
    const before = e > 0 ? extremes[e - 1] : 0;
    // The stroke that leads here: back to where the part still rests.
    const stroke = series[extreme] - restBefore(series, before, extreme);
    let onset = extreme;
    while (onset > before && Math.abs(series[extreme] - series[onset]) < (1 - restShare) * Math.abs(stroke))
      onset--;
    if (onset - before >= pause) starts.push({ onset, extreme });
  }
  return starts;
}

/** Value of a series where it is farthest from an extreme since the extreme before. */
function restBefore(series: Float64Array, before: number, extreme: number): number {
  let rest = series[before];
  for (let i = before; i < extreme; i++) {
    if (Math.abs(series[extreme] - series[i]) > Math.abs(series[extreme] - rest)) rest = series[i];
  }
  return rest;
}
