import type { Channel, CheckFailure, CurveDocument, KeyEdit, Note } from "@keyside/core";

/**
 * A client of the host channel over WebSocket, for web pages and for Node. It depends on nothing at run time; the
 * protocol is described in docs/host-protocol.md.
 */

/** Version of the host channel that this client speaks. */
const protocol = 1;

/** A note as the feed tells it; `FeedClient.explain` brings the series behind it. */
export type FeedNote = Omit<Note, "evidence">;

/** What the feed tells of a shot. */
export interface NotesChanged {
  readonly shot: string;
  /** The revision that the notes judge. */
  readonly revision: number;
  readonly added: readonly FeedNote[];
  readonly changed: readonly FeedNote[];
  /** Fingerprints. */
  readonly gone: readonly string[];
  /** Checks that ended in an error, whose notes are missing; absent where none did. */
  readonly failures?: readonly CheckFailure[];
}

/** What a WebSocket is to this client: that of a browser, of Node 22, or of a library. */
export interface SocketLike {
  send(text: string): void;
  close(): void;
  addEventListener(type: "open" | "error" | "close", listener: () => void): void;
  addEventListener(type: "message", listener: (event: { readonly data: unknown }) => void): void;
}

/** The feed refused a request. */
export class FeedError extends Error {
  override readonly name = "FeedError";
  readonly code: number;
  /** Why, for example "stale-revision". */
  readonly reason: string | null;
  readonly data: Readonly<Record<string, unknown>>;

  constructor(error: { code: number; message: string; data?: Record<string, unknown> }) {
    super(error.message);
    this.code = error.code;
    this.data = error.data ?? {};
    this.reason = typeof this.data["reason"] === "string" ? this.data["reason"] : null;
  }
}

/** A shot as it is opened or replaced: a document, or the text of a file. */
export type ShotContent =
  | { readonly document: CurveDocument }
  | { readonly text: string; readonly fileName?: string };

interface Request {
  resolve(value: unknown): void;
  reject(error: Error): void;
}

/** A connection to a feed (`keyside feed --websocket PORT`). */
export class FeedClient {
  private readonly socket: SocketLike;
  private readonly requests = new Map<number, Request>();
  private readonly shots = new Map<string, OpenShot>();
  private sent = 0;
  private isGone = false;

  private constructor(socket: SocketLike) {
    this.socket = socket;
    socket.addEventListener("message", ({ data }) => this.take(JSON.parse(String(data))));
    socket.addEventListener("close", () => this.end());
  }

  /**
   * Connects to a feed.
   * @param socket a WebSocket to `ws://127.0.0.1:PORT`, open or opening
   * @throws FeedError for a wrong token, or where feed and client speak no common version
   */
  static async connect(
    socket: SocketLike & { readonly readyState: number },
    token: string,
  ): Promise<FeedClient> {
    if (socket.readyState === 0) {
      await new Promise<void>((resolve, reject) => {
        socket.addEventListener("open", resolve);
        socket.addEventListener("error", () => reject(new Error("The feed cannot be reached.")));
        socket.addEventListener("close", () => reject(new Error("The feed did not let the client in.")));
      });
    }
    const client = new FeedClient(socket);
    await client.request("keyside/hello", { protocols: [protocol], token });
    return client;
  }

  /** Opens a shot; `changed` is called with its notes as the feed tells them, first with all of them. */
  async open(
    shot: string,
    content: ShotContent,
    changed: (shot: OpenShot, message: NotesChanged) => void,
    config?: object,
  ): Promise<OpenShot> {
    const opened = new OpenShot(this, shot, changed);
    this.shots.set(shot, opened);
    try {
      await this.request("keyside/openShot", {
        shot,
        revision: 0,
        ...content,
        ...(config === undefined ? {} : { config }),
      });
    } catch (error) {
      this.shots.delete(shot);
      throw error;
    }
    return opened;
  }

  /** All about a check, or about a note of a shot. */
  explain(
    about: { check: string } | { shot: string; fingerprint: string },
  ): Promise<Record<string, unknown>> {
    return this.request("keyside/explain", about) as Promise<Record<string, unknown>>;
  }

  /** Ends the connection, and with it the feed's work on its shots. */
  close(): void {
    this.socket.close();
  }

  /** Sends a request. @throws FeedError where the feed refuses it */
  request(method: string, params: object): Promise<unknown> {
    if (this.isGone) return Promise.reject(new Error("The connection to the feed ended."));
    const id = ++this.sent;
    this.socket.send(JSON.stringify({ jsonrpc: "2.0", id, method, params }));
    return new Promise((resolve, reject) => this.requests.set(id, { resolve, reject }));
  }

  /** Forgets a shot that was closed. */
  forget(shot: string): void {
    this.shots.delete(shot);
  }

  private take(message: {
    id?: number | null;
    method?: string;
    params?: NotesChanged;
    result?: unknown;
    error?: { code: number; message: string; data?: Record<string, unknown> };
  }): void {
    if (message.method !== undefined) {
      if (message.method === "keyside/notesChanged" && message.params !== undefined) {
        this.shots.get(message.params.shot)?.take(message.params);
      }
      return;
    }
    const request = this.requests.get(message.id ?? -1);
    this.requests.delete(message.id ?? -1);
    if (message.error === undefined) request?.resolve(message.result);
    else request?.reject(new FeedError(message.error));
  }

  private end(): void {
    this.isGone = true;
    for (const { reject } of this.requests.values()) reject(new Error("The connection to the feed ended."));
    this.requests.clear();
  }
}

/** A shot that is open on a connection: it counts revisions, and keeps the notes that the feed tells. */
export class OpenShot {
  readonly name: string;
  /** The newest revision that was sent. */
  revision = 0;
  /** The revision that {@link notes} judge; -1 until the first is judged. */
  judgedRevision = -1;
  private readonly client: FeedClient;
  private readonly changed: (shot: OpenShot, message: NotesChanged) => void;
  private readonly byFingerprint = new Map<string, FeedNote>();

  constructor(client: FeedClient, name: string, changed: (shot: OpenShot, message: NotesChanged) => void) {
    this.client = client;
    this.name = name;
    this.changed = changed;
  }

  /** The notes of the judged revision, the heaviest first. */
  get notes(): FeedNote[] {
    return [...this.byFingerprint.values()].sort((a, b) => b.weight - a.weight);
  }

  /** Makes edits, all or none. @throws FeedError with reason "bad-edit" where one cannot be made */
  edit(edits: readonly KeyEdit[]): Promise<void> {
    return this.next("keyside/editKeys", { edits });
  }

  /** Gives the key at a frame a value. */
  setKey(node: string, channel: Channel, frame: number, value: number): Promise<void> {
    return this.edit([{ kind: "set", node, channel, frame, value }]);
  }

  /** Puts another version of the shot in place: nodes and curves that come and go. */
  replace(content: ShotContent): Promise<void> {
    return this.next("keyside/replaceShot", content);
  }

  /** Judges by other settings, written as in a configuration file. */
  configure(config: object): Promise<void> {
    return this.next("keyside/configureShot", { config });
  }

  async close(): Promise<void> {
    await this.client.request("keyside/closeShot", { shot: this.name });
    this.client.forget(this.name);
  }

  /** Takes what the feed tells. */
  take(message: NotesChanged): void {
    for (const fingerprint of message.gone) this.byFingerprint.delete(fingerprint);
    for (const note of [...message.added, ...message.changed]) this.byFingerprint.set(note.fingerprint, note);
    this.judgedRevision = message.revision;
    this.changed(this, message);
  }

  private async next(method: string, params: object): Promise<void> {
    const revision = ++this.revision;
    try {
      await this.client.request(method, { shot: this.name, revision, ...params });
    } catch (error) {
      if (error instanceof FeedError && typeof error.data["revision"] === "number") {
        this.revision = error.data["revision"];
      }
      throw error;
    }
  }
}
