import { spawn } from "node:child_process";
import { type AddressInfo, createConnection, createServer, type Socket } from "node:net";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import {
  createMessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver/node";
import { WebSocket } from "ws";
import { nodeEnvironment } from "../../../../packages/server/serve/feed/environment.ts";
import { methods } from "../../../../packages/server/serve/host/protocol.ts";
import { Clients } from "../../../../packages/server/serve/transport/clients.ts";
import { type Listener, listenOnSocket } from "../../../../packages/server/serve/transport/socket.ts";
import { feedStdio } from "../../../../packages/server/serve/transport/stdio.ts";
import { listenOnWebSocket } from "../../../../packages/server/serve/transport/websocket.ts";
import { eased, everyFrame, pointDocument } from "../../../support/shots.ts";
import { framed, HostClient } from "../host/host-client.ts";

const token = "a-token-that-nobody-can-guess";
const document = pointDocument(
  { "translation.x": everyFrame(1, 40, eased(6, 30, 0, 1)) },
  { range: [1, 40] },
);

let clients: Clients;
let listener: Listener;
let webListener: Listener;
const unhandled: unknown[] = [];
const note = (reason: unknown) => void unhandled.push(reason);

beforeEach(async () => {
  // What nobody handles would end a feed for everybody.
  process.on("unhandledRejection", note);
  process.on("uncaughtException", note);
  clients = new Clients(token, { message: 1 << 20, idle: 0, clients: 99 }, nodeEnvironment);
  listener = await listenOnSocket(clients, "127.0.0.1", 0);
  webListener = await listenOnWebSocket(clients, "127.0.0.1", 0, []);
});
afterEach(async () => {
  const closed = [listener.close(), webListener.close()];
  clients.close();
  await Promise.all(closed);
  process.off("unhandledRejection", note);
  process.off("uncaughtException", note);
});

const later = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

async function socket(): Promise<Socket> {
  const stream = createConnection(listener.port, "127.0.0.1");
  stream.on("error", () => {});
  await new Promise((resolve) => stream.once("connect", resolve));
  return stream;
}

/** Messages whose answers are pending for a while: a shot that is judged, edits, questions of an editor. */
function busyMessages(): string[] {
  const hello = { id: 1, method: methods.hello, params: { protocols: [1], token } };
  const initialize = { id: 3, method: "initialize", params: { capabilities: {} } };
  const open = { id: 2, method: methods.openShot, params: { shot: "a", document } };
  const edits = Array.from({ length: 20 }, (_, i) => ({
    id: 10 + i,
    method: methods.editKeys,
    params: {
      shot: "a",
      revision: i + 1,
      edits: [{ kind: "set", node: "point", channel: "translation.x", frame: 18, value: i }],
    },
  }));
  const text = JSON.stringify(document);
  const uri = "file:///none/a.curves.json";
  const opened = {
    method: "textDocument/didOpen",
    params: { textDocument: { uri, languageId: "json", version: 1, text } },
  };
  const questions = ["diagnostic", "documentSymbol", "codeAction", "inlayHint", "hover"].map((name, i) => ({
    id: 50 + i,
    method: `textDocument/${name}`,
    params: {
      textDocument: { uri },
      position: { line: 0, character: 5 },
      range: { start: { line: 0, character: 0 }, end: { line: 0, character: text.length } },
      context: { diagnostics: [] },
    },
  }));
  const workspace = { id: 70, method: "workspace/diagnostic", params: { previousResultIds: [] } };
  const explain = { id: 71, method: methods.explain, params: { check: "pop" } };
  const wrong = { id: 72, method: "no/method", params: {} };
  return [hello, initialize, open, opened, ...edits, ...questions, workspace, explain, wrong].map((message) =>
    framed(message),
  );
}

async function expectServed(): Promise<void> {
  const stream = await socket();
  const connection = createMessageConnection(
    new StreamMessageReader(stream),
    new StreamMessageWriter(stream),
  );
  const one = new HostClient(connection);
  await one.hello({ token });
  await one.request(methods.openShot, { shot: "a", document });
  await one.toldOf("a", 0);
  stream.destroy();
}

/** How often clients of each transport go. */
const times = 200;
const goings = ["is killed", "resets", "half-closes"] as const;
type Going = (typeof goings)[number];

/** Lets clients go, each at another point of what it asks: after fewer or more messages, sooner or later. */
async function going(leave: (how: Going, messages: readonly string[], wait: number) => Promise<void>) {
  const messages = busyMessages();
  const waits = [0, 1, 3, 8, 20];
  for (let time = 0; time < times; time++) {
    const count = 2 + ((time * 7) % (messages.length - 1));
    await leave(goings[time % 3], messages.slice(0, count), waits[time % 5]);
  }
}

describe(`${times} clients of each transport that go while answers are pending harm nobody`, () => {
  test("over a socket", async () => {
    await going(async (how, messages, wait) => {
      const stream = await socket();
      // Whoever is killed has not read what it was sent.
      if (how === "is killed") stream.pause();
      else stream.resume();
      for (const message of messages) stream.write(message);
      await later(wait);
      if (how === "resets") stream.resetAndDestroy();
      else if (how === "is killed") stream.destroy();
      else stream.end();
    });
    await expectServed();
    await later(100);
    expect(unhandled).toEqual([]);
    expect(clients.count).toBeLessThan(3);
  });

  test("over WebSocket", async () => {
    await going(async (how, messages, wait) => {
      const one = new WebSocket(`ws://127.0.0.1:${webListener.port}`);
      one.on("error", () => {});
      await new Promise((resolve) => one.once("open", resolve));
      for (const message of messages) one.send(message.slice(message.indexOf("{")));
      await later(wait);
      const stream = (one as unknown as { _socket: Socket })._socket;
      if (how === "resets") stream.resetAndDestroy();
      else if (how === "is killed") one.terminate();
      else stream.end();
    });
    await expectServed();
    await later(100);
    expect(unhandled).toEqual([]);
  });

  test("over stdio: each feed ends with its client, and with code 0", async () => {
    const codes = new Set<number>();
    await going(async (how, messages, wait) => {
      const { input, output, client } = await pipes();
      const ended = feedStdio(input, output);
      client.on("data", () => {});
      for (const message of messages) client.write(message);
      await later(wait);
      if (how === "resets") client.resetAndDestroy();
      else if (how === "is killed") client.destroy();
      else client.end();
      codes.add(await ended);
      client.destroy();
      output.destroy();
    });
    await later(100);
    expect(unhandled).toEqual([]);
    expect([...codes]).toEqual([0]);
  });

  test("over a socket, going in the middle of every message", async () => {
    for (const message of busyMessages()) {
      const stream = await socket();
      stream.write(busyMessages()[0] as string);
      stream.write(message.slice(0, Math.floor(message.length * 0.7)));
      await later(2);
      stream.resetAndDestroy();
    }
    await expectServed();
    expect(unhandled).toEqual([]);
  });

  test("over a socket, a process that is killed by the system", async () => {
    const source = `
      import { createConnection } from "node:net";
      const { port, messages } = JSON.parse(process.argv[1]);
      for (let i = 0; i < 12; i++) {
        const stream = createConnection(port, "127.0.0.1");
        for (const message of messages) stream.write(message);
        stream.once("data", () => process.stdout.write("answered\\n"));
      }`;
    const task = JSON.stringify({ port: listener.port, messages: busyMessages() });
    const child = spawn(process.execPath, ["--input-type=module", "--eval", source, task]);
    await new Promise((resolve) => child.stdout.once("data", resolve));
    const gone = new Promise((resolve) => child.once("exit", resolve));
    child.kill("SIGKILL");
    await gone;
    await expectServed();
    while (clients.count > 1) await later(5);
    expect(unhandled).toEqual([]);
  });
});

/** The two ends of a pipe of the system: what a feed is started with, and its client's. */
async function pipes(): Promise<{ input: Socket; output: Socket; client: Socket }> {
  const server = createServer({ allowHalfOpen: true });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const accepted = new Promise<Socket>((resolve) => server.once("connection", resolve));
  const client = createConnection({ port: (server.address() as AddressInfo).port, allowHalfOpen: true });
  client.on("error", () => {});
  const end = await accepted;
  server.close();
  return { input: end, output: end, client };
}

test("connections that say nothing do not keep the feed from ending", async () => {
  const silent = await Promise.all(
    [listener.port, webListener.port, webListener.port].map(async (port) => {
      const stream = createConnection(port, "127.0.0.1");
      stream.on("error", () => {});
      await new Promise((resolve) => stream.once("connect", resolve));
      return stream;
    }),
  );
  silent[1]?.write("GET / HTTP/1.1\r\n");
  await later(20);
  const gone = silent.map((stream) => new Promise((resolve) => stream.once("close", resolve)));
  const closed = [listener.close(), webListener.close()];
  clients.close();
  await Promise.all([...closed, ...gone]);
  expect(clients.count).toBe(0);
});
