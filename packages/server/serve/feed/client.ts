import type { ClientCapabilities, InitializeParams } from "vscode-languageserver";
import type { Encoding } from "./text.ts";

/** What a client can do, as far as the feed cares. */
export interface ClientAbilities {
  readonly encoding: Encoding;
  /** Asks for diagnostics itself; they are not sent to it unasked then. */
  readonly pullsDiagnostics: boolean;
  readonly refreshesDiagnostics: boolean;
  readonly refreshesInlayHints: boolean;
  readonly relatedInformation: boolean;
  readonly symbolTree: boolean;
  readonly markdown: boolean;
  readonly configuration: boolean;
  readonly configurationNotices: boolean;
  readonly watchesFiles: boolean;
  readonly workspaceFolders: boolean;
  readonly progress: boolean;
  /** Asks for the edit of a code action once it is chosen. */
  readonly resolvesCodeActions: boolean;
  /** Takes edits that say for which version of a document they are. */
  readonly versionedEdits: boolean;
}

export function abilitiesOf({ capabilities }: InitializeParams): ClientAbilities {
  const { general, textDocument, workspace, window } = capabilities ?? ({} as ClientCapabilities);
  const encodings: readonly string[] = general?.positionEncodings ?? [];
  // UTF-16 is how texts are held here; UTF-8 is spoken to clients that put it first, or speak nothing else.
  const encoding = encodings.find((name) => name === "utf-16" || name === "utf-8") ?? "utf-16";
  return {
    encoding: encoding as Encoding,
    pullsDiagnostics: textDocument?.diagnostic !== undefined,
    refreshesDiagnostics: workspace?.diagnostics?.refreshSupport === true,
    refreshesInlayHints: workspace?.inlayHint?.refreshSupport === true,
    relatedInformation: textDocument?.publishDiagnostics?.relatedInformation !== false,
    symbolTree: textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport === true,
    markdown: textDocument?.hover?.contentFormat?.includes("markdown") === true,
    configuration: workspace?.configuration === true,
    configurationNotices: workspace?.didChangeConfiguration?.dynamicRegistration === true,
    watchesFiles: workspace?.didChangeWatchedFiles?.dynamicRegistration === true,
    workspaceFolders: workspace?.workspaceFolders === true,
    progress: window?.workDoneProgress === true,
    resolvesCodeActions:
      textDocument?.codeAction?.resolveSupport?.properties?.includes("edit") === true &&
      textDocument.codeAction.dataSupport === true,
    versionedEdits: workspace?.workspaceEdit?.documentChanges === true,
  };
}

/** Folders that are open, as URIs. */
export function foldersOf(params: InitializeParams): string[] {
  if (params.workspaceFolders != null) return params.workspaceFolders.map(({ uri }) => uri);
  if (params.rootUri != null) return [params.rootUri];
  return [];
}
