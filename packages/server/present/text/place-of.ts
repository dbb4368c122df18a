import type { ReportedNote, ReportedPlace } from "@keyside/core";

/** Where a note stands in its document: at what is broken, at its node, or at its first key; null where the shot has no text. */
export function placeOf({ place, keys }: Pick<ReportedNote, "place" | "keys">): ReportedPlace | null {
  if (place !== undefined) return place;
  const [key] = keys;
  if (key === undefined || key.line === null || key.column === null) return null;
  const { line, column, endLine, endColumn } = key;
  return endLine === undefined || endColumn === undefined
    ? { line, column }
    : { line, column, endLine, endColumn };
}
