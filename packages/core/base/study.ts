import type { Channel, Curve, Shot } from "../document/model.ts";
import { sameCurveData } from "../document/reread.ts";
import type { DocumentHeader } from "../document/schema.ts";
import type { ResolvedSettings } from "../settings/settings.ts";
import { type MeasureDefinition, Memo } from "./memo.ts";

/**
 * Everything that is known of one shot: its inputs, and whatever has been computed from them so far.
 *
 * All that is computed hangs on a study as measures ({@link measure}); each is computed at most once between edits.
 */
export class Study {
  readonly memo = new Memo();

  constructor(shot: Shot, settings: ResolvedSettings) {
    setShot(this, shot);
    this.memo.write(settingsOf.definition, undefined, settings);
  }
}

/** A remembered function of a study and a key. */
export interface Measure<K, V> {
  (study: Study, key: K): V;
  readonly definition: MeasureDefinition<Study, K, V>;
}

/**
 * Makes a remembered function. The key must be a number, a string or undefined.
 * @param same tells whether two results are alike (default: identical), which stops needless work after an edit
 */
export function measure<K, V>(
  name: string,
  compute: (study: Study, key: K) => V,
  same?: (before: V, after: V) => boolean,
): Measure<K, V> {
  const definition: MeasureDefinition<Study, K, V> = { name, compute, same };
  const read = (study: Study, key: K) => study.memo.read(study, definition, key);
  return Object.assign(read, { definition });
}

/** A remembered function of the study alone; call it as `m(study)`. */
export interface ShotMeasure<V> {
  (study: Study): V;
  readonly definition: MeasureDefinition<Study, undefined, V>;
}

/** Makes a remembered function of the whole shot. */
export function shotMeasure<V>(
  name: string,
  compute: (study: Study) => V,
  same?: (before: V, after: V) => boolean,
): ShotMeasure<V> {
  const keyed = measure<undefined, V>(name, compute, same);
  return Object.assign((study: Study) => keyed(study, undefined), { definition: keyed.definition });
}

/** Whether two number arrays hold the same numbers; for measures that give one. */
export function sameNumbers(a: ArrayLike<number> | null, b: ArrayLike<number> | null): boolean {
  if (a === b) return true;
  if (a === null || b === null || a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (!Object.is(a[i], b[i])) return false;
  return true;
}

function unset(): never {
  throw new Error("This input has not been set.");
}

/** Input: the document without its curves. */
export const headerOf = shotMeasure<DocumentHeader>("header", unset);
/** Input: first and last judged frame, in the document's numbering. */
export const rangeOf = shotMeasure<readonly [number, number]>("range", unset);
/** Input: frames per second of the document's numbering. */
export const documentRateOf = shotMeasure<number>("document rate", unset);
/** Input: the settings of all checks, units resolved. */
export const settingsOf = shotMeasure<ResolvedSettings>("settings", unset);
/** Input: the names ({@link curveName}) of all curves, in document order. */
export const curveNamesOf = shotMeasure<readonly string[]>("curve names", unset);
/** Input: one curve by its name, null where there is none. */
export const curveOf = measure<string, Curve | null>("curve", () => null);

/** The name by which a curve is asked for: node, a space, channel. */
export function curveName(node: string, channel: Channel): string {
  return `${node} ${channel}`;
}

/**
 * Puts a shot's parts into a study. The header counts as unchanged if it is the same object as before, a curve if it
 * holds the same keys: one that was only shifted in its text is not judged again.
 */
export function setShot(study: Study, shot: Shot, before?: Shot): void {
  const { memo } = study;
  if (shot.header !== before?.header) memo.write(headerOf.definition, undefined, shot.header);
  if (before === undefined || before.range[0] !== shot.range[0] || before.range[1] !== shot.range[1]) {
    memo.write(rangeOf.definition, undefined, shot.range);
  }
  const rate = shot.frameRate.numerator / shot.frameRate.denominator;
  if (before === undefined || before.frameRate.numerator / before.frameRate.denominator !== rate) {
    memo.write(documentRateOf.definition, undefined, rate);
  }
  const names = shot.curves.map((curve) => curveName(curve.node, curve.channel));
  const namesBefore = before?.curves.map((curve) => curveName(curve.node, curve.channel)) ?? [];
  if (before === undefined || names.join("\n") !== namesBefore.join("\n")) {
    memo.write(curveNamesOf.definition, undefined, names);
    const kept = new Set(names);
    for (const name of namesBefore) if (!kept.has(name)) memo.clear(study, curveOf.definition, name);
  }
  const curvesBefore = new Map(namesBefore.map((name, index) => [name, before?.curves[index]]));
  shot.curves.forEach((curve, index) => {
    const name = names[index] as string;
    const known = curvesBefore.get(name);
    if (known === undefined || !sameCurveData(known, curve)) memo.write(curveOf.definition, name, curve);
  });
}
