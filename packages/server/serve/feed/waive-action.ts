import { type Note, waiverFor, waiverPatch } from "@keyside/core";
import { unusedWaiver } from "@keyside/core/internal";
import { type CodeAction, CodeActionKind, type Diagnostic, type WorkspaceEdit } from "vscode-languageserver";
import type { CodeActionData } from "./code-action-data.ts";
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
  const edit = waiverEdit(feed, document, note);
  if (edit === null) return null;
  const { uri, version } = document;
  const data: CodeActionData = { uri, version, does: "waive", fingerprint: note.fingerprint };
  return {
    title: `Waive ${note.check} here: it is meant so`,
    kind: CodeActionKind.QuickFix,
    diagnostics: [diagnostic],
    edit,
    data,
  };
}

/** The edit that writes a waiver for a note into the document; null where there is no place for one. */
export function waiverEdit(feed: Feed, document: ShotDocument, note: Note): WorkspaceEdit | null {
  if (note.check === unusedWaiver) return null;
  const patch = waiverPatch(document.text.text, waiverFor(note, reasonToWrite));
  return patch === null ? null : workspaceEdit(feed, document, [patch]);
}
