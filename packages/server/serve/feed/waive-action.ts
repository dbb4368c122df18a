import { type Note, waiverFor, waiverPatch } from "@keyside/core";
import { unusedWaiver } from "@keyside/core/internal";
import { type CodeAction, CodeActionKind, type Diagnostic } from "vscode-languageserver";
import type { Feed } from "./feed.ts";
import type { ShotDocument } from "./shot-document.ts";
import { workspaceEdit } from "./text-edits.ts";

/** Stands in a new waiver until somebody writes the reason. */
const reasonToWrite = "meant so: say why";

/** The offer to write a waiver for a note into the document; null where there is no place for one. */
export function waiveAction(
  feed: Feed,
  document: ShotDocument,
  note: Note,
  diagnostic: Diagnostic,
): CodeAction | null {
  if (note.check === unusedWaiver) return null;
  const patch = waiverPatch(document.text.text, waiverFor(note, reasonToWrite));
  if (patch === null) return null;
  return {
    title: `Waive ${note.check} here: it is meant so`,
    kind: CodeActionKind.QuickFix,
    diagnostics: [diagnostic],
    edit: workspaceEdit(feed, document, [patch]),
  };
}
