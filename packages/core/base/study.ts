import { Memo } from "./memo.ts";
import { everywhere, type MeasureDefinition, type Patch, type Stretch } from "./memo-cell.ts";

export { everywhere } from "./memo-cell.ts";

/**
 * Everything that is known of one shot: its inputs, and whatever has been computed from them so far.
 *
 * All that is computed hangs on a study as measures ({@link measure}); each is computed at most once between edits.
 * A new one knows nothing: `studyOf` gives the study of a shot and its settings.
 */
export class Study {
  readonly memo = new Memo();
}

/** A remembered function of a study and a key. */
export interface Measure<K, V> {
  (study: Study, key: K): V;
  readonly definition: MeasureDefinition<Study, K, V>;
}

/**
 * Makes a remembered function. The key must be a number, a string or undefined.
 * @param name what is measured, for whoever looks into a study
 * @param compute computes it from inputs and other measures alone; it is asked once for each key between edits
 * @param same tells whether two results are alike (default: identical), which stops needless work after an edit
 * @returns the function; call it as `m(study, key)`
 */
export function measure<K, V>(
  name: string,
  compute: (study: Study, key: K) => V,
  same?: (before: V, after: V) => boolean,
): Measure<K, V> {
  const definition: MeasureDefinition<Study, K, V> = { name, compute, same, slot: undefined };
  const read = (study: Study, key: K) => study.memo.read(study, definition, key);
  return Object.assign(read, { definition });
}

/**
 * Makes a remembered function whose value tells where it changes, so that a kept piece of work which looks at other
 * samples stays (see `Memo.keep`).
 * @param name what is measured, for whoever looks into a study
 * @param compute computes it from inputs and other measures alone
 * @param changed the first and the last sample in which two values differ; null where they are alike
 * @param isBySample whether `changed` counts samples of the grid; else it is asked for by `Memo.readWithin`
 * @param isSeries whether whoever looks at a stretch of samples reads nothing but those of it
 * @returns the function; call it as `m(study, key)`
 */
export function sampledMeasure<K, V>(
  name: string,
  compute: (study: Study, key: K) => V,
  changed: (before: V, after: V, key: K) => Stretch | null,
  isBySample = true,
  isSeries = isBySample,
): Measure<K, V> {
  const definition: MeasureDefinition<Study, K, V> = {
    name,
    compute,
    changed,
    isBySample,
    isSeries,
    slot: undefined,
  };
  const read = (study: Study, key: K) => study.memo.read(study, definition, key);
  return Object.assign(read, { definition });
}

/**
 * Makes a remembered function whose value is brought up to date in place where what it was computed from has changed
 * between two samples alone, in a session that is edited (`Memo.isPatching`). Its arrays are written to there: whoever
 * hands one on as it is tells of the same changes, and whoever keeps numbers beyond an edit copies them.
 * @param name what is measured, for whoever looks into a study
 * @param compute computes it from inputs and other measures alone
 * @param changed the first and the last sample in which two values differ; null where they are alike
 * @param patch see `MeasureDefinition.patch`
 * @param isSeries whether whoever looks at a stretch of samples reads nothing but those of it
 * @returns the function; call it as `m(study, key)`
 */
export function patchedMeasure<K, V>(
  name: string,
  compute: (study: Study, key: K) => V,
  changed: (before: V, after: V, key: K) => Stretch | null,
  patch: Patch<Study, K, V>,
  isSeries = false,
): Measure<K, V> {
  const definition: MeasureDefinition<Study, K, V> = {
    name,
    compute,
    changed,
    isBySample: true,
    isSeries,
    patch,
    slot: undefined,
  };
  const read = (study: Study, key: K) => study.memo.read(study, definition, key);
  return Object.assign(read, { definition });
}

/**
 * Writes numbers into a series where they differ from those that are there, to the last bit.
 * @param series what is brought up to date, `width` numbers per sample
 * @param from first sample that may differ
 * @param fresh numbers of the samples from there on; as many as `count` samples have
 * @returns the samples that differed
 */
export function overwritten(
  series: Float64Array,
  width: number,
  from: number,
  fresh: Float64Array,
  count: number,
): Stretch | null {
  const start = width * from;
  const length = width * count;
  let first = 0;
  while (first < length && Object.is(series[start + first], fresh[first])) first++;
  if (first === length) return null;
  let last = length - 1;
  while (Object.is(series[start + last], fresh[last])) last--;
  for (let k = first; k <= last; k++) series[start + k] = fresh[k];
  return [from + Math.floor(first / width), from + Math.floor(last / width)];
}

/**
 * The samples in which two series differ.
 * @param width numbers per sample
 * @returns null where they are alike to the last bit; everywhere where only one is there, or their lengths differ
 */
export function changedSamples(
  a: Float64Array | null,
  b: Float64Array | null,
  width: number,
): Stretch | null {
  if (a === b) return null;
  if (a === null || b === null || a.length !== b.length) return everywhere;
  const one = new Int32Array(a.buffer, a.byteOffset, 2 * a.length);
  const other = new Int32Array(b.buffer, b.byteOffset, 2 * b.length);
  let from = 0;
  let to = one.length - 1;
  while (from <= to && one[from] === other[from]) from++;
  if (from > to) return null;
  while (one[to] === other[to]) to--;
  return [Math.floor(from / (2 * width)), Math.floor(to / (2 * width))];
}

/** The stretch that holds two of them. */
export function bothStretches(a: Stretch | null, b: Stretch | null): Stretch | null {
  if (a === null || b === null) return a ?? b;
  return [Math.min(a[0], b[0]), Math.max(a[1], b[1])];
}

/** A remembered function of the study alone; call it as `m(study)`. */
export interface ShotMeasure<V> {
  (study: Study): V;
  readonly definition: MeasureDefinition<Study, undefined, V>;
}

/**
 * Makes a remembered function of the whole shot.
 * @param name what is measured, for whoever looks into a study
 * @param compute computes it from inputs and other measures alone
 * @param same tells whether two results are alike (default: identical)
 * @returns the function; call it as `m(study)`
 */
export function shotMeasure<V>(
  name: string,
  compute: (study: Study) => V,
  same?: (before: V, after: V) => boolean,
): ShotMeasure<V> {
  const { definition } = measure<undefined, V>(name, compute, same);
  return Object.assign((study: Study) => study.memo.read(study, definition, undefined), { definition });
}

/**
 * Whether two number arrays hold the same numbers; for measures that give one.
 * @param a numbers in any unit, or null
 * @param b numbers in the unit of `a`, or null
 * @returns whether both are null, or of one length and equal throughout
 */
export function sameNumbers(a: ArrayLike<number> | null, b: ArrayLike<number> | null): boolean {
  if (a === b) return true;
  if (a === null || b === null || a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (!Object.is(a[i], b[i])) return false;
  return true;
}

/**
 * Makes an input of the whole shot: what it is has to be written into the study's memo before it is read.
 * @throws Error where it is read before
 */
export function shotInput<V>(name: string): ShotMeasure<V> {
  return shotMeasure<V>(name, () => {
    throw new Error(`The input "${name}" has not been set.`);
  });
}
