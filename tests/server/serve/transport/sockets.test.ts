import { createConnection, type Socket } from "node:net";
import { afterEach, describe, expect, test } from "vitest";
import {
  createMessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver/node";
import { type FeedEnvironment, nodeEnvironment } from "../../../../packages/server/serve/feed/environment.ts";
import { methods } from "../../../../packages/server/serve/host/protocol.ts";
import { Clients } from "../../../../packages/server/serve/transport/clients.ts";
import { type Listener, listenOnSocket } from "../../../../packages/server/serve/transport/socket.ts";
import { listenOnWebSocket } from "../../../../packages/server/serve/transport/websocket.ts";
import { strangerMessage, strangersAtOnce } from "../../../../packages/server/serve/transport/wire.ts";
import { eased, everyFrame, pointDocument } from "../../../support/shots.ts";
import { framed, HostClient, refusalOf } from "../host/host-client.ts";
import { WebSocketClient } from "./web-socket-client.ts";

const token = "a-token-that-nobody-can-guess";
const document = pointDocument(
  { "translation.x": everyFrame(1, 40, eased(6, 30, 0, 1)) },
  { range: [1, 40] },
);
const pop = { kind: "set", node: "point", channel: "translation.x", frame: 18, value: 3 };

interface Bounds {
  readonly message?: number;
  readonly idle?: number;
  readonly clients?: number;
  readonly origins?: readonly string[];
  readonly environment?: () => FeedEnvironment;
}

/** A clock that goes on when it is told to, so that no test depends on speed: waits of a second and more are for it. */
class Clock {
  private passed = 0;
  private readonly waits = new Set<{ readonly at: number; readonly run: () => void }>();

  readonly environment = (): FeedEnvironment => {
    const real = nodeEnvironment();
    const now = () => real.timers.now() + this.passed;
    const after = (milliseconds: number, run: () => void) => {
      if (milliseconds < 1000) return real.timers.after(milliseconds, run);
      const wait = { at: now() + milliseconds, run };
      this.waits.add(wait);
      return { cancel: () => void this.waits.delete(wait) };
    };
    return { ...real, timers: { ...real.timers, now, after } };
  };

  /** Until somebody waits. */
  async isWaitedFor(): Promise<void> {
    while (this.waits.size === 0) await new Promise((resolve) => setTimeout(resolve, 5));
  }

  pass(milliseconds: number): void {
    this.passed += milliseconds;
    const now = nodeEnvironment().timers.now() + this.passed;
    for (const wait of [...this.waits]) {
      if (wait.at > now) continue;
      this.waits.delete(wait);
      wait.run();
    }
  }
}

let clients: Clients;
let listener: Listener;
const open: Socket[] = [];

function clientsWith({
  message = 1 << 20,
  idle = 0,
  clients = 4,
  environment = nodeEnvironment,
}: Bounds): Clients {
  return new Clients(token, { message, idle, clients }, environment);
}

async function overSocket(bounds: Bounds = {}): Promise<void> {
  clients = clientsWith(bounds);
  listener = await listenOnSocket(clients, "127.0.0.1", 0);
}

async function overWebSocket(bounds: Bounds = {}): Promise<void> {
  clients = clientsWith(bounds);
  listener = await listenOnWebSocket(clients, "127.0.0.1", 0, bounds.origins ?? []);
}

afterEach(async () => {
  for (const socket of open.splice(0)) socket.destroy();
  const closed = listener.close();
  clients.close();
  await closed;
});

async function socket(): Promise<Socket> {
  const socket = createConnection(listener.port, "127.0.0.1");
  open.push(socket);
  socket.on("error", () => {});
  await new Promise((resolve) => socket.once("connect", resolve));
  return socket;
}

async function client(): Promise<HostClient & { socket: Socket }> {
  const stream = await socket();
  const connection = createMessageConnection(
    new StreamMessageReader(stream),
    new StreamMessageWriter(stream),
  );
  return Object.assign(new HostClient(connection), { socket: stream });
}

/** A client that has opened a shot and knows its notes. */
async function working(): Promise<HostClient & { socket: Socket }> {
  const one = await client();
  await one.hello({ token });
  await one.request(methods.openShot, { shot: "a", document });
  await one.toldOf("a", 0);
  return one;
}

/** Expects that a client is served: an edit brings its note. */
async function expectServed(one: HostClient, revision = 1): Promise<void> {
  await one.request(methods.editKeys, { shot: "a", revision, edits: [{ ...pop, frame: 17 + revision }] });
  const { added, changed } = await one.toldOf("a", revision);
  expect(added.length + changed.length).toBeGreaterThan(0);
}

/** All that is read from a socket until it closes. */
function untilClosed(stream: Socket): Promise<string> {
  return new Promise((resolve) => {
    let text = "";
    stream.on("data", (data) => {
      text += data.toString("utf8");
    });
    stream.on("close", () => resolve(text));
  });
}

async function hasGone(count: number): Promise<void> {
  while (clients.count > count) await new Promise((resolve) => setTimeout(resolve, 5));
}

describe("over a socket", () => {
  test("a client that shows the token is served", async () => {
    await overSocket();
    await expectServed(await working());
  });

  test("an editor shows the token in its initializationOptions, which are settings beside that", async () => {
    await overSocket();
    const editor = await client();
    const initializationOptions = { token, lightestTier: "major" };
    const params = { processId: null, rootUri: null, capabilities: {}, initializationOptions };
    const { capabilities } = await editor.request<{ capabilities: { experimental: unknown } }>(
      "initialize",
      params,
    );
    expect(capabilities.experimental).toEqual({ keyside: { protocols: [1] } });
  });

  test.each([
    ["no token", { id: 1, method: methods.hello, params: { protocols: [1] } }],
    ["another token", { id: 1, method: methods.hello, params: { protocols: [1], token: `${token}x` } }],
    ["a token that is no text", { id: 1, method: methods.hello, params: { protocols: [1], token: 7 } }],
    [
      "an editor's other token",
      { id: 1, method: "initialize", params: { initializationOptions: { token: "x" } } },
    ],
    ["another message first", { id: 1, method: methods.openShot, params: { shot: "a", document, token } }],
    ["a notification", { method: methods.hello, params: { protocols: [1], token } }],
  ])("a client with %s is told so and let go", async (_, message) => {
    await overSocket();
    const stranger = await socket();
    const answer = untilClosed(stranger);
    stranger.write(
      framed(message) + framed({ id: 2, method: methods.openShot, params: { shot: "a", document } }),
    );
    const text = await answer;
    expect(text).toContain('"reason":"wrong-token"');
    expect(text).not.toContain('"id":2');
    expect(text).not.toContain(token);
    await hasGone(0);
  });

  test("a message that is too long is refused before it is kept, and the client is served on", async () => {
    await overSocket({ message: 100_000 });
    const one = await working();
    const length = 100 * 1024 * 1024;
    const before = process.memoryUsage().arrayBuffers;
    one.socket.write(`Content-Length: ${length}\r\n\r\n`);
    const piece = Buffer.alloc(1024 * 1024, 32);
    let most = 0;
    for (let sent = 0; sent < length; sent += piece.length) {
      if (!one.socket.write(piece)) await new Promise((resolve) => one.socket.once("drain", resolve));
      most = Math.max(most, process.memoryUsage().arrayBuffers - before);
    }
    await expectServed(one);
    expect(most).toBeLessThan(length / 2);
  });

  test("a stranger cannot send much", async () => {
    await overSocket({ message: 1 << 26 });
    const stranger = await socket();
    const answer = untilClosed(stranger);
    stranger.write(`Content-Length: ${strangerMessage + 1}\r\n\r\n`);
    expect(await answer).toContain("is longer than");
  });

  test.each([
    ["no header", "nonsense\r\n\r\n"],
    ["a length that is no number", "Content-Length: many\r\n\r\n"],
    ["a length below 0", "Content-Length: -5\r\n\r\n"],
    ["a body that is no JSON", "Content-Length: 3\r\n\r\n{]}"],
    ["a list of messages", "Content-Length: 2\r\n\r\n[]"],
    ["a header that does not end", "x".repeat(20_000)],
  ])("%s is answered with an error, and the client is served on", async (_, bytes) => {
    await overSocket();
    const one = await working();
    let text = "";
    one.socket.on("data", (data) => {
      text += data.toString("utf8");
    });
    one.socket.write(bytes);
    while (!text.includes('"error"')) await new Promise((resolve) => one.socket.once("data", resolve));
    one.socket.write("\r\n\r\n");
    await expectServed(one);
  });

  test("a client that is cut off in the middle of a message harms nobody", async () => {
    await overSocket();
    const one = await working();
    const other = await working();
    const message = framed({
      id: "cut",
      method: methods.editKeys,
      params: { shot: "a", revision: 1, edits: [pop] },
    });
    await new Promise<void>((resolve) => one.socket.write(message.slice(0, -20), () => resolve()));
    one.socket.resetAndDestroy();
    await hasGone(1);
    await expectServed(other);
  });

  test("a second client sees nothing of the first, whatever that does", async () => {
    await overSocket();
    const [one, other] = [await working(), await working()];
    for (let revision = 1; revision < 30; revision++) {
      const edits = [{ ...pop, value: revision }];
      void one.request(methods.editKeys, { shot: "a", revision, edits });
    }
    await expectServed(other);
    await one.request(methods.closeShot, { shot: "a" });
    await one.request("shutdown");
    await one.connection.sendNotification("exit");
    await hasGone(1);
    await expectServed(other, 2);
    expect(other.told.map(({ revision }) => revision)).toEqual([0, 1, 2]);
  });

  test("a client that sends nothing is let go after the idle time, one that works is not", async () => {
    const hour = 3_600_000;
    const clock = new Clock();
    await overSocket({ idle: hour, environment: clock.environment });
    const idle = await working();
    const busy = await working();
    const closed = untilClosed(idle.socket);
    clock.pass(hour / 2);
    await expectServed(busy);
    clock.pass(hour / 2);
    await closed;
    expect(clients.count).toBe(1);
    await expectServed(busy, 2);
  });

  test("a client that never shows the token is let go in time", async () => {
    const clock = new Clock();
    await overSocket({ environment: clock.environment });
    const stranger = await socket();
    const closed = untilClosed(stranger);
    await clock.isWaitedFor();
    clock.pass(3_600_000);
    expect(await closed).toBe("");
  });

  test("no more clients are taken than are allowed", async () => {
    await overSocket({ clients: 1 });
    const one = await working();
    const further = await client();
    expect((await refusalOf(further.hello({ token }))).data?.reason).toBe("too-many-clients");
    await hasGone(1);
    await expectServed(one);
    one.socket.destroy();
    await hasGone(0);
    await expectServed(await working());
  });

  test("strangers take nobody's place, and of too many the oldest is let go", async () => {
    await overSocket({ clients: 2 });
    const first = await socket();
    const letGo = untilClosed(first);
    const strangers = await Promise.all(Array.from({ length: strangersAtOnce }, () => socket()));
    expect(await letGo).toBe("");
    await expectServed(await working());
    expect(strangers.filter(({ destroyed }) => !destroyed).length).toBeGreaterThan(0);
  });

  test("closing lets all clients go", async () => {
    await overSocket();
    const [one, other] = [await working(), await working()];
    const closed = [one, other].map(({ socket }) => new Promise((resolve) => socket.once("close", resolve)));
    clients.close();
    await Promise.all(closed);
    expect(clients.count).toBe(0);
  });
});

describe("over WebSocket", () => {
  const url = () => `ws://127.0.0.1:${listener.port}`;

  test("a client that shows the token is served", async () => {
    await overWebSocket();
    const one = await WebSocketClient.open(url());
    await one.request(methods.hello, { protocols: [1], token });
    await one.request(methods.openShot, { shot: "a", document });
    expect(await one.told("a", 0)).toMatchObject({ shot: "a", revision: 0 });
    await one.request(methods.editKeys, { shot: "a", revision: 1, edits: [pop] });
    const { added } = await one.told("a", 1);
    expect(added.map(({ check }) => check)).toContain("pop");
    one.close();
    await hasGone(0);
  });

  test("a client with another token is told so and let go", async () => {
    await overWebSocket();
    const stranger = await WebSocketClient.open(url());
    const refusal = await refusalOf(stranger.request(methods.hello, { protocols: [1], token: "guess" }));
    expect(refusal.data?.reason).toBe("wrong-token");
    expect(await stranger.closed).toBe(1008);
  });

  test("pages of listed origins are let in, others are not", async () => {
    await overWebSocket({ origins: ["http://localhost:8080"] });
    const page = await WebSocketClient.open(url(), "http://localhost:8080");
    await page.request(methods.hello, { protocols: [1], token });
    page.close();
    for (const origin of ["http://localhost:8081", "https://localhost:8080", "null", "http://example.org"]) {
      await expect(WebSocketClient.open(url(), origin)).rejects.toThrow("403");
    }
  });

  test("no page is let in where no origin is listed", async () => {
    await overWebSocket();
    await expect(WebSocketClient.open(url(), "http://127.0.0.1")).rejects.toThrow("403");
  });

  test("a message that is too long closes the connection with code 1009, and others are served", async () => {
    await overWebSocket({ message: 100_000 });
    const one = await WebSocketClient.open(url());
    const other = await WebSocketClient.open(url());
    for (const client of [one, other]) await client.request(methods.hello, { protocols: [1], token });
    one.send(" ".repeat(100_001));
    expect(await one.closed).toBe(1009);
    await other.request(methods.openShot, { shot: "a", document });
    expect(await other.told("a", 0)).toMatchObject({ revision: 0 });
  });

  test("a stranger cannot send much", async () => {
    await overWebSocket();
    const stranger = await WebSocketClient.open(url());
    stranger.send(" ".repeat(2 * strangerMessage));
    expect(await stranger.closed).toBe(1006);
  });

  test("what is no JSON text is answered with an error, and the client is served on", async () => {
    await overWebSocket();
    const one = await WebSocketClient.open(url());
    await one.request(methods.hello, { protocols: [1], token });
    one.send("{]");
    one.send("[]");
    one.send(Buffer.from("{}"));
    await one.request(methods.openShot, { shot: "a", document });
    expect(one.errors.map(({ code }) => code)).toEqual([-32700, -32600, -32700]);
  });

  test("whoever is no WebSocket client is told how the feed is spoken to", async () => {
    await overWebSocket();
    const response = await fetch(url().replace("ws:", "http:"));
    expect(response.status).toBe(426);
    expect(await response.text()).toContain("WebSocket");
  });

  test("closing says that the feed goes away", async () => {
    await overWebSocket();
    const one = await WebSocketClient.open(url());
    await one.request(methods.hello, { protocols: [1], token });
    clients.close();
    expect(await one.closed).toBe(1001);
  });
});
