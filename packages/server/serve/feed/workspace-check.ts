import { createHash } from "node:crypto";
import { dirname } from "node:path";
import type { ResolvedSettings } from "@keyside/core";
import { type CancellationToken, type Diagnostic, DiagnosticSeverity } from "vscode-languageserver";
import { reasonOf, UnreadableError } from "../../base/errors.ts";
import { escapedPath } from "../../base/files/path-pattern.ts";
import { readText } from "../../base/files/read.ts";
import { discover } from "../../judge/archive/discover.ts";
import { reviewFileOf } from "../../judge/shots/reviews.ts";
import { waiversFileOf } from "../../judge/shots/waivers.ts";
import { source } from "./diagnostics.ts";
import type { FeedEnvironment, Timers } from "./environment.ts";
import { type ShotBeside, ShotDocument } from "./shot-document.ts";
import type { Encoding } from "./text.ts";
import { pathOfUri, uriOfPath } from "./uri.ts";

/** What was found for one shot of the workspace. */
export interface ShotFound {
  readonly uri: string;
  /** Version of the text in the editor; null where the file was judged. */
  readonly version: number | null;
  readonly resultId: string;
  /** Null where the outcome is the one that the client knows already. */
  readonly diagnostics: readonly Diagnostic[] | null;
}

/** What checking a workspace needs of the feed. */
export interface WorkspaceQuestion {
  readonly encoding: Encoding;
  /** The open document of a path, whose text wins over the file's. */
  openDocument(path: string): ShotDocument | undefined;
  /** Diagnostics of an open document; null where none can be had just now. */
  judgeOpen(document: ShotDocument, token: CancellationToken): Promise<readonly Diagnostic[] | null>;
  settingsFor(path: string): Promise<ResolvedSettings>;
  besideFor(document: ShotDocument): Promise<ShotBeside>;
  diagnosticsOf(document: ShotDocument): readonly Diagnostic[];
  /** Tells of checks that failed. */
  tellFailures(document: ShotDocument): void;
  failed(uri: string, error: unknown): void;
}

/** Milliseconds of judging one file after which messages get their turn. */
const slice = 8;

/** Checks all shots of the folders that are open; remembers what came of files, by stamp and settings. */
export class WorkspaceCheck {
  private readonly environment: FeedEnvironment;
  private readonly known = new Map<
    string,
    { readonly stamp: string; readonly settings: ResolvedSettings; readonly resultId: string }
  >();

  constructor(environment: FeedEnvironment) {
    this.environment = environment;
  }

  /** Paths of all shots in the folders (URIs), each once. */
  async paths(folders: readonly string[]): Promise<string[]> {
    const roots = folders.map(pathOfUri).filter((path) => path !== null);
    const { files, settings } = this.environment;
    const found = await discover(roots, {
      cwd: "/",
      files,
      ignoreFor: async (root) => {
        const { folder, ignore } = await settings.forFolder(root);
        return ignore.map((pattern) => `${escapedPath(folder ?? root)}/${pattern}`);
      },
    });
    return [...found.files];
  }

  /**
   * Judges shots one after the other, giving messages their turn in between; stops where the token is cancelled.
   * @param before ids of the results that the client holds, by URI
   */
  async *run(
    paths: readonly string[],
    before: ReadonlyMap<string, string>,
    question: WorkspaceQuestion,
    token: CancellationToken,
  ): AsyncGenerator<ShotFound | null> {
    for (const path of paths) {
      await turn(this.environment.timers);
      if (token.isCancellationRequested) return;
      const open = question.openDocument(path);
      if (open === undefined) yield await this.judgeFile(path, before, question, token);
      else yield await judgeOpen(open, before, question, token);
    }
  }

  private async judgeFile(
    path: string,
    before: ReadonlyMap<string, string>,
    question: WorkspaceQuestion,
    token: CancellationToken,
  ): Promise<ShotFound | null> {
    const uri = uriOfPath(path);
    try {
      const stamp = await this.stampOf(path);
      const settings = await question.settingsFor(path);
      const known = this.known.get(path);
      if (known !== undefined && known.stamp === stamp && known.settings === settings) {
        const { resultId } = known;
        if (before.get(uri) === resultId) return { uri, version: null, resultId, diagnostics: null };
      }
      const diagnostics = await this.judgeText(path, uri, settings, question, token);
      if (diagnostics === null) return null;
      const found = foundFor(uri, null, diagnostics, before);
      if (stamp !== null) this.known.set(path, { stamp, settings, resultId: found.resultId });
      return found;
    } catch (error) {
      if (error instanceof UnreadableError) return foundFor(uri, null, [unreadableDiagnostic(error)], before);
      question.failed(uri, error);
      return null;
    }
  }

  /** Changes whenever what decides about a shot's notes may have: its file, or the waivers or the review beside it. */
  private async stampOf(path: string): Promise<string | null> {
    const { files } = this.environment;
    const stamp = await files.stamp(path);
    if (stamp === null) return null;
    return `${stamp} ${await files.stamp(waiversFileOf(path))} ${await files.stamp(reviewFileOf(path))}`;
  }

  private async judgeText(
    path: string,
    uri: string,
    settings: ResolvedSettings,
    question: WorkspaceQuestion,
    token: CancellationToken,
  ): Promise<readonly Diagnostic[] | null> {
    const text = await readText(this.environment.files, path, path);
    const document = ShotDocument.open({ uri, version: 0, text, languageId: "" }, question.encoding);
    if (document === null) return null;
    document.settings = settings;
    Object.assign(document, await question.besideFor(document));
    const { timers } = this.environment;
    let until = timers.now() + slice;
    for (const _ of document.judge()) {
      if (timers.now() < until) continue;
      await turn(timers);
      if (token.isCancellationRequested) return null;
      until = timers.now() + slice;
    }
    question.tellFailures(document);
    return question.diagnosticsOf(document);
  }
}

/** The id of a result: the same for the same diagnostics. */
export function resultIdOf(diagnostics: readonly Diagnostic[]): string {
  return createHash("sha1").update(JSON.stringify(diagnostics)).digest("base64url");
}

/** The folder whose configuration holds for a file. */
export function folderOf(path: string | null): string | null {
  return path === null ? null : dirname(path);
}

async function judgeOpen(
  document: ShotDocument,
  before: ReadonlyMap<string, string>,
  question: WorkspaceQuestion,
  token: CancellationToken,
): Promise<ShotFound | null> {
  const diagnostics = await question.judgeOpen(document, token);
  return diagnostics && foundFor(document.uri, document.version, diagnostics, before);
}

function foundFor(
  uri: string,
  version: number | null,
  diagnostics: readonly Diagnostic[],
  before: ReadonlyMap<string, string>,
): ShotFound {
  const resultId = resultIdOf(diagnostics);
  return { uri, version, resultId, diagnostics: before.get(uri) === resultId ? null : diagnostics };
}

/** An input that could not be read, said at its start. */
export function unreadableDiagnostic(error: UnreadableError): Diagnostic {
  const start = { line: 0, character: 0 };
  return {
    range: { start, end: start },
    severity: DiagnosticSeverity.Error,
    code: "unreadable",
    source,
    message: error.message === "" ? reasonOf(error) : error.message,
  };
}

function turn(timers: Timers): Promise<void> {
  return new Promise((resolve) => {
    timers.soon(resolve);
  });
}
