import { WebSocket } from "ws";
import { methods } from "../../../../packages/server/serve/host/protocol.ts";
import type { NotesChanged } from "../../../../packages/server/serve/host/sent.ts";

interface Failure {
  readonly code: number;
  readonly message: string;
  readonly data?: unknown;
}

/** A client over WebSocket, one JSON-RPC message per text message. */
export class WebSocketClient {
  /** Errors that answer no request. */
  readonly errors: Failure[] = [];
  /** Code with which the connection was closed. */
  readonly closed: Promise<number>;
  private readonly socket: WebSocket;
  private readonly waiting = new Map<
    number,
    { resolve(value: unknown): void; reject(error: unknown): void }
  >();
  private readonly messages: NotesChanged[] = [];
  private readonly wakers = new Set<() => void>();
  private sent = 0;

  private constructor(socket: WebSocket) {
    this.socket = socket;
    this.closed = new Promise((resolve) => socket.on("close", resolve));
    socket.on("error", () => {});
    socket.on("message", (data: Buffer) => this.take(JSON.parse(data.toString("utf8"))));
  }

  static async open(url: string, origin?: string): Promise<WebSocketClient> {
    const socket = new WebSocket(url, origin === undefined ? {} : { origin });
    await new Promise((resolve, reject) => {
      socket.once("open", resolve);
      socket.once("error", reject);
    });
    return new WebSocketClient(socket);
  }

  request<R = unknown>(method: string, params: object): Promise<R> {
    const id = ++this.sent;
    this.send(JSON.stringify({ jsonrpc: "2.0", id, method, params }));
    return new Promise((resolve, reject) => {
      this.waiting.set(id, { resolve: resolve as (value: unknown) => void, reject });
    });
  }

  send(data: string | Buffer): void {
    this.socket.send(data);
  }

  async told(shot: string, revision: number): Promise<NotesChanged> {
    for (;;) {
      const found = this.messages.find((message) => message.shot === shot && message.revision === revision);
      if (found !== undefined) return found;
      await new Promise<void>((resolve) => this.wakers.add(resolve));
    }
  }

  close(): void {
    this.socket.close();
  }

  private take(message: {
    id?: number | null;
    method?: string;
    params?: unknown;
    result?: unknown;
    error?: Failure;
  }): void {
    if (message.method === methods.notesChanged) this.messages.push(message.params as NotesChanged);
    const request = this.waiting.get(message.id ?? -1);
    if (request === undefined) {
      if (message.error !== undefined) this.errors.push(message.error);
    } else if (message.error !== undefined) request.reject(message.error);
    else request.resolve(message.result);
    for (const wake of this.wakers) wake();
    this.wakers.clear();
  }
}
