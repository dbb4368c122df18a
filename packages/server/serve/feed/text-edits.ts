import type { TextEdit, WorkspaceEdit } from "vscode-languageserver";
import type { Feed } from "./feed.ts";
import { rangeOf } from "./places.ts";
import type { ShotDocument } from "./shot-document.ts";

/** A piece of a document's text that is to be replaced. */
interface Piece {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** Pieces of text as an edit of a document in the version that it has now. */
export function workspaceEdit(feed: Feed, document: ShotDocument, pieces: readonly Piece[]): WorkspaceEdit {
  const { uri, version } = document;
  const edits = pieces.map(
    ({ start, end, text }): TextEdit => ({ range: rangeOf(document, [start, end]), newText: text }),
  );
  return feed.abilities.versionedEdits
    ? { documentChanges: [{ textDocument: { uri, version }, edits }] }
    : { changes: { [uri]: edits } };
}
