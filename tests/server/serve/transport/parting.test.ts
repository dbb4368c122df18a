import { createConnection, type Socket } from "node:net";
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
  return [hello, open, opened, ...edits, ...questions, workspace, explain, wrong].map((message) =>
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

describe("a client that goes while answers are pending harms nobody", () => {
  const goings: Readonly<Record<string, (stream: Socket) => void>> = {
    reset: (stream) => void stream.resetAndDestroy(),
    closed: (stream) => void stream.destroy(),
    "half closed": (stream) => void stream.end(),
  };

  test.each(Object.keys(goings))("over a socket, %s", async (going) => {
    const messages = busyMessages();
    for (const wait of [0, 1, 5, 20, 60]) {
      for (const count of [2, 3, 12, messages.length]) {
        const stream = await socket();
        for (const message of messages.slice(0, count)) stream.write(message);
        await later(wait);
        goings[going]?.(stream);
        if (going === "half closed") stream.resume();
      }
    }
    await expectServed();
    await later(100);
    expect(unhandled).toEqual([]);
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

  test.each(["terminate", "close"] as const)("over WebSocket: %s", async (going) => {
    for (const wait of [0, 1, 5, 20, 60]) {
      const one = new WebSocket(`ws://127.0.0.1:${webListener.port}`);
      one.on("error", () => {});
      await new Promise((resolve) => one.once("open", resolve));
      for (const message of busyMessages()) one.send(message.slice(message.indexOf("{")));
      await later(wait);
      one[going]();
    }
    await expectServed();
    await later(100);
    expect(unhandled).toEqual([]);
  });
});

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
