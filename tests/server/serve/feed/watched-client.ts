import { PassThrough } from "node:stream";
import {
  type ClientCapabilities,
  type Diagnostic,
  type Message,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver/node";
import { connectionOver, serve } from "../../../../packages/server/serve/feed/connection.ts";
import { nodeEnvironment } from "../../../../packages/server/serve/feed/environment.ts";
import { readerOver } from "../../../../packages/server/serve/transport/reader.ts";

interface Reply {
  resolve(value: unknown): void;
  reject(error: unknown): void;
}

/** A client without a library in between: it keeps every message as it was sent. */
export class WatchedClient {
  readonly passed: { readonly from: "client" | "feed"; readonly message: Message }[] = [];
  private readonly writer: StreamMessageWriter;
  private readonly pulls: boolean;
  private readonly replies = new Map<number, Reply>();
  private readonly pushed = new Map<string, Diagnostic[]>();
  private wake: () => void = () => {};
  private sent = 0;

  private constructor(capabilities: ClientCapabilities) {
    const [toFeed, fromFeed] = [new PassThrough(), new PassThrough()];
    const writer = new StreamMessageWriter(fromFeed);
    serve(connectionOver(readerOver(toFeed, writer, 1 << 26), writer), nodeEnvironment());
    this.writer = new StreamMessageWriter(toFeed);
    this.pulls = capabilities.textDocument?.diagnostic !== undefined;
    new StreamMessageReader(fromFeed).listen((message) => this.take(message));
  }

  static async start(capabilities: ClientCapabilities): Promise<WatchedClient> {
    const client = new WatchedClient(capabilities);
    await client.ask("initialize", { processId: null, rootUri: null, capabilities });
    client.notify("initialized", {});
    return client;
  }

  notify(method: string, params?: object): void {
    this.send({ method, ...(params === undefined ? {} : { params }) });
  }

  ask<R>(method: string, params?: object): Promise<R> {
    const id = ++this.sent;
    this.send({ id, method, ...(params === undefined ? {} : { params }) });
    return new Promise<R>((resolve, reject) => {
      this.replies.set(id, { resolve: resolve as (value: unknown) => void, reject });
    });
  }

  /** The diagnostics of a document, asked for or waited for. */
  async notesOf(uri: string): Promise<Diagnostic[]> {
    if (this.pulls) {
      return (await this.ask<{ items: Diagnostic[] }>("textDocument/diagnostic", { textDocument: { uri } }))
        .items;
    }
    while (!this.pushed.has(uri)) {
      await new Promise<void>((resolve) => {
        this.wake = resolve;
      });
    }
    return this.pushed.get(uri) ?? [];
  }

  async stop(): Promise<void> {
    await this.ask("shutdown");
    this.notify("exit");
  }

  private send(message: object): void {
    const whole = { jsonrpc: "2.0", ...message } as Message;
    this.passed.push({ from: "client", message: whole });
    void this.writer.write(whole);
  }

  private take(message: Message): void {
    this.passed.push({ from: "feed", message });
    const { id, method, params, result, error } = message as Message & Record<string, unknown>;
    if (typeof method !== "string") {
      const reply = this.replies.get(id as number);
      if (error === undefined) reply?.resolve(result);
      else reply?.reject(error);
      return;
    }
    if (method === "textDocument/publishDiagnostics") {
      const { uri, diagnostics } = params as { uri: string; diagnostics: Diagnostic[] };
      this.pushed.set(uri, diagnostics);
      this.wake();
    }
    if (id === undefined) return;
    const answers: Readonly<Record<string, unknown>> = {
      "workspace/applyEdit": { applied: true },
      "workspace/configuration": (params as { items?: unknown[] } | undefined)?.items?.map(() => null),
    };
    this.send({ id, result: answers[method] ?? null });
  }
}
