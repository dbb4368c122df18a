import type { FoldingRange } from "vscode-languageserver";
import type { ShotDocument } from "./shot-document.ts";

/** A range for each curve and for each part of the document that takes more than one line. */
export function foldingRanges(document: ShotDocument): FoldingRange[] {
  if (!document.isCurveDocument) return [];
  const { shot, places } = document.read();
  const ranges: FoldingRange[] = [];
  const add = (start: number, end: number) => {
    const from = document.text.positionAt(start);
    // The closing bracket stays in sight, on the line behind what is folded.
    const to = document.text.positionAt(Math.max(start, end - 1));
    if (to.line - 1 > from.line) ranges.push({ startLine: from.line, endLine: to.line - 1 });
  };
  for (const [path, [start, end]] of places) if (!path.includes("/")) add(start, end);
  for (const { place } of shot?.curves ?? []) if (place !== null) add(place.start, place.end);
  return ranges;
}
