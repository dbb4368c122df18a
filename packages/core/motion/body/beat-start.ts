import { floats } from "../../base/room.ts";
import { leastBeat } from "./propulsors.ts";

/** Share of a propulsor's fast strokes from which it beats; slower it glides, trims or comes to rest (our choice). */
const beatingShare = 0.25;

/**
 * Samples at which a propulsor begins to beat after a pause: the last ones before its first fast step. The start of the
 * range is none, since what went before it is not known.
 * @param series of a propulsor (see `propulsorsOf`)
 * @param pause least number of samples without a fast step before it; longer than a wing takes to turn about
 */
export function beatStartsOf(series: Float64Array, pause: number): number[] {
  if (series.length < 2) return [];
  const steps = floats(series.length - 1);
  let low = series[0];
  let high = series[0];
  for (let i = 1; i < series.length; i++) {
    steps[i - 1] = Math.abs(series[i] - series[i - 1]);
    low = Math.min(low, series[i]);
    high = Math.max(high, series[i]);
  }
  if (!(high - low > 2 * leastBeat)) return [];
  // The fastest steps of all may be a slip: nine tenths of them count.
  const sorted = steps.slice().sort();
  const fast =
    beatingShare *
    Math.max(sorted[Math.floor(0.9 * (sorted.length - 1))], leastShare * sorted[sorted.length - 1]);
  const starts: number[] = [];
  let since = 0;
  for (let i = 0; i < steps.length; i++) {
    if (steps[i] < fast) {
      since++;
      continue;
    }
    if (since >= pause) starts.push(i);
    since = 0;
  }
  return starts;
}

/**
 * A creature that beats only once in a long shot has few fast steps; its fastest one then says how fast it beats: half
 * of it is beating (our choice).
 */
const leastShare = 0.5;
