import type { CancellationToken, CodeAction, Diagnostic, Range } from "vscode-languageserver";
import type { CodeActionData } from "./code-action-data.ts";
import type { DiagnosticData } from "./diagnostics.ts";
import type { Feed } from "./feed.ts";
import { fixActions, fixEdit } from "./fix-actions.ts";
import { invalid, modified, unanswered } from "./refusals.ts";
import type { ShotDocument } from "./shot-document.ts";
import { waiveAction } from "./waive-action.ts";

/** What an editor asks code actions for. */
export interface CodeActionQuestion {
  readonly range: Range;
  /** The feed's own diagnostics in that range; their `data` is a `DiagnosticData`. */
  readonly diagnostics: readonly Diagnostic[];
}

/**
 * What can be done about the notes at a place: for each note its fix, where one is proven, the fixes of all notes of
 * its check, and a waiver.
 */
export async function codeActionsFor(
  feed: Feed,
  document: ShotDocument,
  { diagnostics }: CodeActionQuestion,
  token: CancellationToken,
): Promise<CodeAction[]> {
  // Files of other kinds are imported: there are no keys in them that an editor could change.
  if (!document.isCurveDocument || diagnostics.length === 0) return [];
  const outcome = await feed.judging.judged(document, token);
  if (outcome !== "judged") return unanswered(outcome) as never;
  const actions: CodeAction[] = [];
  for (const diagnostic of diagnostics) {
    const { fingerprint } = (diagnostic.data ?? {}) as Partial<DiagnosticData>;
    const note = document.notes.find((other) => other.fingerprint === fingerprint);
    if (note === undefined) continue;
    actions.push(...(await fixActions(feed, document, note, diagnostic, token)));
    const waive = waiveAction(feed, document, note, diagnostic);
    if (waive !== null) actions.push(waive);
  }
  return actions;
}

/** A code action with its edit, once it is chosen. */
export async function resolvedAction(
  feed: Feed,
  action: CodeAction,
  token: CancellationToken,
): Promise<CodeAction> {
  if (action.edit !== undefined) return action;
  const { uri, version, does, fingerprint, check } = (action.data ?? {}) as Partial<CodeActionData>;
  const document = typeof uri === "string" ? feed.document(uri) : undefined;
  if (document === undefined || fingerprint === undefined || check === undefined) {
    throw invalid("This code action is none of this feed's, or its document is closed.");
  }
  if (document.version !== version) throw modified();
  return {
    ...action,
    edit: await fixEdit(feed, document, does === "fix-all" ? { check } : { fingerprint }, token),
  };
}
