import { type ServerCapabilities, TextDocumentSyncKind } from "vscode-languageserver";
import type { ClientAbilities } from "./client.ts";

/** Checks all shots of the folders that are open, for clients that do not ask for diagnostics themselves. */
export const checkWorkspace = "keyside.checkWorkspace";

/** What the feed offers to a client. */
export function capabilitiesFor(abilities: ClientAbilities): ServerCapabilities {
  return {
    positionEncoding: abilities.encoding,
    textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: true },
    hoverProvider: true,
    documentSymbolProvider: true,
    foldingRangeProvider: true,
    definitionProvider: true,
    referencesProvider: true,
    renameProvider: { prepareProvider: true },
    inlayHintProvider: true,
    completionProvider: { triggerCharacters: ['"'] },
    executeCommandProvider: { commands: [checkWorkspace], workDoneProgress: true },
    codeActionProvider: { codeActionKinds: ["quickfix"], resolveProvider: true },
    ...(abilities.pullsDiagnostics
      ? {
          diagnosticProvider: {
            identifier: "keyside",
            interFileDependencies: false,
            workspaceDiagnostics: true,
            workDoneProgress: true,
          },
        }
      : {}),
    workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
  };
}
