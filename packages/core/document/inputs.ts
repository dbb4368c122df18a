import type { Stretch } from "../base/memo-cell.ts";
import { everywhere, type Study, sampledMeasure, shotInput } from "../base/study.ts";
import type { Channel, Curve, Shot } from "./model.ts";
import { sameCurveData } from "./reread.ts";
import type { DocumentHeader } from "./schema.ts";

/**
 * Input: the document without its curves.
 * @returns rate, units, nodes, figures, contacts and all else that is no curve
 */
export const headerOf = shotInput<DocumentHeader>("header");
/** Input: first and last judged frame, in the document's numbering. */
export const rangeOf = shotInput<readonly [number, number]>("range");
/** Input: ids of nodes whose curves may be gone, where the document breaks off (`Shot.cutOff`); null where it is whole. */
export const cutOffOf = shotInput<readonly string[] | null>("cut off");
/** Input: frames per second of the document's numbering. */
export const documentRateOf = shotInput<number>("document rate");
/**
 * Input: the names ({@link curveName}) of all curves, in document order.
 * @returns one name for each curve
 */
export const curveNamesOf = shotInput<readonly string[]>("curve names");
/**
 * Input: one curve by its name, null where there is none.
 * @param key name of the curve (`curveName`)
 * @returns the curve; null where there is none
 */
export const curveOf = sampledMeasure<string, Curve | null>("curve", () => null, changedKeys, false);

/**
 * Between which frames of the document the keys of two versions of a curve differ; to the end and beyond where there are
 * more or fewer of them, since those behind then have another index.
 */
export function changedKeys(a: Curve | null, b: Curve | null): Stretch | null {
  if (a === null || b === null) return a === b ? null : everywhere;
  const isOfOneKind =
    a.node === b.node &&
    a.channel === b.channel &&
    a.interpolation === b.interpolation &&
    a.width === b.width;
  if (!isOfOneKind || (a.handles === null) !== (b.handles === null)) return everywhere;
  const count = Math.min(a.frames.length, b.frames.length);
  let first = 0;
  while (first < count && isSameKey(a, b, first)) first++;
  const isAsMany = a.frames.length === b.frames.length;
  if (isAsMany && first === count) return null;
  const from = Math.min(a.frames[first] ?? Infinity, b.frames[first] ?? Infinity);
  if (!isAsMany) return [from, Infinity];
  let last = count - 1;
  while (isSameKey(a, b, last)) last--;
  return [from, Math.max(a.frames[last], b.frames[last])];
}

function isSameKey(a: Curve, b: Curve, key: number): boolean {
  if (!Object.is(a.frames[key], b.frames[key]) || a.modes[key] !== b.modes[key]) return false;
  const { width } = a;
  for (let k = width * key; k < width * (key + 1); k++)
    if (!Object.is(a.values[k], b.values[k])) return false;
  if (a.handles === null || b.handles === null) return true;
  const stride = width === 1 ? 4 : 8;
  for (let k = stride * key; k < stride * (key + 1); k++)
    if (!Object.is(a.handles[k], b.handles[k])) return false;
  return true;
}

/**
 * The name by which a curve is asked for: node, a space, channel.
 * @param node id of the node
 * @param channel such as `rotation.z`
 * @returns the name that `curveOf` takes
 */
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
  if (before === undefined || before.cutOff?.join("\n") !== shot.cutOff?.join("\n")) {
    memo.write(cutOffOf.definition, undefined, shot.cutOff ?? null);
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
