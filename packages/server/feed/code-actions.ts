import type { CodeAction, Diagnostic, Range } from "vscode-languageserver";
import type { ShotDocument } from "./shot-document.ts";

/** What an editor asks code actions for. */
export interface CodeActionQuestion {
  readonly range: Range;
  /** The feed's own diagnostics in that range; their `data` is a `DiagnosticData`. */
  readonly diagnostics: readonly Diagnostic[];
}

/** Something that offers changes of a document. */
export type CodeActionSource = (
  document: ShotDocument,
  question: CodeActionQuestion,
) => readonly CodeAction[];

/** Everything that offers changes, in the order in which editors list them. Editors are told of it only if there is any. */
export const codeActionSources: readonly CodeActionSource[] = [];
