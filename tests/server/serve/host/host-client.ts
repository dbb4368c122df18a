import { PassThrough } from "node:stream";
import {
  createMessageConnection,
  type Message,
  type MessageConnection,
  type ResponseError,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver/node";
import { connectionOver, serve } from "../../../../packages/server/serve/feed/connection.ts";
import { type FeedEnvironment, nodeEnvironment } from "../../../../packages/server/serve/feed/environment.ts";
import { hostChannel } from "../../../../packages/server/serve/host/host-channel.ts";
import type { SentNote } from "../../../../packages/server/serve/host/messages.ts";
import { methods, protocolVersions, type Reason } from "../../../../packages/server/serve/host/protocol.ts";
import type { NotesChanged } from "../../../../packages/server/serve/host/sent.ts";
import { readerOver } from "../../../../packages/server/serve/transport/reader.ts";

/** A host tool's end of a connection: it keeps the notes of its shots as the feed tells them. */
export class HostClient {
  readonly connection: MessageConnection;
  /** What was told, in order. */
  readonly told: NotesChanged[] = [];
  readonly failures: { shot: string; revision: number; message: string }[] = [];
  private readonly notes = new Map<string, Map<string, SentNote>>();
  private waiting: (() => void)[] = [];

  constructor(connection: MessageConnection) {
    this.connection = connection;
    connection.onNotification(methods.notesChanged, (message: NotesChanged) => {
      this.told.push(message);
      const notes = this.notes.get(message.shot) ?? new Map<string, SentNote>();
      this.notes.set(message.shot, notes);
      for (const fingerprint of message.gone) notes.delete(fingerprint);
      for (const note of [...message.added, ...message.changed]) notes.set(note.fingerprint, note);
      this.wake();
    });
    connection.onNotification(methods.judgingFailed, (message) => {
      this.failures.push(message);
      this.wake();
    });
    connection.onNotification(() => {});
    connection.onError(() => {});
    connection.listen();
  }

  hello(more: object = {}): Promise<{ protocol: number; checks: string[] }> {
    return this.request(methods.hello, { protocols: [...protocolVersions], ...more });
  }

  request<R>(method: string, params?: object): Promise<R> {
    return this.connection.sendRequest(method, params) as Promise<R>;
  }

  /** The notes of a shot as the client knows them. */
  notesOf(shot: string): SentNote[] {
    return [...(this.notes.get(shot)?.values() ?? [])];
  }

  /** What is told of a revision of a shot. */
  async toldOf(shot: string, revision: number): Promise<NotesChanged> {
    let found: NotesChanged | undefined;
    await this.until(() => {
      found = this.told.find((message) => message.shot === shot && message.revision === revision);
      return found !== undefined;
    });
    return found as NotesChanged;
  }

  async until(holds: () => boolean): Promise<void> {
    while (!holds()) await new Promise<void>((resolve) => this.waiting.push(resolve));
  }

  private wake(): void {
    const waiting = this.waiting;
    this.waiting = [];
    for (const resolve of waiting) resolve();
  }
}

/** Looks at what passes at the feed's end. */
export interface Watch {
  readonly arrived?: (message: Message) => void;
  readonly sent?: (message: Message) => void;
}

/** A client joined to a feed by two streams in memory; bytes may be written to the feed beside the client's own. */
export function hostClient(
  environment: Partial<FeedEnvironment> = {},
  watch: Watch = {},
): HostClient & { toFeed: PassThrough } {
  const toFeed = new PassThrough();
  const fromFeed = new PassThrough();
  const writer = new StreamMessageWriter(fromFeed);
  const reader = readerOver(toFeed, writer, 1 << 26);
  const [listen, write] = [reader.listen.bind(reader), writer.write.bind(writer)];
  reader.listen = (callback) =>
    listen((message) => {
      watch.arrived?.(message);
      callback(message);
    });
  writer.write = (message) => {
    watch.sent?.(message);
    return write(message);
  };
  const all = { ...nodeEnvironment(), ...environment };
  serve(connectionOver(reader, writer), all, [hostChannel(all)]);
  const client = new HostClient(
    createMessageConnection(new StreamMessageReader(fromFeed), new StreamMessageWriter(toFeed)),
  );
  return Object.assign(client, { toFeed });
}

/** The error that a request is refused with. */
export async function refusalOf(
  request: Promise<unknown>,
): Promise<ResponseError<{ reason: Reason | "bad-params" } & Record<string, unknown>>> {
  try {
    await request;
  } catch (error) {
    return error as ResponseError<{ reason: Reason | "bad-params" } & Record<string, unknown>>;
  }
  throw new Error("The request was answered.");
}

/** A message as bytes. */
export function framed(message: object): string {
  const body = JSON.stringify({ jsonrpc: "2.0", ...message });
  return `Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`;
}
