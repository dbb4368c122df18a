import type { ReportedNote } from "@keyside/core";

/** Where a note stands in its document: at what is broken, else at its first key; null where the shot has no text. */
export function placeOf({
  place,
  keys,
}: Pick<ReportedNote, "place" | "keys">): { readonly line: number; readonly column: number } | null {
  if (place !== undefined) return place;
  const key = keys[0];
  return key === undefined || key.line === null || key.column === null
    ? null
    : { line: key.line, column: key.column };
}
