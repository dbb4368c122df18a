import { readdirSync, readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, expectTypeOf, test } from "vitest";
import { WebSocket } from "ws";
import {
  type ClientOptions,
  channelNames,
  EditError,
  FeedClient,
  type FeedError,
  FeedGone,
  type FeedNote,
  inOrder,
  interpolationNames,
  moveKey,
  type NotesChanged,
  type NotesSoFar,
  QueueFull,
  type Refusal,
  removeKey,
  type ShotOptions,
  setKey,
} from "../../../packages/adapters/clients/typescript/index.ts";
import type { KeyEdit } from "../../../packages/core/document/edit.ts";
import { channels, interpolations } from "../../../packages/core/document/model.ts";
import { standingOf } from "../../../packages/core/notes/rank.ts";
import { nodeEnvironment, nodeTimers } from "../../../packages/server/serve/feed/environment.ts";
import type { SentNote } from "../../../packages/server/serve/host/messages.ts";
import type {
  NotesChanged as SentChange,
  NotesSoFar as SentSoFar,
} from "../../../packages/server/serve/host/sent.ts";
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

async function opened(more: ShotOptions = {}, options: ClientOptions = {}) {
  const client = await FeedClient.connect(socket(), token, options);
  let wake = () => {};
  const told: NotesChanged[] = [];
  const shot = await client.openShot("a", {
    document,
    ...more,
    onChange: (_, change) => {
      told.push(change);
      wake();
    },
  });
  const judged = async (revision: number) => {
    while (shot.judgedRevision !== revision) {
      await new Promise<void>((resolve) => {
        wake = resolve;
        // Where the tool polls, nobody wakes.
        setTimeout(resolve, 5);
      });
    }
  };
  await judged(0);
  return { client, shot, told, judged };
}

const at = (frame: number, value: number) => setKey("point", "translation.x", frame, value);
const smooth = eased(6, 30, 0, 1);
/** Ends the connection as it ends when a feed dies: from the other side. */
const breakOff = () => clients.close();
const until = async (holds: () => boolean) => {
  while (!holds()) await new Promise((resolve) => setTimeout(resolve, 5));
};

describe("the client in TypeScript", () => {
  test("opens a shot, edits a key and keeps the notes", async () => {
    const { client, shot, told, judged } = await opened();
    const before = shot.notes;
    await shot.edit([at(18, 3)]);
    await judged(1);
    const pop = shot.notes.find(({ check }) => check === "pop");
    expect(pop?.keys[0]).toMatchObject({ node: "point", channel: "translation.x", frame: 18 });
    expect(pop?.rank?.plainness).toBeGreaterThan(0);
    const about = await shot.explain(pop?.fingerprint ?? "");
    expect(about).toMatchObject({ check: { name: "pop" }, note: { message: pop?.message } });
    await shot.edit([at(18, smooth(18))]);
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
    const refused = await shot
      .edit([moveKey("point", "translation.x", 18.5, 3)])
      .catch((error: FeedError) => error);
    expect(refused).toMatchObject({
      reason: "bad-edit",
      message: expect.stringContaining("There is no key"),
    });
    await shot.edit([at(18, 3)]);
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
    await expect(shot.edit([at(18, 3)])).rejects.toThrow();
    await expect(client.explain("pop")).rejects.toThrow();
  });

  test("queues edits without waiting, and folds those of one key while the feed is busy", async () => {
    const { client, shot, judged } = await opened();
    for (let step = 1; step <= 200; step++) shot.queue([at(18, step / 100)]);
    expect(shot.waiting).toBe(1);
    await until(() => shot.isSettled);
    expect(shot.revision).toBeLessThan(20);
    const pop = shot.notes.find(({ check }) => check === "pop");
    expect(pop?.keys[0]?.frame).toBe(18);
    shot.queue([at(18, 5)]);
    const edit = shot.edit([at(18, smooth(18))]);
    shot.queue([at(19, smooth(19))]);
    await edit;
    await until(() => shot.isSettled);
    await judged(shot.revision);
    expect(shot.notes.map(({ check }) => check)).not.toContain("pop");
    client.close();
  });

  test("refuses what is no edit with a sentence, and counts no revision for it", async () => {
    const { client, shot, judged } = await opened();
    const odd: [unknown, string][] = [
      [at(18, Number.NaN), 'The value of the key of "translation.x" of "point" at frame 18 is NaN'],
      [at(Number.POSITIVE_INFINITY, 1), "is Infinity; it has to be a finite number"],
      [at(18, 1e13), "is 10000000000000"],
      [
        { ...at(18, 1), channel: "translation.w" },
        'There is no channel "translation.w"; there are translation.x',
      ],
      [{ ...at(18, 1), node: "pint" }, 'The shot has no node "pint".'],
      [{ ...at(18, 1), node: "" }, "names its node"],
      [{ ...at(18, 1), kind: "sett" }, 'not "sett"'],
      [{ ...at(18, 1), value: "3" }, 'is "3"'],
      [{ ...at(18, 1), channel: "rotation" }, "quaternion [x, y, z, w]"],
      [{ ...at(18, 1), channel: "rotation", value: [0, 0, 0, 0] }, "no rotation"],
      [{ ...at(18, 1), interpolation: "wavy" }, 'no interpolation "wavy"'],
      [{ ...at(18, 1), handles: { in: [1, 2, 3] } }, "[frames, value] or a slope"],
      [{ ...at(18, 1), handles: { out: [1, Number.NaN] } }, "is NaN"],
      [moveKey("point", "translation.x", 18, Number.NaN), "The new frame of"],
    ];
    for (const [edit, sentence] of odd) {
      expect(() => shot.queue([at(19, 1), edit as KeyEdit])).toThrow(EditError);
      await expect(shot.edit([edit as KeyEdit])).rejects.toThrow(sentence);
    }
    expect(shot.revision).toBe(0);
    expect(shot.waiting).toBe(0);
    shot.queue([at(18, 3)]);
    await judged(1);
    client.close();
  });

  test("tells which queued edits the feed refused, and makes the others", async () => {
    const refusals: Refusal[] = [];
    const { client, shot } = await opened({ onRefused: (_, refusal) => refusals.push(refusal) });
    const missing = removeKey("point", "translation.x", 18.5);
    shot.queue([at(18, 3), missing]);
    await until(() => shot.isSettled);
    expect(refusals).toMatchObject([{ edits: [missing], error: { reason: "bad-edit" } }]);
    expect(shot.revision).toBe(1);
    expect(shot.notes.map(({ check }) => check)).toContain("pop");
    client.close();
  });

  test("where the queue is full, takes the tool's own document, or refuses", async () => {
    const { client, shot } = await opened({ queueLimit: 2 });
    shot.queue([at(1, 0)]);
    shot.queue([at(2, 0), at(3, 0)]);
    expect(() => shot.queue([at(4, 0)])).toThrow(QueueFull);
    shot.queue([at(3, 0.1)]);
    expect(shot.waiting).toBe(2);
    await until(() => shot.isSettled);
    client.close();
    let asked = 0;
    const popped = pointDocument(
      { "translation.x": everyFrame(1, 40, (f) => (f === 18 ? 3 : smooth(f))) },
      { range: [1, 40] },
    );
    const documentNow = () => {
      asked++;
      return { document: popped };
    };
    const second = await opened({ queueLimit: 2, documentNow });
    second.shot.queue([at(1, 0)]);
    second.shot.queue([at(2, 0), at(3, 0)]);
    second.shot.queue([at(18, 3)]);
    await until(() => second.shot.isSettled);
    expect(asked).toBe(1);
    expect(second.shot.notes.find(({ check }) => check === "pop")?.keys[0]?.frame).toBe(18);
    second.client.close();
  });

  test("calls back only when the tool polls, where it chose so", async () => {
    const { client, shot, told, judged } = await opened({}, { callbacks: "poll" });
    expect(told).toEqual([]);
    expect(client.poll()).toBe(1);
    expect(told).toHaveLength(1);
    shot.queue([at(18, 3)]);
    await judged(1);
    shot.queue([at(19, smooth(19))]);
    await judged(2);
    expect(told).toHaveLength(1);
    expect(client.poll()).toBe(1);
    expect(told[1]).toMatchObject({ revision: 2 });
    expect(told[1]?.added.map(({ check }) => check)).toContain("pop");
    expect(client.poll()).toBe(0);
    client.close();
  });

  test("hears what has been found so far on the edited node; a tool that polls, only what notes have not overtaken", async () => {
    // A clock that runs away: each look at it is a long time later.
    let clock = 0;
    const slow = () => {
      clock += 50;
      return clock;
    };
    const environment = () => ({ ...nodeEnvironment(), timers: { ...nodeTimers, now: slow } });
    const slowClients = new Clients(token, { message: 1 << 20, idle: 0, clients: 2 }, environment);
    const slowListener = await listenOnWebSocket(slowClients, "127.0.0.1", 0, []);
    const session = async (callbacks: "at once" | "poll") => {
      const socket = new WebSocket(`ws://127.0.0.1:${slowListener.port}`);
      const client = await FeedClient.connect(socket, token, { callbacks });
      const heard: NotesSoFar[] = [];
      const shot = await client.openShot("a", { document, onSoFar: (_, soFar) => heard.push(soFar) });
      await until(() => shot.judgedRevision === 0);
      await shot.edit([at(18, 3)]);
      await until(() => shot.judgedRevision === 1);
      client.poll();
      client.close();
      return heard;
    };
    const heard = (await session("at once")).filter(({ revision }) => revision === 1);
    expect(heard.length).toBeGreaterThan(1);
    const shares = heard.map(({ share }) => share);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(heard[heard.length - 1].notes.map(({ check, node }) => `${node} ${check}`)).toContain("point pop");
    expect(await session("poll")).toEqual([]);
    const closed = slowListener.close();
    slowClients.close();
    await closed;
  });

  test("finds a fix, whose edits clear the note; undo is made of edits too", async () => {
    const { client, shot } = await opened();
    const before = shot.notes;
    await shot.edit([at(18, 3)]);
    await until(() => shot.isSettled);
    const pop = shot.notes.find(({ check }) => check === "pop");
    const answer = await shot.fix(pop?.fingerprint ?? "");
    const fix = answer["fix"] as { edits: KeyEdit[] };
    expect(answer["revision"]).toBe(shot.revision);
    shot.queue(fix.edits);
    await until(() => shot.isSettled);
    expect(shot.notes.map(({ fingerprint }) => fingerprint)).not.toContain(pop?.fingerprint);
    shot.queue([at(18, smooth(18))]);
    await until(() => shot.isSettled);
    expect(shot.notes).toEqual(before);
    client.close();
  });

  test("waives a note, and takes the waiver back", async () => {
    const { client, shot } = await opened();
    await shot.edit([at(18, 3)]);
    await until(() => shot.isSettled);
    const pop = shot.notes.find(({ check }) => check === "pop")?.fingerprint ?? "";
    const waiver = await shot.waive(pop, "She hiccups.", "Ana");
    expect(waiver).toMatchObject({ check: "pop", node: "point", reason: "She hiccups.", by: "Ana" });
    await until(() => shot.isSettled);
    expect(shot.notes.map(({ fingerprint }) => fingerprint)).not.toContain(pop);
    await shot.setWaivers([]);
    await until(() => shot.isSettled);
    expect(shot.notes.map(({ fingerprint }) => fingerprint)).toContain(pop);
    client.close();
  });

  test("says when the feed has gone, and opens the tool's own document on the next", async () => {
    let value = smooth(18);
    const documentNow = () => ({
      document: pointDocument(
        { "translation.x": everyFrame(1, 40, (f) => (f === 18 ? value : smooth(f))) },
        { range: [1, 40] },
      ),
    });
    const gone: string[] = [];
    const { client, shot } = await opened(
      { documentNow, waivers: [] },
      { onGone: (_, why) => gone.push(why) },
    );
    const other = await client.openShot("b", { document });
    const clean = shot.notes.map(({ fingerprint }) => fingerprint);
    shot.queue([at(19, smooth(19))]);
    breakOff();
    await until(() => gone.length > 0);
    expect(gone).toEqual(["The connection to the feed ended."]);
    value = 3;
    // The document that is asked for holds this edit.
    shot.queue([at(18, value)]);
    expect(() => other.queue([at(18, value)])).toThrow(FeedGone);
    await expect(shot.edit([at(18, value)])).rejects.toThrow(FeedGone);
    expect(shot.notes.map(({ fingerprint }) => fingerprint)).toEqual(clean);
    expect(await client.restart(socket())).toEqual(["b"]);
    await until(() => shot.isSettled);
    expect(shot.notes.find(({ check }) => check === "pop")?.keys[0]?.frame).toBe(18);
    shot.queue([at(18, smooth(18))]);
    await until(() => shot.isSettled);
    expect(shot.notes.map(({ fingerprint }) => fingerprint)).toEqual(clean);
    client.close();
    expect(gone).toHaveLength(1);
  });

  test("knows the channels and interpolations of the core", () => {
    expect([...channelNames].sort()).toEqual([...channels].sort());
    expect([...interpolationNames].sort()).toEqual([...interpolations].sort());
  });

  test("has notes in the order of reports: by how plainly they are seen, a major one twice as much, and polish last", () => {
    const note = (tier: FeedNote["tier"], weight: number, plainness?: number) =>
      ({
        tier,
        weight,
        frames: [1, 2],
        fingerprint: `${tier} ${weight}`,
        ...(plainness === undefined ? {} : { rank: { plainness } }),
      }) as unknown as FeedNote;
    const sorted = [
      note("minor", 0.95, 9),
      note("major", 0.7, 3),
      note("minor", 0.95, 5),
      note("major", 0.9, 1),
      note("major", 0.9),
      note("minor", 0.9),
      note("polish", 0.4, 20),
    ];
    expect([...sorted].reverse().sort(inOrder)).toEqual(sorted);
    // As the core has them.
    const standing = ({ tier, rank }: FeedNote) => standingOf(tier, rank?.plainness ?? 0);
    const standings = sorted.slice(0, -1).map(standing);
    expect([...standings].sort((a, b) => b - a)).toEqual(standings);
  });

  test("knows notes as the feed sends them", () => {
    expectTypeOf<SentNote>().toExtend<Omit<FeedNote, "expected" | "measured">>();
    expectTypeOf<SentChange["gone"]>().toExtend<NotesChanged["gone"]>();
    expectTypeOf<keyof SentChange>().toEqualTypeOf<keyof NotesChanged>();
    expectTypeOf<keyof SentSoFar>().toEqualTypeOf<keyof NotesSoFar>();
    expectTypeOf<keyof SentNote>().toEqualTypeOf<keyof FeedNote>();
  });

  test("needs nothing at run time, so that a page can load it as it is", () => {
    const folder = new URL("../../../packages/adapters/clients/typescript/", import.meta.url);
    const files = readdirSync(folder).filter((name) => name !== "start-feed.ts");
    expect(files).toContain("client.ts");
    for (const file of files) {
      const source = readFileSync(new URL(file, folder), "utf8");
      const names = [...source.matchAll(/^(?:import|export) (?!type )[^;]*? from "([^"]+)"/gm)].map(
        ([, name]) => name,
      );
      expect(names.filter((name) => !name?.startsWith("./"))).toEqual([]);
    }
  });
});

describe("what people say", () => {
  test("is added, changed, marked and told back beside its keys, with how far a part is from its target", async () => {
    const { id: node } = document.nodes[0];
    const told: number[] = [];
    const { client, shot } = await opened({ onReview: ({ remarks }) => told.push(remarks.length) });
    const plane = { origin: [0, 0, 0], normal: [0, 0, 1] } as const;
    const [id] = await shot.changeReview(
      [
        {
          kind: "add",
          remark: {
            text: "Along here.",
            weight: "must",
            node,
            frames: [10, 12],
            strokes: [
              {
                frame: 10,
                plane: { origin: [...plane.origin], normal: [...plane.normal] },
                points: [
                  [0, 0.2, 0],
                  [1, 0.2, 0],
                ],
                target: { node, frames: [10, 12] },
              },
            ],
          },
        },
      ],
      "Ada",
    );
    await expect.poll(() => shot.remarks.length).toBe(1);
    expect(shot.remarks).toMatchObject([
      { id, text: "Along here.", weight: "must", by: "Ada", state: "open" },
    ]);
    expect(shot.remarks[0].keys.map(({ frame }) => frame)).toEqual([10, 11, 12]);
    // The point runs along the ground, and the line lies 20 cm over it.
    expect(shot.remarks[0].targets[0].mean).toBeCloseTo(0.2, 6);
    shot.queue([setKey(node, "translation.y", 1, 0.1)]);
    await expect.poll(() => shot.remarks[0].targets[0].mean).toBeCloseTo(0.1, 6);
    await shot.changeReview([{ kind: "mark", of: id, state: "done" }], "Ada");
    await expect.poll(() => shot.remarks[0].state).toBe("done");
    await expect(shot.changeReview([{ kind: "remove", id: "nothing" }], "Ada")).rejects.toMatchObject({
      reason: "bad-review",
    });
    expect(await shot.setReview({ format: "keyside.review", version: 1, entries: [null] })).toEqual([]);
    await expect.poll(() => shot.remarks.length).toBe(0);
    expect(told.length).toBeGreaterThan(3);
    client.close();
  });
});
