import type { Seen } from "./memo-cell.ts";
import { everywhere, type Study } from "./study.ts";

/** A first question to each sample of a series, whose answer hangs on the samples around it alone. */
export interface Sieve<T> {
  /** Tells the sieves of a measure apart. */
  readonly name: string;
  /** Numbers and texts that answers hang on besides. */
  readonly sees: readonly Seen[];
  /** Samples on each side that an answer hangs on, at most. */
  readonly reach: number;
  /** Whether the series have an entry for each judged frame; if not, all samples are asked anew. */
  readonly isWhole: boolean;
  /** Asks measures for the series. */
  series(): T;
  count(series: T): number;
  /**
   * Adds the samples from..to (both included) that pass. Each sieve has a loop of its own: a loop for all of them, which
   * calls one of many functions for each sample, costs several times as much.
   */
  sift(series: T, from: number, to: number, found: number[]): void;
}

/**
 * The samples that pass a first question. Within a measure they are kept from edit to edit, and only those are asked
 * again that an edit reaches.
 * @returns ascending indices; not to be kept beyond an edit
 */
export function sifted<T>(study: Study, sieve: Sieve<T>): readonly number[] {
  const { name, sees, reach, isWhole } = sieve;
  if (!isWhole) return passing(sieve, sieve.series(), 0, Number.POSITIVE_INFINITY);
  return study.memo.keepPatched(
    study,
    name,
    sees,
    () => passing(sieve, sieve.series(), 0, Number.POSITIVE_INFINITY),
    (kept, from, to) => {
      const fresh = passing(sieve, sieve.series(), from - reach, to + reach);
      const first = firstFrom(kept, from - reach);
      const behind = firstFrom(kept, to + reach + 1);
      if (behind - first === fresh.length && fresh.every((sample, k) => sample === kept[first + k]))
        return null;
      kept.splice(first, behind - first, ...fresh);
      return everywhere;
    },
  );
}

function passing<T>(sieve: Sieve<T>, series: T, from: number, to: number): number[] {
  const found: number[] = [];
  sieve.sift(series, Math.max(0, from), Math.min(to, sieve.count(series) - 1), found);
  return found;
}

/** Index of the first of ascending numbers that is not less than another one. */
function firstFrom(sorted: readonly number[], least: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] < least) low = middle + 1;
    else high = middle;
  }
  return low;
}
