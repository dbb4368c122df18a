import {
  type CancellationToken,
  type Diagnostic,
  DocumentDiagnosticReportKind,
  type WorkspaceDocumentDiagnosticReport,
} from "vscode-languageserver";
import { applyAction, checkWorkspace } from "./capabilities.ts";
import { applied } from "./code-actions.ts";
import type { Feed } from "./feed.ts";
import { cancelled, invalid, unanswered, uriIn } from "./refusals.ts";
import type { ShotDocument } from "./shot-document.ts";
import { uriOfPath } from "./uri.ts";
import {
  folderOf,
  resultIdOf,
  type ShotFound,
  WorkspaceCheck,
  type WorkspaceQuestion,
} from "./workspace-check.ts";

interface Progress {
  begin(title: string, percentage?: number, message?: string, cancellable?: boolean): void;
  report(percentage: number, message: string): void;
  done(): void;
}

/** Registers diagnostics that a client asks for, of one document and of the workspace. */
export function registerDiagnostics(feed: Feed): void {
  const { connection } = feed;
  const workspace = new WorkspaceCheck(feed.environment);

  connection.languages.diagnostics.on(async (params, token) => {
    const document = feed.document(uriIn(params));
    if (document === undefined) return { kind: DocumentDiagnosticReportKind.Full, items: [] };
    const outcome = await feed.judging.judged(document, token);
    if (outcome !== "judged") return unanswered(outcome) as never;
    const items = feed.diagnosticsOf(document);
    const resultId = resultIdOf(items);
    return resultId === params.previousResultId
      ? { kind: DocumentDiagnosticReportKind.Unchanged, resultId }
      : { kind: DocumentDiagnosticReportKind.Full, resultId, items };
  });

  connection.languages.diagnostics.onWorkspace(async (params, token, progress, partial) => {
    const before = previousIn(params.previousResultIds);
    const items: WorkspaceDocumentDiagnosticReport[] = [];
    const give = (report: WorkspaceDocumentDiagnosticReport) => {
      if (partial === undefined) items.push(report);
      else partial.report({ items: [report] });
    };
    const seen = new Set<string>();
    await check(feed, workspace, before, token, progress, (found, uri) => {
      seen.add(uri);
      if (found !== null) give(reportOf(found));
    });
    if (token.isCancellationRequested) throw cancelled();
    for (const uri of before.keys()) {
      if (seen.has(uri) || feed.document(uri) !== undefined) continue;
      // Files that are gone have no diagnostics any more.
      give({ kind: DocumentDiagnosticReportKind.Full, uri, version: null, items: [] });
    }
    return { items };
  });

  connection.onExecuteCommand(async ({ command, arguments: args }, token) => {
    if (command === applyAction) return { applied: await applied(feed, args, token) };
    if (command !== checkWorkspace) throw invalid(`There is no command "${command}".`);
    const progress = feed.abilities.progress ? await connection.window.createWorkDoneProgress() : null;
    const source = progress?.token;
    let shots = 0;
    let notes = 0;
    await check(feed, workspace, new Map(), either(token, source), progress ?? silent, (found) => {
      if (found === null) return;
      shots++;
      notes += found.diagnostics?.length ?? 0;
      if (found.version !== null) return;
      const diagnostics = [...(found.diagnostics ?? [])];
      feed.send(() => connection.sendDiagnostics({ uri: found.uri, diagnostics }));
    });
    if (token.isCancellationRequested || source?.isCancellationRequested) throw cancelled();
    return { shots, notes };
  });
}

/** Checks the workspace and hands over what is found, shot by shot; null for one of which nothing can be said now. */
async function check(
  feed: Feed,
  workspace: WorkspaceCheck,
  before: ReadonlyMap<string, string>,
  token: CancellationToken,
  progress: Progress,
  give: (found: ShotFound | null, uri: string) => void,
): Promise<void> {
  progress.begin("Checking shots", 0, undefined, true);
  try {
    const paths = await workspace.paths(feed.folders);
    let done = 0;
    for await (const found of workspace.run(paths, before, questionOf(feed), token)) {
      const path = paths[done++];
      give(found, found?.uri ?? uriOfPath(path));
      progress.report((100 * done) / paths.length, `${done} of ${paths.length}`);
    }
  } finally {
    progress.done();
  }
}

function questionOf(feed: Feed): WorkspaceQuestion {
  return {
    encoding: feed.abilities.encoding,
    openDocument: (path) => feed.documentOfPath(path),
    async judgeOpen(document: ShotDocument, token: CancellationToken): Promise<readonly Diagnostic[] | null> {
      const outcome = await feed.judging.judged(document, token);
      return outcome === "judged" ? feed.diagnosticsOf(document) : null;
    },
    settingsFor: (path) => feed.settingsFor(folderOf(path), path),
    besideFor: (document) => feed.besideFor(document),
    tellFailures: (document) => feed.failureNews.tell(document),
    diagnosticsOf: (document) => feed.diagnosticsOf(document),
    failed: (uri, error) => feed.logFailure(uri, error),
  };
}

function reportOf({ uri, version, resultId, diagnostics }: ShotFound): WorkspaceDocumentDiagnosticReport {
  return diagnostics === null
    ? { kind: DocumentDiagnosticReportKind.Unchanged, uri, version, resultId }
    : { kind: DocumentDiagnosticReportKind.Full, uri, version, resultId, items: [...diagnostics] };
}

function previousIn(given: unknown): ReadonlyMap<string, string> {
  if (!Array.isArray(given)) return new Map();
  const ids = given as readonly { readonly uri?: unknown; readonly value?: unknown }[];
  return new Map(
    ids.flatMap(({ uri, value }) =>
      typeof uri === "string" && typeof value === "string" ? [[uri, value] as const] : [],
    ),
  );
}

/** Cancelled as soon as one of two is. */
function either(a: CancellationToken, b: CancellationToken | undefined): CancellationToken {
  if (b === undefined) return a;
  return {
    get isCancellationRequested() {
      return a.isCancellationRequested || b.isCancellationRequested;
    },
    onCancellationRequested: (listener, context, disposables) => {
      b.onCancellationRequested(listener, context, disposables);
      return a.onCancellationRequested(listener, context, disposables);
    },
  };
}

const silent: Progress = { begin() {}, report() {}, done() {} };
