import { sameNumbers } from "../base/study.ts";
import type { Curve } from "../document/model.ts";

/** Keys of two versions of a curve that are the same key, by index, ascending in both. */
export interface KeyPairs {
  readonly before: readonly number[];
  readonly after: readonly number[];
}

/** Frames within which two keys stand at the same time. */
const sameFrame = 0.25;
/** Part of a curve's extent within which two values count as the same; far below what is seen, above rounding. */
const sameValue = 1e-6;

/**
 * Finds keys that are in both versions of a curve, by their values alone, whatever their frames: keys that were
 * re-timed, and keys among which others were put in or taken out.
 *
 * Where all values are the same, all keys are. Else keys whose values occur once in each version are anchors (the
 * longest chain of them that ascends in both), from which pairs go on outwards while values stay the same. A value
 * that repeats tells nothing by itself; its key stays unpaired (see {@link pairedInTime}).
 */
export function pairedKeys(before: Curve, after: Curve): KeyPairs {
  const pairs: KeyPairs & { before: number[]; after: number[] } = { before: [], after: [] };
  if (before.width !== after.width) return pairs;
  const put = (i: number, j: number) => {
    pairs.before.push(i);
    pairs.after.push(j);
  };
  if (sameNumbers(before.values, after.values)) {
    for (let i = 0; i < before.frames.length; i++) put(i, i);
    return pairs;
  }
  const [a, b] = namedValues(before, after);
  pairFromAnchors(a, b, put);
  return pairs;
}

/**
 * Adds to the pairs of a curve's keys those between them that hold the same and stand, by a time map, at the same
 * frame.
 */
export function pairedInTime(
  before: Curve,
  after: Curve,
  pairs: KeyPairs,
  toAfter: (frame: number) => number,
): KeyPairs {
  if (before.width !== after.width || pairs.before.length === before.frames.length) return pairs;
  const [a, b] = namedValues(before, after);
  const all: KeyPairs & { before: number[]; after: number[] } = { before: [], after: [] };
  let j = 0;
  for (let i = 0, n = 0; i < a.length; i++) {
    const isPaired = pairs.before[n] === i;
    const end = isPaired ? pairs.after[n] : (pairs.after[n] ?? b.length);
    const at = toAfter(before.frames[i]);
    while (j < end && (isPaired || after.frames[j] < at - sameFrame)) j++;
    const isThere = j < end && Math.abs(after.frames[j] - at) <= sameFrame && a[i] === b[j];
    if (isPaired) n++;
    else if (!isThere) continue;
    all.before.push(i);
    all.after.push(j++);
  }
  return all;
}

/** Each key's value as a text that is the same for the same value, in both versions. */
function namedValues(before: Curve, after: Curve): readonly [readonly string[], readonly string[]] {
  const { width } = before;
  let low = Infinity;
  let high = -Infinity;
  for (const { values } of [before, after]) {
    for (const value of values) {
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  }
  const grain = Math.max((high - low) * sameValue, Number.MIN_VALUE * 1e6);
  const names = ({ values, frames }: Curve) =>
    Array.from(frames, (_, key) => {
      let name = "";
      for (let k = 0; k < width; k++) name += `${Math.round((values[key * width + k] - low) / grain)} `;
      return name;
    });
  return [names(before), names(after)];
}

/** Pairs by values that occur once, and from them outwards; handed over in order. */
function pairFromAnchors(
  a: readonly string[],
  b: readonly string[],
  put: (i: number, j: number) => void,
): void {
  const anchors = anchorsOf(a, b);
  let [i, j] = [0, 0];
  anchors.forEach(([x, y], n) => {
    // Back from the anchor, then forward, no farther than the pairs so far and the next anchor.
    let back = 0;
    while (x - back - 1 >= i && y - back - 1 >= j && goesOn(a, b, x - back - 1, y - back - 1, 1)) back++;
    for (let k = back; k > 0; k--) put(x - k, y - k);
    put(x, y);
    const [xEnd, yEnd] = anchors[n + 1] ?? [a.length, b.length];
    let ahead = 1;
    while (x + ahead < xEnd && y + ahead < yEnd && goesOn(a, b, x + ahead, y + ahead, -1)) {
      put(x + ahead, y + ahead);
      ahead++;
    }
    [i, j] = [x + ahead, y + ahead];
  });
}

/** Whether two keys hold the same, and something else than the keys beside them from which the pairing comes. */
function goesOn(a: readonly string[], b: readonly string[], i: number, j: number, beside: number): boolean {
  return a[i] === b[j] && a[i] !== a[i + beside] && b[j] !== b[j + beside];
}

/** Keys whose values occur once in each version: the longest chain that ascends in both. */
function anchorsOf(a: readonly string[], b: readonly string[]): readonly (readonly [number, number])[] {
  const inB = onceOnly(b);
  const found: Tie[] = [];
  for (const [name, before] of onceOnly(a)) {
    const after = inB.get(name) ?? -1;
    if (before >= 0 && after >= 0) found.push({ before, after, weight: 1 });
  }
  return heaviestChain(found).map(({ before, after }) => [before, after]);
}

/** Index of each value that occurs once; -1 for one that occurs more often. */
function onceOnly(names: readonly string[]): ReadonlyMap<string, number> {
  const index = new Map<string, number>();
  names.forEach((name, i) => {
    index.set(name, index.has(name) ? -1 : i);
  });
  return index;
}

/** Something that stands at one place before and at another after, and how much speaks for it. */
export interface Tie {
  readonly before: number;
  readonly after: number;
  readonly weight: number;
}

/**
 * The heaviest chain of ties that ascends strictly both before and after. In time n·log n, by a tree over the places
 * after that gives the best chain which ends below a place (Fenwick 1994).
 */
export function heaviestChain<T extends Tie>(ties: readonly T[]): T[] {
  const sorted = [...ties].sort((p, q) => p.before - q.before || q.after - p.after);
  const places = [...new Set(ties.map(({ after }) => after))].sort((p, q) => p - q);
  const rankOf = new Map(places.map((place, rank) => [place, rank + 1]));
  const best = new Float64Array(places.length + 1);
  const bestEnd = new Int32Array(places.length + 1).fill(-1);
  const previous = new Int32Array(sorted.length).fill(-1);
  let end = -1;
  let most = 0;
  sorted.forEach((tie, index) => {
    const rank = rankOf.get(tie.after) as number;
    let below = 0;
    for (let r = rank - 1; r > 0; r -= r & -r) {
      if (best[r] > below) {
        below = best[r];
        previous[index] = bestEnd[r];
      }
    }
    const total = below + tie.weight;
    if (total > most) {
      most = total;
      end = index;
    }
    for (let r = rank; r < best.length; r += r & -r) {
      if (total > best[r]) {
        best[r] = total;
        bestEnd[r] = index;
      }
    }
  });
  const chain: T[] = [];
  for (let index = end; index >= 0; index = previous[index]) chain.push(sorted[index]);
  return chain.reverse();
}
