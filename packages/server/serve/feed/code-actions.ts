import {
  type CancellationToken,
  type CodeAction,
  CodeActionKind,
  type Command,
  type Diagnostic,
  type Range,
} from "vscode-languageserver";
import { applyAction, fixAllKind } from "./capabilities.ts";
import type { CodeActionData } from "./code-action-data.ts";
import type { Feed } from "./feed.ts";
import { editOf, fixActions, fixAllAction } from "./fix-actions.ts";
import { notesAskedAbout } from "./notes-asked.ts";
import { invalid, modified, unanswered } from "./refusals.ts";
import type { ShotDocument } from "./shot-document.ts";
import { waiveAction } from "./waive-action.ts";

/** What an editor asks code actions for. */
export interface CodeActionQuestion {
  readonly range: Range;
  /** The feed's own diagnostics that the client knows in that range. */
  readonly diagnostics: readonly Diagnostic[];
  /** Kinds that are asked for, each with all kinds below it; undefined for whatever helps at the place. */
  readonly only: readonly string[] | undefined;
}

/**
 * What can be done about the notes at a place: for each note its fix, where one is proven, the fixes of all notes of
 * its check, and a waiver. To whoever asks for it by its kind, the fixes of all notes of the document are offered.
 */
export async function codeActionsFor(
  feed: Feed,
  document: ShotDocument,
  question: CodeActionQuestion,
  token: CancellationToken,
): Promise<CodeAction[]> {
  // Files of other kinds are imported: there are no keys in them that an editor could change.
  if (!document.isCurveDocument) return [];
  const { only } = question;
  const isAsked = (kind: string) =>
    only?.some((asked) => asked === "" || kind === asked || kind.startsWith(`${asked}.`)) === true;
  const hasQuickFixes = only === undefined || isAsked(CodeActionKind.QuickFix);
  if (!hasQuickFixes && !isAsked(fixAllKind)) return [];
  const outcome = await feed.judging.judged(document, token);
  if (outcome !== "judged") return unanswered(outcome) as never;
  const actions: CodeAction[] = [];
  for (const { note, diagnostic } of hasQuickFixes ? notesAskedAbout(feed, document, question) : []) {
    actions.push(...(await fixActions(feed, document, note, diagnostic, token)));
    const waive = waiveAction(feed, document, note, diagnostic);
    if (waive !== null) actions.push(waive);
  }
  if (!isAsked(fixAllKind)) return actions;
  const all = await fixAllAction(feed, document, token);
  return all === null ? actions : [...actions, all];
}

/** Code actions as the client takes them: whole, without what it does not know, or as commands. */
export function offered({ abilities }: Feed, actions: readonly CodeAction[]): (CodeAction | Command)[] {
  const { literals, preferred } = abilities.codeActions;
  if (!literals && !abilities.appliesEdits) return [];
  return actions.map(({ data, isPreferred, ...action }) => {
    if (!literals) return { title: action.title, command: applyAction, arguments: [data] };
    return {
      ...action,
      ...(preferred && isPreferred !== undefined ? { isPreferred } : {}),
      // Nobody asks again for an action that has its edit.
      ...(action.edit === undefined ? { data } : {}),
    };
  });
}

/** A code action with its edit, once it is chosen. */
export async function resolvedAction(
  feed: Feed,
  action: CodeAction,
  token: CancellationToken,
): Promise<CodeAction> {
  if (action.edit !== undefined) return action;
  const { document, data } = documentOf(feed, action.data, '"data"');
  return { ...action, edit: await editOf(feed, document, data, token) };
}

/** Makes what a code action does, through the client. */
export async function applied(feed: Feed, args: unknown, token: CancellationToken): Promise<boolean> {
  const { document, data } = documentOf(feed, Array.isArray(args) ? args[0] : undefined, '"arguments[0]"');
  const edit = await editOf(feed, document, data, token);
  return (await feed.connection.workspace.applyEdit(edit)).applied;
}

/** The document of a code action's data, in the version for which it was offered. */
function documentOf(
  feed: Feed,
  given: unknown,
  name: string,
): { readonly document: ShotDocument; readonly data: CodeActionData } {
  const data = (given ?? {}) as Partial<CodeActionData>;
  const document = typeof data.uri === "string" ? feed.document(data.uri) : undefined;
  if (document === undefined || data.does === undefined) {
    throw invalid(`${name} is of no code action of this feed, or its document is closed.`);
  }
  if (document.version !== data.version) throw modified();
  return { document, data: data as CodeActionData };
}
