import { type InlayHint, InlayHintKind } from "vscode-languageserver";
import { keysWithin } from "./locate.ts";
import { speedAt } from "./motion-words.ts";
import type { ShotDocument } from "./shot-document.ts";

/** Hints beyond these are not given: no screen shows so many lines. */
const limit = 2000;

/** Speed behind each key of a stretch of the text. */
export function inlayHints(document: ShotDocument, from: number, to: number): InlayHint[] {
  const study = document.study();
  if (study === null) return [];
  const hints: InlayHint[] = [];
  for (const { curve, index, end } of keysWithin(document, from, to)) {
    if (hints.length === limit) break;
    const label = speedAt(study, curve, curve.frames[index]);
    if (label === null) continue;
    hints.push({
      position: document.text.positionAt(end),
      label,
      kind: InlayHintKind.Parameter,
      paddingLeft: true,
      tooltip: `Speed of ${curve.node} at frame ${curve.frames[index]}`,
    });
  }
  return hints;
}
