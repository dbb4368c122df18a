import { FeedError, FeedGone } from "./errors.ts";
import { OpenShot } from "./shot.ts";
import type { ShotConnection, ShotContent, ShotOptions } from "./shot-options.ts";
import type { FeedRemark, NotesChanged, NotesSoFar } from "./told.ts";

/**
 * A client of the host channel over WebSocket, for web pages and for Node. It depends on nothing at run time; the
 * protocol is described in docs/host-protocol.md.
 */

/** Version of the host channel that this client speaks. */
const protocol = 1;

/** What a WebSocket is to this client: that of a browser, of Node 22, or of a library. */
export interface SocketLike {
  readonly readyState: number;
  send(text: string): void;
  close(): void;
  addEventListener(type: "open" | "error" | "close", listener: () => void): void;
  addEventListener(type: "message", listener: (event: { readonly data: unknown }) => void): void;
}

/** How a client calls back. */
export interface ClientOptions {
  /** "at once" as messages arrive, or only from {@link FeedClient.poll}, in the tool's own main loop. */
  readonly callbacks?: "at once" | "poll";
  /** Called when the connection ended though nobody closed it. */
  readonly onGone?: (client: FeedClient, why: string) => void;
}

interface Request {
  resolve(value: unknown): void;
  reject(error: Error): void;
}

/** A connection to a feed (`keyside feed --websocket PORT`). */
export class FeedClient implements ShotConnection {
  private socket: SocketLike;
  private token: string;
  private readonly options: ClientOptions;
  private readonly requests = new Map<number, Request>();
  private readonly shots = new Map<string, OpenShot>();
  private due: (() => void)[] = [];
  private sent = 0;
  private isGone = false;
  private isClosed = false;

  private constructor(socket: SocketLike, token: string, options: ClientOptions) {
    this.socket = socket;
    this.token = token;
    this.options = options;
  }

  /**
   * Connects to a feed.
   * @param socket a WebSocket to `ws://127.0.0.1:PORT`, open or opening
   * @throws FeedError for a wrong token, or where feed and client speak no common version
   */
  static async connect(socket: SocketLike, token: string, options: ClientOptions = {}): Promise<FeedClient> {
    const client = new FeedClient(socket, token, options);
    await client.begin();
    return client;
  }

  /**
   * Opens a shot: as a document, as the text of a file, or as `documentNow` gives it.
   * @throws FeedError where the feed refuses it
   */
  async openShot(shot: string, options: ShotOptions & Partial<ContentOptions>): Promise<OpenShot> {
    if (this.shots.has(shot)) throw new Error(`"${shot}" is open already.`);
    const content = contentOf(options);
    const opened = new OpenShot(this, shot, options);
    this.shots.set(shot, opened);
    try {
      await opened.open(content);
    } catch (error) {
      this.shots.delete(shot);
      throw error;
    }
    return opened;
  }

  /** All that a check says of itself. */
  async explain(check: string): Promise<Record<string, unknown>> {
    const answer = (await this.request("keyside/explain", { check })) as { check: Record<string, unknown> };
    return answer.check;
  }

  /** Calls back what is due, in the tool's own main loop. @returns how many callbacks were called */
  poll(): number {
    const due = this.due.length;
    for (let count = 0; count < due; count++) this.due.shift()?.();
    return due;
  }

  /**
   * Connects anew, after the feed has gone, and opens each shot again as its `documentNow` gives it. Shots without one
   * are closed.
   * @param socket a WebSocket to the feed that runs now
   * @param token of that feed; the one of before if left out
   * @returns names of the shots that are closed
   */
  async restart(socket: SocketLike, token: string = this.token): Promise<string[]> {
    if (!this.isGone) this.end("The client connects anew.", false);
    this.socket = socket;
    this.token = token;
    this.isClosed = false;
    await this.begin();
    const closed: string[] = [];
    for (const shot of [...this.shots.values()]) {
      if (await shot.reopen()) continue;
      this.shots.delete(shot.name);
      closed.push(shot.name);
    }
    return closed;
  }

  /** Ends the connection, and with it the feed's work on its shots; `onGone` is not called. */
  close(): void {
    this.isClosed = true;
    this.socket.close();
    this.end("The client was closed.", false);
  }

  /** Sends a request. @throws FeedError where the feed refuses it; FeedGone where the connection ends first */
  request(method: string, params: object): Promise<unknown> {
    if (this.isGone) return Promise.reject(new FeedGone("The connection to the feed ended."));
    const id = ++this.sent;
    return new Promise((resolve, reject) => {
      this.requests.set(id, { resolve, reject });
      this.socket.send(JSON.stringify({ jsonrpc: "2.0", id, method, params }));
    });
  }

  /** Calls back at once, or when the tool polls. */
  later(callback: () => void): void {
    if (this.options.callbacks === "poll") this.due.push(callback);
    else callback();
  }

  /** Forgets a shot that was closed. */
  forget(shot: string): void {
    this.shots.delete(shot);
  }

  private async begin(): Promise<void> {
    const { socket } = this;
    if (socket.readyState === 0) {
      await new Promise<void>((resolve, reject) => {
        socket.addEventListener("open", resolve);
        socket.addEventListener("error", () => reject(new FeedGone("The feed cannot be reached.")));
        socket.addEventListener("close", () => reject(new FeedGone("The feed did not let the client in.")));
      });
    }
    this.isGone = false;
    const isCurrent = () => socket === this.socket;
    socket.addEventListener("message", ({ data }) => {
      if (isCurrent()) this.take(JSON.parse(String(data)));
    });
    socket.addEventListener("error", () => {});
    socket.addEventListener("close", () => {
      if (isCurrent()) this.end("The connection to the feed ended.", !this.isClosed);
    });
    try {
      await this.request("keyside/hello", { protocols: [protocol], token: this.token });
    } catch (error) {
      this.end("The feed did not let the client in.", false);
      throw error;
    }
  }

  private take(message: {
    id?: number | null;
    method?: string;
    params?: unknown;
    result?: unknown;
    error?: { code: number; message: string; data?: Record<string, unknown> };
  }): void {
    if (message.method !== undefined) {
      const params = message.params as { shot?: string; message?: string } | undefined;
      const shot = this.shots.get(params?.shot ?? "");
      if (message.method === "keyside/notesChanged") shot?.take(params as NotesChanged);
      if (message.method === "keyside/notesSoFar") shot?.takeSoFar(params as NotesSoFar);
      if (message.method === "keyside/reviewChanged")
        shot?.takeReview((params as { remarks: readonly FeedRemark[] }).remarks);
      if (message.method === "keyside/judgingFailed") shot?.fail(params?.message ?? "");
      return;
    }
    const request = this.requests.get(message.id ?? -1);
    this.requests.delete(message.id ?? -1);
    if (message.error === undefined) request?.resolve(message.result);
    else request?.reject(new FeedError(message.error));
  }

  private end(why: string, tells: boolean): void {
    if (this.isGone) return;
    this.isGone = true;
    for (const { reject } of this.requests.values())
      reject(new FeedGone("The connection to the feed ended."));
    this.requests.clear();
    for (const shot of this.shots.values()) shot.lose();
    const { onGone } = this.options;
    if (tells && onGone !== undefined) this.later(() => onGone(this, why));
  }
}

interface ContentOptions {
  readonly document: Extract<ShotContent, { document: unknown }>["document"];
  readonly text: string;
  readonly fileName: string;
}

function contentOf({
  document,
  text,
  fileName,
  documentNow,
}: ShotOptions & Partial<ContentOptions>): ShotContent {
  if (document !== undefined && text !== undefined)
    throw new Error("A shot is a document or a text, not both.");
  if (document !== undefined) return { document };
  if (text !== undefined) return fileName === undefined ? { text } : { text, fileName };
  if (documentNow !== undefined) return documentNow();
  throw new Error("A shot is opened with a document, a text, or documentNow.");
}
