import { basename } from "node:path";
import { ConfigError, defaultSettings, type ResolvedSettings, registry } from "@keyside/core";
import {
  type Connection,
  type Diagnostic,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  type Disposable,
  type InitializeParams,
  type InitializeResult,
} from "vscode-languageserver";
import { configName } from "../../base/config-name.ts";
import { UnreadableError } from "../../base/errors.ts";
import { version } from "../../base/version.ts";
import { shotExtensions } from "../../judge/shots/readers.ts";
import { reviewExtension, reviewIn, reviewTextBeside, waiversFrom } from "../../judge/shots/reviews.ts";
import { waiversExtension, waiversIn, waiversTextBeside } from "../../judge/shots/waivers.ts";
import type { Arrivals } from "./arrivals.ts";
import { capabilitiesFor } from "./capabilities.ts";
import { abilitiesOf, type ClientAbilities, foldersOf } from "./client.ts";
import type { EditorSettings } from "./configuration.ts";
import { type DiagnosticOptions, diagnosticsOf } from "./diagnostics.ts";
import type { FeedEnvironment } from "./environment.ts";
import type { FeedExtension } from "./extension.ts";
import { FailureNews } from "./failure-news.ts";
import { Judging } from "./judging.ts";
import { Preferences } from "./preferences.ts";
import { nothingBeside, type ShotBeside, ShotDocument } from "./shot-document.ts";
import { pathOfUri, uriOfPath } from "./uri.ts";
import { folderOf, unreadableDiagnostic } from "./workspace-check.ts";

/** Milliseconds within which changed files are taken together. */
const watchDelay = 50;

/** The language server of one connection: its open documents, what is in force for them, and who is told what. */
export class Feed implements Disposable {
  readonly connection: Connection;
  readonly environment: FeedEnvironment;
  readonly judging: Judging;
  readonly preferences: Preferences;
  readonly failureNews: FailureNews;
  abilities: ClientAbilities = abilitiesOf({ capabilities: {} } as InitializeParams);
  /** URIs of the folders that are open. */
  folders: string[] = [];
  private readonly arrivals: Arrivals;
  private readonly extensions: readonly FeedExtension[];
  private readonly documents = new Map<string, ShotDocument>();
  private readonly lookedUp = new WeakMap<ShotDocument, Promise<void>>();
  /** Files of plug-ins, and those of them that the client was asked to watch. */
  private pluginFiles: readonly string[] = [];
  private readonly watched = new Set<string>();
  /** URIs of configuration files that cannot be used, as they were told. */
  private readonly badConfigs = new Set<string>();
  private isDisposed = false;
  /** Counts look-ups of settings, and which one holds for each document: files are not read in the order asked. */
  private lookUps = 0;
  private readonly appliedLookUps = new WeakMap<ShotDocument, number>();
  /** Counts reloads of settings: what an older one finds is not used. */
  private generation = 0;

  constructor(
    connection: Connection,
    environment: FeedEnvironment,
    arrivals: Arrivals,
    extensions: readonly FeedExtension[],
  ) {
    this.connection = connection;
    this.environment = environment;
    this.arrivals = arrivals;
    this.extensions = extensions;
    this.preferences = new Preferences(connection);
    this.failureNews = new FailureNews(connection, (sending) => this.send(sending));
    this.judging = new Judging(
      environment.timers,
      arrivals,
      (document) => {
        this.failureNews.tell(document);
        this.publish(document);
      },
      (document, error) => this.logFailure(document.uri, error),
    );
    connection.onInitialize((params) => this.initialize(params));
    connection.onInitialized(() => this.initialized());
    this.registerDocuments();
  }

  /** The open document of a URI. */
  document(uri: string): ShotDocument | undefined {
    return this.documents.get(uri);
  }

  /** Waits until it is known what is in force for a document. */
  async ready(document: ShotDocument): Promise<void> {
    await this.lookedUp.get(document);
  }

  /** The open document of a file. */
  documentOfPath(path: string): ShotDocument | undefined {
    const own = this.documents.get(uriOfPath(path));
    if (own !== undefined) return own;
    for (const document of this.documents.values()) if (document.path === path) return document;
    return undefined;
  }

  preferencesFor(document: ShotDocument): EditorSettings {
    return this.preferences.for(document.path);
  }

  diagnosticsOf(document: ShotDocument): Diagnostic[] {
    return diagnosticsOf(document, this.diagnosticOptionsFor(document));
  }

  /** Which diagnostics of a document are shown, and how much of each the client takes. */
  diagnosticOptionsFor(document: ShotDocument): DiagnosticOptions {
    const { lightestTier, checkPages } = this.preferencesFor(document);
    return {
      lightestTier,
      checkPages: checkPages ?? this.environment.checkPages,
      takes: this.abilities.diagnostics,
    };
  }

  /** Settings for the shots of a folder; where its configuration cannot be used, that is told at the file. */
  async settingsFor(folder: string | null, path: string | null): Promise<ResolvedSettings> {
    try {
      const { config } = this.preferences.for(path);
      return (await this.environment.settings.forFolder(folder, config)).settings;
    } catch (error) {
      this.tellBadConfig(folder, error);
      return fallbackSettings;
    }
  }

  /** Sends what nobody waits for; a client that is gone is told nothing. */
  send(sending: () => Promise<unknown> | undefined): void {
    if (this.isDisposed) return;
    try {
      sending()?.catch(() => {});
    } catch {
      // The connection closed.
    }
  }

  logFailure(uri: string, error: unknown): void {
    const what = error instanceof Error ? (error.stack ?? error.message) : String(error);
    this.send(async () => this.connection.console.error(`Keyside could not judge ${uri}: ${what}`));
  }

  dispose(): void {
    this.isDisposed = true;
    this.judging.dispose();
    this.documents.clear();
  }

  private initialize(params: InitializeParams): InitializeResult | Promise<InitializeResult> {
    this.abilities = abilitiesOf(params);
    this.folders = foldersOf(params);
    const experimental = Object.assign({}, ...this.extensions.map(({ capabilities }) => capabilities ?? {}));
    const result = {
      capabilities: { ...capabilitiesFor(this.abilities), experimental },
      serverInfo: { name: "keyside", version },
    };
    const { initializationOptions } = params;
    return initializationOptions == null
      ? result
      : this.preferences.take(initializationOptions).then(() => result);
  }

  private initialized(): void {
    const { connection, abilities } = this;
    if (abilities.watchesFiles) {
      const endings = [...shotExtensions(), waiversExtension, reviewExtension];
      const watchers = [configName, ...endings.map((ending) => `*${ending}`)].map((name) => ({
        globPattern: `**/${name}`,
      }));
      this.send(() => connection.client.register(DidChangeWatchedFilesNotification.type, { watchers }));
    }
    if (abilities.configurationNotices) {
      this.send(() =>
        connection.client.register(DidChangeConfigurationNotification.type, { section: "keyside" }),
      );
    }
    if (abilities.workspaceFolders) {
      connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
        const gone = new Set(removed.map(({ uri }) => uri));
        this.folders = [...this.folders.filter((uri) => !gone.has(uri)), ...added.map(({ uri }) => uri)];
        this.reloadSoon();
      });
    }
    if (abilities.configuration) this.reloadSoon();
    this.watchPlugins().catch((error) => this.logFailure("with plug-ins", error));
  }

  /** Has the files of plug-ins watched as configurations are. */
  private async watchPlugins(): Promise<void> {
    const { files } = await this.environment.settings.plugins();
    this.pluginFiles = files;
    const fresh = files.map((path) => basename(path)).filter((name) => !this.watched.has(name));
    if (!this.abilities.watchesFiles || fresh.length === 0) return;
    for (const name of fresh) this.watched.add(name);
    const watchers = [...new Set(fresh)].map((name) => ({ globPattern: `**/${name}` }));
    this.send(() => this.connection.client.register(DidChangeWatchedFilesNotification.type, { watchers }));
  }

  /** Whether a file decides how shots are judged: a configuration, waivers, or a module of a plug-in. */
  private isChoice(uri: string): boolean {
    if (uri.endsWith(`/${configName}`)) return true;
    if (uri.endsWith(waiversExtension) || uri.endsWith(reviewExtension)) return true;
    const path = pathOfUri(uri);
    return path !== null && this.pluginFiles.includes(path);
  }

  private registerDocuments(): void {
    const { connection } = this;
    connection.onDidOpenTextDocument(({ textDocument }) => {
      this.close(textDocument.uri);
      const document = ShotDocument.open(textDocument, this.abilities.encoding);
      if (document === null) return;
      this.documents.set(document.uri, document);
      this.lookedUp.set(document, this.applySettings(document));
    });
    connection.onDidChangeTextDocument(({ textDocument, contentChanges }) => {
      this.arrivals.taken(textDocument.uri);
      const document = this.documents.get(textDocument.uri);
      if (document === undefined) return;
      document.change(contentChanges, textDocument.version);
      this.judging.request(document);
    });
    connection.onDidCloseTextDocument(({ textDocument }) => this.close(textDocument.uri));
    connection.onDidSaveTextDocument(({ textDocument }) => {
      // A client that watches no files still says when it has written one.
      if (!this.abilities.watchesFiles && this.isChoice(textDocument.uri)) this.reloadSoon();
    });
    connection.onDidChangeConfiguration(async ({ settings }) => {
      if (!this.abilities.configuration) await this.preferences.take(settings);
      this.reloadSoon();
    });
    let changed = false;
    let isWaiting = false;
    connection.onDidChangeWatchedFiles(({ changes }) => {
      changed ||= changes.some(({ uri }) => this.isChoice(uri));
      if (isWaiting) return;
      isWaiting = true;
      this.environment.timers.after(watchDelay, () => {
        isWaiting = false;
        const hasConfig = changed;
        changed = false;
        if (hasConfig) this.reloadSoon();
        else this.refresh();
      });
    });
  }

  private close(uri: string): void {
    const document = this.documents.get(uri);
    if (document === undefined) return;
    this.documents.delete(uri);
    this.judging.drop(document);
    if (!this.abilities.pullsDiagnostics) {
      this.send(() => this.connection.sendDiagnostics({ uri, diagnostics: [] }));
    }
  }

  private reloadSoon(): void {
    this.reload().catch((error) => this.logFailure("by the changed settings", error));
  }

  /** Looks up again what is in force, and judges by it whatever is open. */
  private async reload(): Promise<void> {
    const generation = ++this.generation;
    await this.preferences.ask(this.abilities, this.folders);
    if (generation !== this.generation || this.isDisposed) return;
    this.environment.settings.forget();
    await this.watchPlugins();
    if (generation !== this.generation || this.isDisposed) return;
    const bad = [...this.badConfigs];
    this.badConfigs.clear();
    await Promise.all([...this.documents.values()].map((document) => this.applySettings(document)));
    for (const uri of bad) {
      if (!this.badConfigs.has(uri))
        this.send(() => this.connection.sendDiagnostics({ uri, diagnostics: [] }));
    }
    this.refresh();
  }

  /** Asks a client that asks for things itself to ask again. */
  private refresh(): void {
    const { connection, abilities } = this;
    if (abilities.pullsDiagnostics && abilities.refreshesDiagnostics) {
      this.send(() => connection.languages.diagnostics.refresh());
    }
    if (abilities.refreshesInlayHints) this.send(() => connection.languages.inlayHint.refresh());
  }

  private async applySettings(document: ShotDocument): Promise<void> {
    const { generation } = this;
    const lookUp = ++this.lookUps;
    const folder =
      folderOf(document.path) ?? this.folders.map(pathOfUri).find((path) => path !== null) ?? null;
    const settings = await this.settingsFor(folder, document.path);
    const beside = await this.besideFor(document);
    if (this.documents.get(document.uri) !== document) return;
    // A reload that began meanwhile finds newer ones, and a look-up that began later may be done sooner.
    if (generation !== this.generation && document.settings !== null) return;
    if ((this.appliedLookUps.get(document) ?? 0) > lookUp) return;
    this.appliedLookUps.set(document, lookUp);
    document.settings = settings;
    Object.assign(document, beside);
    this.judging.request(document);
  }

  /** What stands beside a shot: waivers, and what people say; where it cannot be used, that is told at the file. */
  async besideFor(document: ShotDocument): Promise<ShotBeside> {
    const { path } = document;
    if (path === null) return nothingBeside;
    try {
      const { files } = this.environment;
      const review = reviewIn(await reviewTextBeside(files, path, path), path);
      const dropped = review === null ? [] : waiversFrom(review, document.shotName());
      const waivers = [...waiversIn(await waiversTextBeside(files, path, path), path), ...dropped];
      return { waivers, review: review?.review ?? null };
    } catch (error) {
      this.tellBadConfig(null, error);
      return nothingBeside;
    }
  }

  private tellBadConfig(folder: string | null, error: unknown): void {
    if (!(error instanceof UnreadableError)) {
      const message = error instanceof ConfigError ? error.message : String(error);
      this.send(async () => this.connection.console.warn(`Keyside: ${folder ?? "settings"}: ${message}`));
      return;
    }
    const uri = uriOfPath(error.file);
    if (this.badConfigs.has(uri)) return;
    this.badConfigs.add(uri);
    this.send(() => this.connection.sendDiagnostics({ uri, diagnostics: [unreadableDiagnostic(error)] }));
  }

  /** Sends a document's diagnostics to a client that does not ask for them itself. */
  private publish(document: ShotDocument): void {
    if (this.abilities.pullsDiagnostics) return;
    const { uri, version } = document;
    this.send(() =>
      this.connection.sendDiagnostics({
        uri,
        ...(this.abilities.diagnostics.version ? { version } : {}),
        diagnostics: this.diagnosticsOf(document),
      }),
    );
  }
}

/** What is in force where a configuration cannot be used. */
const fallbackSettings = defaultSettings(registry);
