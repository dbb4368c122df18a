import { PassThrough } from "node:stream";
import {
  type ClientCapabilities,
  createProtocolConnection,
  type InitializeResult,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver/node";
import {
  connectionOver,
  type FeedExtension,
  serve,
} from "../../../../packages/server/serve/feed/connection.ts";
import { type FeedEnvironment, nodeEnvironment } from "../../../../packages/server/serve/feed/environment.ts";
import { readerOver } from "../../../../packages/server/serve/transport/reader.ts";

export interface ClientOptions {
  /** What the client declares beside what {@link usual} clients do. */
  readonly capabilities?: ClientCapabilities;
  /** Declares what is given as capabilities, and nothing beside. */
  readonly isPlain?: boolean;
  readonly folders?: readonly string[];
  readonly initializationOptions?: unknown;
  /** Answers `workspace/configuration`. */
  readonly configuration?: (scope: string | undefined) => unknown;
  readonly environment?: Partial<FeedEnvironment>;
  readonly extensions?: readonly FeedExtension[];
  readonly limit?: number;
}

/** What clients mostly declare: all that a diagnostic may carry, and code actions. */
const usual = {
  publishDiagnostics: {
    relatedInformation: true,
    codeDescriptionSupport: true,
    dataSupport: true,
    tagSupport: { valueSet: [1, 2] },
    versionSupport: true,
  },
  codeAction: {
    codeActionLiteralSupport: { codeActionKind: { valueSet: ["quickfix", "source"] } },
    isPreferredSupport: true,
  },
  rename: { prepareSupport: true },
} satisfies ClientCapabilities["textDocument"];

function withUsual(given: ClientCapabilities): ClientCapabilities {
  const { textDocument } = given;
  const codeAction = { ...usual.codeAction, ...textDocument?.codeAction };
  return { ...given, textDocument: { ...usual, ...textDocument, codeAction } };
}

/** A language client that is joined to a feed by two streams in memory. */
export class Client {
  readonly connection: ProtocolConnection;
  readonly result: InitializeResult;
  /** What was published, in order. */
  readonly published: PublishDiagnosticsParams[] = [];
  readonly logged: string[] = [];
  readonly registered: string[] = [];
  /** What the feed writes, and what it reads, as bytes. */
  readonly toFeed: PassThrough;
  readonly fromFeed: PassThrough;
  endedWith: number | null = null;
  private waiting: (() => void)[] = [];

  private constructor(
    connection: ProtocolConnection,
    result: InitializeResult,
    toFeed: PassThrough,
    fromFeed: PassThrough,
  ) {
    this.connection = connection;
    this.result = result;
    this.toFeed = toFeed;
    this.fromFeed = fromFeed;
  }

  static async start(options: ClientOptions = {}): Promise<Client> {
    const toFeed = new PassThrough();
    const fromFeed = new PassThrough();
    const writer = new StreamMessageWriter(fromFeed);
    let ended: number | null = null;
    const served = connectionOver(readerOver(toFeed, writer, options.limit ?? 1 << 26), writer, (code) => {
      ended = code;
      if (client === null) return;
      client.endedWith = code;
      client.wake();
    });
    let client: Client | null = null;
    serve(
      served,
      { ...nodeEnvironment(), checkPages: null, ...options.environment },
      options.extensions ?? [],
    );
    const connection = createProtocolConnection(
      new StreamMessageReader(fromFeed),
      new StreamMessageWriter(toFeed),
    );
    const early: PublishDiagnosticsParams[] = [];
    connection.onNotification("textDocument/publishDiagnostics", (params: PublishDiagnosticsParams) => {
      (client?.published ?? early).push(params);
      client?.wake();
    });
    connection.onNotification("window/logMessage", (params: { message: string }) => {
      client?.logged.push(params.message);
      client?.wake();
    });
    connection.onRequest("client/registerCapability", (params: { registrations: { method: string }[] }) => {
      client?.registered.push(...params.registrations.map(({ method }) => method));
      client?.wake();
      return null;
    });
    connection.onRequest("workspace/configuration", (params: { items: { scopeUri?: string }[] }) =>
      params.items.map(({ scopeUri }) => options.configuration?.(scopeUri) ?? null),
    );
    connection.listen();
    const result = await connection.sendRequest<InitializeResult>("initialize", {
      processId: null,
      rootUri: null,
      capabilities: options.isPlain === true ? options.capabilities : withUsual(options.capabilities ?? {}),
      workspaceFolders: (options.folders ?? []).map((uri) => ({ uri, name: uri })),
      ...(options.initializationOptions === undefined
        ? {}
        : { initializationOptions: options.initializationOptions }),
    });
    client = new Client(connection, result, toFeed, fromFeed);
    client.endedWith = ended;
    await connection.sendNotification("initialized", {});
    return client;
  }

  open(uri: string, text: string, languageId = "json", version = 1): Promise<void> {
    return this.connection.sendNotification("textDocument/didOpen", {
      textDocument: { uri, languageId, version, text },
    });
  }

  /** Replaces what stands between two positions, or everything. */
  change(
    uri: string,
    version: number,
    text: string,
    range?: readonly [readonly [number, number], readonly [number, number]],
  ): Promise<void> {
    const at = ([line, character]: readonly [number, number]) => ({ line, character });
    const change =
      range === undefined ? { text } : { range: { start: at(range[0]), end: at(range[1]) }, text };
    return this.connection.sendNotification("textDocument/didChange", {
      textDocument: { uri, version },
      contentChanges: [change],
    });
  }

  close(uri: string): Promise<void> {
    return this.connection.sendNotification("textDocument/didClose", { textDocument: { uri } });
  }

  request<R>(method: string, params: unknown): Promise<R> {
    return this.connection.sendRequest<R>(method, params);
  }

  /** The newest diagnostics of a document once they are as wanted; of a version, if one is given. */
  async diagnostics(
    uri: string,
    wanted: number | ((params: PublishDiagnosticsParams) => boolean) = () => true,
  ): Promise<PublishDiagnosticsParams> {
    const isWanted =
      typeof wanted === "number" ? ({ version }: PublishDiagnosticsParams) => version === wanted : wanted;
    let found: PublishDiagnosticsParams | undefined;
    await this.until(() => {
      found = this.published.findLast((params) => params.uri === uri);
      return found !== undefined && isWanted(found);
    });
    return found as PublishDiagnosticsParams;
  }

  /** Waits until something that the feed sends makes a condition hold. */
  until(holds: () => boolean): Promise<void> {
    return new Promise((resolve, reject) => {
      const limit = setTimeout(() => reject(new Error("The feed did not send what was waited for.")), 20_000);
      const look = () => {
        if (!holds()) {
          this.waiting.push(look);
          return;
        }
        clearTimeout(limit);
        resolve();
      };
      look();
    });
  }

  async stop(): Promise<void> {
    await this.connection.sendRequest("shutdown");
    await this.connection.sendNotification("exit");
    await this.until(() => this.endedWith !== null);
    this.connection.dispose();
  }

  private wake(): void {
    const { waiting } = this;
    this.waiting = [];
    for (const look of waiting) look();
  }
}
