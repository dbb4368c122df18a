import type { TextPatch } from "../document/edit/text-patch.ts";
import { applyKeyEdits } from "../document/edit-text.ts";
import type { Curve, Shot } from "../document/model.ts";
import { readShot } from "../document/read.ts";
import type { ProvenFix } from "./proving.ts";

/**
 * A document's text with fixes made in it, one after another; all but the changed keys stays as it stands.
 * @param text text of a curve document
 * @param shot as it was read from exactly this text
 * @param fixes each one's edits belong to the shot that the one before leaves
 * @returns the text with all fixes in it
 * @throws KeyEditError if the edits do not fit the text
 */
export function fixedText(text: string, shot: Shot, fixes: readonly Pick<ProvenFix, "edits">[]): string {
  let current = { text, shot };
  for (const { edits } of fixes) {
    const next = applyKeyEdits(current.text, current.shot, edits);
    const { shot: read } = readShot(next);
    if (read === null) throw new Error("The fixed document cannot be read again.");
    current = { text: next, shot: read };
  }
  return current.text;
}

/**
 * The lines in which two versions of a document's text differ that were made by edits of keys: what an editor has to
 * replace to get from one to the other. Curves that both have are compared line by line; new ones come in at the end. Where
 * a curve has lost its last key and is gone, one piece holds all that differs.
 */
export function changedLines(text: string, shot: Shot, after: string): TextPatch[] {
  const { shot: made } = readShot(after);
  const patches: TextPatch[] = [];
  const byName = new Map(made?.curves.map((curve) => [nameOf(curve), curve]));
  if (shot.curves.some((curve) => !byName.has(nameOf(curve)))) return [differingPiece(text, after)];
  let last: Curve["place"] = null;
  let lastMade: Curve["place"] = null;
  for (const curve of shot.curves) {
    const { place } = curve;
    const other = byName.get(nameOf(curve))?.place ?? null;
    if (place === null || other === null) continue;
    if (last === null || place.end > last.end) {
      last = place;
      lastMade = other;
    }
    const [before, now] = [text.slice(place.start, place.end), after.slice(other.start, other.end)];
    if (before !== now) patches.push(...linePatches(before, now, place.start));
  }
  const end = Math.max(0, ...(made?.curves.map((curve) => curve.place?.end ?? 0) ?? []));
  if (last !== null && lastMade !== null && end > lastMade.end) {
    patches.push({ start: last.end, end: last.end, text: after.slice(lastMade.end, end) });
  }
  return patches;
}

function nameOf({ node, channel }: Curve): string {
  return `${node} ${channel}`;
}

/** The whole lines from the first to the last in which two texts differ. */
function differingPiece(before: string, after: string): TextPatch {
  const [a, b] = [linesOf(before), linesOf(after)];
  const most = Math.min(a.length, b.length);
  let first = 0;
  while (first < most && a[first] === b[first]) first++;
  let last = 0;
  while (last < most - first && a[a.length - 1 - last] === b[b.length - 1 - last]) last++;
  const start = a.slice(0, first).join("").length;
  const piece = a.slice(first, a.length - last).join("");
  return { start, end: start + piece.length, text: b.slice(first, b.length - last).join("") };
}

/** Patches that turn a piece of text into another one, line by line. @param offset where the piece stands */
function linePatches(before: string, after: string, offset: number): TextPatch[] {
  const [a, b] = [linesOf(before), linesOf(after)];
  const common = commonLengths(a, b);
  const patches: TextPatch[] = [];
  let [i, j, at] = [0, 0, offset];
  while (i < a.length || j < b.length) {
    if (i < a.length && j < b.length && a[i] === b[j]) {
      at += a[i].length;
      i++;
      j++;
      continue;
    }
    const [start, from] = [at, j];
    // On to the next line that both have.
    while ((i < a.length || j < b.length) && !(i < a.length && j < b.length && a[i] === b[j])) {
      if (j >= b.length || (i < a.length && common[i + 1][j] >= common[i][j + 1])) at += a[i++].length;
      else j++;
    }
    patches.push({ start, end: at, text: b.slice(from, j).join("") });
  }
  return patches;
}

/** Lines with their ends. */
function linesOf(text: string): string[] {
  return text.match(/[^\n]*\n|[^\n]+$/g) ?? [];
}

/** Per pair of lines: how many lines the rests from there on have in common, in order. */
function commonLengths(a: readonly string[], b: readonly string[]): Uint32Array[] {
  const lengths = Array.from({ length: a.length + 1 }, () => new Uint32Array(b.length + 1));
  for (let i = a.length - 1; i >= 0; i--) {
    for (let j = b.length - 1; j >= 0; j--) {
      lengths[i][j] =
        a[i] === b[j] ? lengths[i + 1][j + 1] + 1 : Math.max(lengths[i + 1][j], lengths[i][j + 1]);
    }
  }
  return lengths;
}
