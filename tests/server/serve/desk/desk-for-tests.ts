import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { WebSocket } from "ws";
import { registry } from "../../../../packages/core/faults/registry.ts";
import type { ReviewFile } from "../../../../packages/core/review/schema.ts";
import { defaultSettings } from "../../../../packages/core/settings/resolve.ts";
import {
  type Answer,
  type DeskNote,
  type FromDesk,
  linkProtocol,
  type ToDesk,
} from "../../../../packages/desk/link.ts";
import { defaultBudget } from "../../../../packages/server/base/budget.ts";
import { diskFiles } from "../../../../packages/server/base/files/read.ts";
import { unguarded } from "../../../../packages/server/base/guard.ts";
import { Answers } from "../../../../packages/server/serve/desk/answers.ts";
import { Desk } from "../../../../packages/server/serve/desk/desk.ts";
import { Footage, type FootageFiles } from "../../../../packages/server/serve/desk/footage.ts";
import { type LaidOut, layOut } from "../../../../packages/server/serve/desk/laid-out.ts";
import { type DeskServer, serveDesk } from "../../../../packages/server/serve/desk/serve-desk.ts";
import { nodeEnvironment, nodeTimers } from "../../../../packages/server/serve/feed/environment.ts";
import { Clients } from "../../../../packages/server/serve/transport/clients.ts";
import { listenOnWebSocket } from "../../../../packages/server/serve/transport/websocket.ts";

export const token = "a-token-that-nobody-can-guess";

export const footageKey = "a-key-that-nobody-can-guess";

/** Without its request's number, which the client counts. */
type Asked = ToDesk extends infer One ? (One extends ToDesk ? Omit<One, "request"> : never) : never;

/** A page without a browser: it speaks the link, and keeps what it is told. */
export class DeskClient {
  readonly told: FromDesk[] = [];
  private readonly socket: WebSocket;
  private asked = 0;
  private waiting: (() => void)[] = [];

  private constructor(socket: WebSocket) {
    this.socket = socket;
    socket.on("message", (data: Buffer) => {
      this.told.push(JSON.parse(data.toString("utf8")));
      this.wake();
    });
    socket.on("close", () => this.wake());
  }

  private wake(): void {
    for (const resolve of this.waiting.splice(0)) resolve();
  }

  static async open(port: number): Promise<DeskClient> {
    const client = new DeskClient(new WebSocket(`ws://127.0.0.1:${port}/link`, [linkProtocol, token]));
    await client.next("shot");
    return client;
  }

  close(): void {
    this.socket.close();
  }

  /** Sends a text as it is. */
  say(text: string): void {
    this.socket.send(text);
  }

  /** Asks for something, and waits for the answer. */
  async ask(message: Asked): Promise<Answer> {
    const request = ++this.asked;
    this.say(JSON.stringify({ ...message, request }));
    return this.next("answer", (answer) => answer.request === request);
  }

  /** The first message of a type that fits, of those that were told and of those to come. */
  async next<T extends FromDesk["type"]>(
    type: T,
    fits: (message: Extract<FromDesk, { type: T }>) => boolean = () => true,
  ): Promise<Extract<FromDesk, { type: T }>> {
    const isIt = (message: FromDesk): message is Extract<FromDesk, { type: T }> =>
      message.type === type && fits(message as Extract<FromDesk, { type: T }>);
    for (;;) {
      const found = this.told.find(isIt);
      if (found !== undefined) return found;
      if (this.socket.readyState > WebSocket.OPEN) throw new Error(`The desk closed without a "${type}".`);
      await new Promise<void>((resolve) => {
        this.waiting.push(resolve);
      });
    }
  }

  /** All messages of a type. */
  all<T extends FromDesk["type"]>(type: T): Extract<FromDesk, { type: T }>[] {
    return this.told.filter((one): one is Extract<FromDesk, { type: T }> => one.type === type);
  }

  /** The notes as the page has them, once a revision is judged. */
  async notesAt(revision: number): Promise<DeskNote[]> {
    await this.next("notes", (notes) => notes.revision >= revision);
    const known = new Map<string, DeskNote>();
    let order: readonly string[] = [];
    for (const message of this.told) {
      if (message.type === "shot") known.clear();
      if (message.type !== "notes") continue;
      for (const note of message.set) known.set(note.fingerprint, note);
      order = message.order;
    }
    return order.map((fingerprint) => known.get(fingerprint) as DeskNote);
  }

  /** Edits of the node and channel that the test documents key. */
  edit(edits: Extract<ToDesk, { type: "edit" }>["edits"], more: { group?: string; base?: number } = {}) {
    const { group = `${Math.random()}`, base = Number.MAX_SAFE_INTEGER } = more;
    return this.ask({ type: "edit", base, group, label: "move key", edits });
  }
}

/** A feed over a real socket, in this process; {@link kill} ends it as a feed that dies ends. */
class TestFeeds {
  private readonly running: { clients: Clients; close(): Promise<void> }[] = [];
  started = 0;
  /** Whether the next ones cannot be started. */
  isBroken = false;
  /** Whether the next ones have a clock that runs away, as if each piece of work took long. */
  isSlow = false;

  async start() {
    this.started++;
    if (this.isBroken) throw new Error("No feed can be started here.");
    let clock = 0;
    const slow = { ...nodeTimers, now: () => (clock += 50) };
    const environment = () => ({ ...nodeEnvironment(), ...(this.isSlow ? { timers: slow } : {}) });
    const clients = new Clients(token, { message: 1 << 24, idle: 0, clients: 4 }, environment);
    const listener = await listenOnWebSocket(clients, "127.0.0.1", 0, []);
    let isClosed = false;
    const close = async () => {
      if (isClosed) return;
      isClosed = true;
      const closed = listener.close();
      clients.close();
      await closed;
    };
    this.running.push({ clients, close });
    return {
      token,
      connect: () => new WebSocket(`ws://127.0.0.1:${listener.port}`),
      stop: close,
    };
  }

  async kill(): Promise<void> {
    await Promise.all(this.running.splice(0).map(({ close }) => close()));
  }
}

/** A desk on a shot of a folder of its own, served over real sockets. */
export class LaidDesk {
  readonly folder: string;
  readonly desk: Desk;
  readonly feeds: TestFeeds;
  readonly laid: LaidOut;
  private readonly server: DeskServer;
  private readonly answers: Answers;
  private readonly clients: DeskClient[] = [];

  private constructor(
    folder: string,
    laid: LaidOut,
    desk: Desk,
    answers: Answers,
    feeds: TestFeeds,
    server: DeskServer,
  ) {
    this.folder = folder;
    this.laid = laid;
    this.desk = desk;
    this.answers = answers;
    this.feeds = feeds;
    this.server = server;
  }

  /** Lays a file on a desk; files beside it are put into its folder first. */
  static async open(
    files: Readonly<Record<string, string>>,
    name: string = Object.keys(files)[0],
    folder?: string,
    footageFiles: ((folder: string) => FootageFiles) | null = null,
    previous: ReviewFile | null = null,
  ): Promise<LaidDesk> {
    const place = folder ?? (await mkdtemp(join(tmpdir(), "keyside-desk-")));
    for (const [file, text] of Object.entries(files)) await writeFile(join(place, file), text);
    const laid = await layOut(name, {
      files: diskFiles,
      cwd: place,
      settings: defaultSettings(registry),
      animation: undefined,
      budget: defaultBudget,
      guard: unguarded,
      previous,
    });
    const feeds = new TestFeeds();
    const footage = footageFiles === null ? null : new Footage(footageFiles(place), footageKey);
    const world = {
      files: diskFiles,
      timers: nodeTimers,
      startFeed: () => feeds.start(),
      config: null,
      footage,
      reviewer: "Ada",
    };
    const desk = new Desk(laid, world);
    const answers = new Answers(desk);
    const page = new Map([
      ["/", { type: "text/html; charset=utf-8", bytes: Buffer.from("<title>desk</title>") }],
    ]);
    const server = await serveDesk(desk, answers, page, 0, token);
    await desk.begin();
    return new LaidDesk(place, laid, desk, answers, feeds, server);
  }

  get port(): number {
    return this.server.port;
  }

  async client(): Promise<DeskClient> {
    const client = await DeskClient.open(this.port);
    this.clients.push(client);
    return client;
  }

  path(name: string): string {
    return join(this.folder, name);
  }

  read(name: string): Promise<string> {
    return readFile(this.path(name), "utf8");
  }

  /** Ends the desk as the command does. Gives the name of the file in which unsaved edits are kept. */
  async stop(): Promise<string | null> {
    await this.answers.settled();
    const kept = await this.desk.stop();
    await this.server.close();
    await this.feeds.kill();
    return kept;
  }

  async close(): Promise<void> {
    await this.stop();
    await rm(this.folder, { recursive: true, force: true });
  }
}
