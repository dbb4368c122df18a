import type { CancellationToken, DocumentSymbol, SymbolInformation } from "vscode-languageserver";
import { codeActionsFor, offered, resolvedAction } from "./code-actions.ts";
import { completionsAt } from "./completion.ts";
import { source } from "./diagnostics.ts";
import type { Feed } from "./feed.ts";
import { foldingRanges } from "./folding.ts";
import { hoverAt } from "./hover.ts";
import { inlayHints } from "./inlay-hints.ts";
import { definitionAt, referencesAt, renamableAt, renameAt } from "./references.ts";
import { cancelled, invalid, modified, positionIn, unanswered, uriIn } from "./refusals.ts";
import type { ShotDocument } from "./shot-document.ts";
import { documentSymbols, flatSymbols } from "./symbols.ts";

/** Registers what an editor asks of one document. Whatever is no shot has no answers. */
export function registerFeatures(feed: Feed): void {
  const { connection } = feed;

  const at = <R>(
    params: unknown,
    token: CancellationToken,
    run: (document: ShotDocument, offset: number) => R,
  ) =>
    ask(feed, params, token, (document) => {
      const { position } = params as { position?: unknown };
      return run(document, document.text.offsetAt(positionIn(position)));
    });

  connection.onHover(async (params, token) => {
    const document = feed.document(uriIn(params));
    if (document === undefined) return null;
    // A hover shows notes, so it waits for those of the text as it is.
    const outcome = await feed.judging.judged(document, token);
    if (outcome !== "judged" && outcome !== "failed") return unanswered(outcome) as never;
    return at(params, token, (document, offset) => hoverAt(document, offset, feed.abilities.hoverFormat));
  });
  connection.onDocumentSymbol((params, token) =>
    ask<DocumentSymbol[] | SymbolInformation[]>(feed, params, token, (document) =>
      (feed.abilities.symbolTree ? documentSymbols : flatSymbols)(document, feed.abilities),
    ),
  );
  connection.onFoldingRanges((params, token) =>
    ask(feed, params, token, (document) => foldingRanges(document).slice(0, feed.abilities.foldingLimit)),
  );
  connection.onDefinition((params, token) => at(params, token, definitionAt));
  connection.onReferences((params, token) =>
    at(params, token, (document, offset) =>
      referencesAt(document, offset, params.context?.includeDeclaration !== false),
    ),
  );
  connection.onPrepareRename((params, token) => at(params, token, renamableAt));
  connection.onRenameRequest((params, token) =>
    at(params, token, (document, offset) => {
      const { newName } = params;
      if (typeof newName !== "string") throw invalid("A new name is a text.");
      const edits = renameAt(document, offset, newName);
      if (edits === null)
        throw invalid(`"${newName}" cannot be the name here: it is taken, or nothing is named.`);
      return { changes: { [document.uri]: edits } };
    }),
  );
  connection.onCompletion((params, token) =>
    at(params, token, (document, offset) => completionsAt(document, offset, feed.abilities)),
  );
  connection.languages.inlayHint.on((params, token) =>
    ask(feed, params, token, (document) => {
      if (!feed.preferencesFor(document).inlayHints.speed) return [];
      const [start, end] = [params.range?.start, params.range?.end].map(positionIn);
      return inlayHints(document, document.text.offsetAt(start), document.text.offsetAt(end));
    }),
  );
  connection.onCodeAction((params, token) =>
    ask(feed, params, token, async (document) => {
      const { range, context } = params;
      // A client may leave out who said it.
      const diagnostics = context.diagnostics.filter((each) => (each.source ?? source) === source);
      const question = { range, diagnostics, only: context.only };
      return offered(feed, await codeActionsFor(feed, document, question, token));
    }),
  );
  connection.onCodeActionResolve((action, token) => resolvedAction(feed, action, token));
}

/** Answers a request about an open document; null where it is none of ours. */
async function ask<R>(
  feed: Feed,
  params: unknown,
  token: CancellationToken,
  run: (document: ShotDocument) => R | Promise<R>,
): Promise<R | null> {
  const document = feed.document(uriIn(params));
  if (document === undefined) return null;
  const { version } = document;
  await feed.ready(document);
  if (token.isCancellationRequested) throw cancelled();
  if (document.version !== version) throw modified();
  return run(document);
}
