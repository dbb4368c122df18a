import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, expectTypeOf, test } from "vitest";
import { WebSocket } from "ws";
import {
  FeedClient,
  type FeedError,
  type FeedNote,
  type NotesChanged,
} from "../../../packages/adapters/clients/typescript/client.ts";
import { nodeEnvironment } from "../../../packages/server/serve/feed/environment.ts";
import type { SentNote } from "../../../packages/server/serve/host/messages.ts";
import type { NotesChanged as SentChange } from "../../../packages/server/serve/host/sent.ts";
import { Clients } from "../../../packages/server/serve/transport/clients.ts";
import type { Listener } from "../../../packages/server/serve/transport/socket.ts";
import { listenOnWebSocket } from "../../../packages/server/serve/transport/websocket.ts";
import { eased, everyFrame, pointDocument } from "../../support/shots.ts";

const token = "a-token-that-nobody-can-guess";
const document = pointDocument(
  { "translation.x": everyFrame(1, 40, eased(6, 30, 0, 1)) },
  { range: [1, 40] },
);
let clients: Clients;
let listener: Listener;

beforeAll(async () => {
  clients = new Clients(token, { message: 1 << 20, idle: 0, clients: 4 }, nodeEnvironment);
  listener = await listenOnWebSocket(clients, "127.0.0.1", 0, []);
});
afterAll(async () => {
  const closed = listener.close();
  clients.close();
  await closed;
});

const socket = () => new WebSocket(`ws://127.0.0.1:${listener.port}`);

async function opened() {
  const client = await FeedClient.connect(socket(), token);
  let wake = () => {};
  const told: NotesChanged[] = [];
  const shot = await client.open("a", { document }, (_, message) => {
    told.push(message);
    wake();
  });
  const judged = async (revision: number) => {
    while (shot.judgedRevision !== revision) {
      await new Promise<void>((resolve) => {
        wake = resolve;
      });
    }
  };
  await judged(0);
  return { client, shot, told, judged };
}

describe("the client in TypeScript", () => {
  test("opens a shot, edits a key and keeps the notes", async () => {
    const { client, shot, told, judged } = await opened();
    const before = shot.notes;
    await shot.setKey("point", "translation.x", 18, 3);
    await judged(1);
    const pop = shot.notes.find(({ check }) => check === "pop");
    expect(pop?.keys[0]).toMatchObject({ node: "point", channel: "translation.x", frame: 18 });
    const about = await client.explain({ shot: "a", fingerprint: pop?.fingerprint ?? "" });
    expect(about).toMatchObject({ check: { name: "pop" }, note: { message: pop?.message } });
    await shot.setKey("point", "translation.x", 18, eased(6, 30, 0, 1)(18));
    await judged(2);
    expect(shot.notes).toEqual(before);
    expect(told[told.length - 1].gone).toContain(pop?.fingerprint);
    await shot.configure({ rate: 12 });
    await shot.replace({ text: JSON.stringify(document), fileName: "a.curves.json" });
    await judged(4);
    await shot.close();
    client.close();
  });

  test("says why the feed refuses, and goes on from the shot's revision", async () => {
    const { client, shot, judged } = await opened();
    const refused = await shot.setKey("pint", "translation.x", 18, 3).catch((error: FeedError) => error);
    expect(refused).toMatchObject({
      reason: "bad-edit",
      message: expect.stringContaining('did you mean "point"?'),
    });
    await shot.setKey("point", "translation.x", 18, 3);
    await judged(1);
    client.close();
  });

  test("is told of a wrong token, and of a feed that is gone", async () => {
    await expect(FeedClient.connect(socket(), "guess")).rejects.toMatchObject({ reason: "wrong-token" });
    await expect(FeedClient.connect(new WebSocket("ws://127.0.0.1:9"), token)).rejects.toThrow(
      "cannot be reached",
    );
    const { client, shot } = await opened();
    client.close();
    await expect(shot.setKey("point", "translation.x", 18, 3)).rejects.toThrow();
    await expect(client.explain({ check: "pop" })).rejects.toThrow();
  });

  test("knows notes as the feed sends them", () => {
    expectTypeOf<SentNote>().toExtend<Omit<FeedNote, "expected" | "measured">>();
    expectTypeOf<SentChange["gone"]>().toExtend<NotesChanged["gone"]>();
    expectTypeOf<keyof SentChange>().toEqualTypeOf<keyof NotesChanged>();
    expectTypeOf<keyof SentNote>().toEqualTypeOf<keyof FeedNote>();
  });

  test("needs nothing at run time, so that a page can load it as it is", () => {
    const source = readFileSync(
      new URL("../../../packages/adapters/clients/typescript/client.ts", import.meta.url),
      "utf8",
    );
    const imports = source.match(/^import .*$/gm) ?? [];
    expect(imports.filter((line) => !line.startsWith("import type "))).toEqual([]);
  });
});
