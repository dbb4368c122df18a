import { CodeActionKind, type ServerCapabilities, TextDocumentSyncKind } from "vscode-languageserver";
import type { ClientAbilities } from "./client.ts";

/** Checks all shots of the folders that are open, for clients that do not ask for diagnostics themselves. */
export const checkWorkspace = "keyside.checkWorkspace";
/** Makes what a code action does, for clients that take commands instead. */
export const applyAction = "keyside.applyAction";
/** Fixes all notes of a document; editors can ask for it by this kind, for example whenever they save. */
export const fixAllKind = `${CodeActionKind.SourceFixAll}.keyside`;

/** What the feed offers to a client. */
export function capabilitiesFor(abilities: ClientAbilities): ServerCapabilities {
  const { codeActions, preparesRename, pullsDiagnostics, saysEncodings, workspaceFolders } = abilities;
  const commands = hasCommands(abilities) ? [checkWorkspace, applyAction] : [checkWorkspace];
  return {
    ...(saysEncodings ? { positionEncoding: abilities.encoding } : {}),
    textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: true },
    hoverProvider: true,
    documentSymbolProvider: true,
    foldingRangeProvider: true,
    definitionProvider: true,
    referencesProvider: true,
    renameProvider: preparesRename ? { prepareProvider: true } : true,
    inlayHintProvider: true,
    completionProvider: { triggerCharacters: ['"'] },
    executeCommandProvider: { commands, workDoneProgress: true },
    codeActionProvider: codeActions.literals
      ? { codeActionKinds: [CodeActionKind.QuickFix, fixAllKind], resolveProvider: codeActions.resolves }
      : hasCommands(abilities),
    ...(pullsDiagnostics
      ? {
          diagnosticProvider: {
            identifier: "keyside",
            interFileDependencies: false,
            workspaceDiagnostics: true,
            workDoneProgress: true,
          },
        }
      : {}),
    ...(workspaceFolders
      ? { workspace: { workspaceFolders: { supported: true, changeNotifications: true } } }
      : {}),
  };
}

/** Whether a client gets commands for code actions: it takes nothing else, and lets the feed edit. */
function hasCommands({ codeActions, appliesEdits }: ClientAbilities): boolean {
  return !codeActions.literals && appliesEdits;
}
