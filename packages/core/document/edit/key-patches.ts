import type { Curve } from "../model.ts";
import { codesOf } from "../scan/codes.ts";
import { readNumberInto } from "../scan/number.ts";
import { extrasText, keyText, valueText } from "../write/curve-text.ts";
import { editedCurve, type PlannedKey, plannedKeys } from "./edited-curve.ts";
import type { CurvePlan, TouchedKey } from "./plan.ts";
import { separatorAt, skipBlank, type TextPatch, withoutEntries } from "./text-patch.ts";

const scratch = new Float64Array(1);

/** The patches that turn the text of a curve into that of the edited one; keys that are not touched stay as they are. */
export function keyPatches(text: string, plan: CurvePlan): readonly TextPatch[] {
  const { place } = plan.curve;
  if (place === null) return [];
  const after = editedCurve(plan);
  const startOf = (key: number) => place.start + place.keyStart[key];
  const endOf = (key: number) => place.start + place.keyEnd[key];
  const keys = plannedKeys(plan);
  const inPlace = keysInPlace(keys);
  const stays = new Set<number>();
  keys.forEach((key, index) => {
    if (inPlace[index]) stays.add(typeof key === "number" ? key : key.source);
  });
  if (stays.size === 0) return [replacedKeys(text, plan, after)];
  const patches: TextPatch[] = [];
  // Where the next key that keeps its line starts, from the back.
  let next = -1;
  const insertions: TextPatch[] = [];
  for (let index = keys.length - 1; index >= 0; index--) {
    const key = keys[index];
    if (inPlace[index]) {
      next = typeof key === "number" ? key : key.source;
      if (typeof key !== "number")
        patches.push(...tokenPatches(text, startOf(next), endOf(next), after, index, key));
    } else if (next >= 0) {
      const at = startOf(next);
      insertions.unshift({ start: at, end: at, text: `${keyText(after, index)},${separatorAt(text, at)}` });
    }
  }
  let last = 0;
  for (const key of stays) last = Math.max(last, key);
  keys.forEach((_, index) => {
    if (inPlace[index] || inPlace.indexOf(true, index) >= 0) return;
    const at = endOf(last);
    insertions.push({
      start: at,
      end: at,
      text: `,${separatorAt(text, startOf(last))}${keyText(after, index)}`,
    });
  });
  const gone: [number, number][] = [];
  for (let key = 0; key < plan.curve.frames.length; key++) {
    if (!stays.has(key)) gone.push([startOf(key), endOf(key)]);
  }
  return [...insertions, ...patches, ...withoutEntries(text, gone)];
}

/**
 * Which planned keys can keep their line: those that were not moved, and moved ones that still stand in order among
 * them. Others are taken out and put in again.
 */
function keysInPlace(keys: readonly PlannedKey[]): boolean[] {
  const nextFixed = new Array<number>(keys.length);
  let fixed = Number.POSITIVE_INFINITY;
  for (let index = keys.length - 1; index >= 0; index--) {
    nextFixed[index] = fixed;
    const key = keys[index];
    if (typeof key === "number") fixed = key;
    else if (key.source >= 0 && !key.isMoved) fixed = key.source;
  }
  let last = -1;
  return keys.map((key, index) => {
    const source = typeof key === "number" ? key : key.source;
    if (source < 0) return false;
    const isFixed = typeof key === "number" || !key.isMoved;
    if (!isFixed && (source < last || source > nextFixed[index])) return false;
    last = source;
    return true;
  });
}

/** All keys anew, where none keeps its line. */
function replacedKeys(text: string, plan: CurvePlan, after: Curve): TextPatch {
  const place = plan.curve.place!;
  const start = place.start + place.keyStart.reduce((a, b) => Math.min(a, b));
  const keys = Array.from(after.frames, (_, key) => keyText(after, key));
  return {
    start,
    end: place.start + place.keyEnd.reduce((a, b) => Math.max(a, b)),
    text: keys.join(`,${separatorAt(text, start)}`),
  };
}

/** Replaces what an edit changes inside one key, and leaves the rest of its line as it is written. */
function tokenPatches(
  text: string,
  start: number,
  end: number,
  after: Curve,
  index: number,
  key: TouchedKey,
): readonly TextPatch[] {
  const whole = [{ start, end, text: keyText(after, index) }];
  const piece = text.slice(start, end);
  const codes = codesOf(piece);
  const frameStart = skipBlank(piece, 1);
  const frameEnd = readNumberInto(codes, piece, frameStart, scratch, 0);
  const comma = skipBlank(piece, frameEnd);
  if (frameEnd < 0 || piece[comma] !== ",") return whole;
  const valueStart = skipBlank(piece, comma + 1);
  const valueEnd =
    after.width === 4
      ? piece.indexOf("]", valueStart) + 1
      : readNumberInto(codes, piece, valueStart, scratch, 0);
  const behind = skipBlank(piece, valueEnd);
  if (valueEnd <= 0 || (piece[behind] !== "," && piece[behind] !== "]")) return whole;
  const patches: TextPatch[] = [];
  const replace = (from: number, to: number, by: string) =>
    patches.push({ start: start + from, end: start + to, text: by });
  if (key.isMoved) replace(frameStart, frameEnd, keyText(after, index).slice(1).split(",", 1)[0]);
  if (key.isValueNew) replace(valueStart, valueEnd, valueText(after, index));
  if (key.areExtrasNew) {
    const extras = extrasText(after, index);
    const close = piece.lastIndexOf("]");
    if (extras === null) replace(valueEnd, close, "");
    else if (piece[behind] === ",") replace(skipBlank(piece, behind + 1), close, extras);
    else replace(valueEnd, valueEnd, `, ${extras}`);
  }
  return patches;
}
