import {
  type ClientCapabilities,
  type CompletionItemKind,
  DiagnosticTag,
  type InitializeParams,
  MarkupKind,
  type SymbolKind,
} from "vscode-languageserver";
import type { Encoding } from "./text.ts";

/** What a client can do, as far as the feed cares; docs/feed.md lists what hangs on it. */
export interface ClientAbilities {
  /** What positions are counted in, where the client has said which encodings it takes; UTF-16 else. */
  readonly encoding: Encoding;
  readonly saysEncodings: boolean;
  /** Asks for diagnostics itself; they are not sent to it unasked then. */
  readonly pullsDiagnostics: boolean;
  readonly refreshesDiagnostics: boolean;
  readonly refreshesInlayHints: boolean;
  readonly diagnostics: DiagnosticAbilities;
  readonly symbolTree: boolean;
  readonly symbolKinds: readonly SymbolKind[];
  readonly completionKinds: readonly CompletionItemKind[];
  /** The format that is preferred for hovers; null for a client that takes none by its name. */
  readonly hoverFormat: MarkupKind | null;
  /** Folding ranges beyond so many are of no use. */
  readonly foldingLimit: number;
  readonly configuration: boolean;
  readonly configurationNotices: boolean;
  readonly watchesFiles: boolean;
  readonly workspaceFolders: boolean;
  readonly progress: boolean;
  readonly codeActions: CodeActionAbilities;
  /** Asks whether something can be renamed, and what, before it is. */
  readonly preparesRename: boolean;
  /** Makes edits that the feed asks for. */
  readonly appliesEdits: boolean;
  /** Takes edits that say for which version of a document they are. */
  readonly versionedEdits: boolean;
}

/** What a client takes in a diagnostic beside its range, severity, code, source and message. */
export interface DiagnosticAbilities {
  readonly related: boolean;
  readonly codeDescription: boolean;
  /** Keeps `data`, and gives it back with the diagnostic. */
  readonly data: boolean;
  /** Shows what is there for nothing as such. */
  readonly needless: boolean;
  /** Takes the version of the text with what is pushed. */
  readonly version: boolean;
}

export interface CodeActionAbilities {
  /** Takes code actions; others take commands. */
  readonly literals: boolean;
  readonly preferred: boolean;
  /** Asks for the edit of a code action once it is chosen. */
  readonly resolves: boolean;
}

/** Kinds that a client takes that names none, as the protocol has it: the kinds of its first version. */
const firstSymbolKinds = kindsTo<SymbolKind>(18);
const firstCompletionKinds = kindsTo<CompletionItemKind>(18);

export function abilitiesOf({ capabilities }: InitializeParams): ClientAbilities {
  const { general, textDocument, workspace, window } = capabilities ?? ({} as ClientCapabilities);
  const encodings: readonly string[] = general?.positionEncodings ?? [];
  // UTF-16 is how texts are held here; UTF-8 is spoken to clients that put it first, or speak nothing else.
  const encoding = encodings.find((name) => name === "utf-16" || name === "utf-8") ?? "utf-16";
  const { codeAction, publishDiagnostics, documentSymbol, completion } = textDocument ?? {};
  // Since 3.18 clients that ask for diagnostics say beside that what they take in them; before, where they say it of
  // diagnostics that are pushed.
  const inDiagnostics = { ...publishDiagnostics, ...textDocument?.diagnostic };
  const formats = textDocument?.hover?.contentFormat ?? [];
  return {
    encoding: encoding as Encoding,
    saysEncodings: encodings.length > 0,
    pullsDiagnostics: textDocument?.diagnostic !== undefined,
    refreshesDiagnostics: workspace?.diagnostics?.refreshSupport === true,
    refreshesInlayHints: workspace?.inlayHint?.refreshSupport === true,
    diagnostics: {
      related: inDiagnostics.relatedInformation === true,
      codeDescription: inDiagnostics.codeDescriptionSupport === true,
      data: inDiagnostics.dataSupport === true,
      needless: inDiagnostics.tagSupport?.valueSet?.includes(DiagnosticTag.Unnecessary) === true,
      version: publishDiagnostics?.versionSupport === true,
    },
    symbolTree: documentSymbol?.hierarchicalDocumentSymbolSupport === true,
    symbolKinds: documentSymbol?.symbolKind?.valueSet ?? firstSymbolKinds,
    completionKinds: completion?.completionItemKind?.valueSet ?? firstCompletionKinds,
    hoverFormat:
      formats.find((name) => name === MarkupKind.Markdown || name === MarkupKind.PlainText) ?? null,
    foldingLimit: textDocument?.foldingRange?.rangeLimit ?? Number.POSITIVE_INFINITY,
    configuration: workspace?.configuration === true,
    configurationNotices: workspace?.didChangeConfiguration?.dynamicRegistration === true,
    watchesFiles: workspace?.didChangeWatchedFiles?.dynamicRegistration === true,
    workspaceFolders: workspace?.workspaceFolders === true,
    progress: window?.workDoneProgress === true,
    codeActions: {
      literals: codeAction?.codeActionLiteralSupport !== undefined,
      preferred: codeAction?.isPreferredSupport === true,
      resolves:
        codeAction?.resolveSupport?.properties?.includes("edit") === true && codeAction.dataSupport === true,
    },
    preparesRename: textDocument?.rename?.prepareSupport === true,
    appliesEdits: workspace?.applyEdit === true,
    versionedEdits: workspace?.workspaceEdit?.documentChanges === true,
  };
}

function kindsTo<Kind extends number>(last: Kind): readonly Kind[] {
  return Array.from({ length: last }, (_, index) => (index + 1) as Kind);
}

/** A kind that a client takes: the one that says most, else the one behind it, which all take. */
export function kindFor<Kind extends number>(known: readonly Kind[], best: Kind, plain: Kind): Kind {
  return known.includes(best) ? best : plain;
}

/** Folders that are open, as URIs. */
export function foldersOf(params: InitializeParams): string[] {
  if (params.workspaceFolders != null) return params.workspaceFolders.map(({ uri }) => uri);
  if (params.rootUri != null) return [params.rootUri];
  return [];
}
