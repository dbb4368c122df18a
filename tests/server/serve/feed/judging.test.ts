import { describe, expect, test } from "vitest";
import { CancellationTokenSource, type Message, type MessageReader } from "vscode-languageserver/node";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { defaultSettings } from "../../../../packages/core/settings/resolve.ts";
import { Arrivals } from "../../../../packages/server/serve/feed/arrivals.ts";
import { Judging, type Outcome } from "../../../../packages/server/serve/feed/judging.ts";
import { ShotDocument } from "../../../../packages/server/serve/feed/shot-document.ts";
import { clean, popping } from "./shots.ts";
import { HandTimers } from "./timers.ts";

const uri = "file:///shots/pier.curves.json";

/** Judging with timers that go by hand, and a document that edits arrive for by hand. */
function bench() {
  const timers = new HandTimers();
  const arrivals = new Arrivals();
  let deliver: (message: Message) => void = () => {};
  const reader = {
    onError: () => ({ dispose() {} }),
    onClose: () => ({ dispose() {} }),
    onPartialMessage: () => ({ dispose() {} }),
    listen(callback: (message: Message) => void) {
      deliver = callback;
      return { dispose() {} };
    },
    dispose() {},
  } as MessageReader;
  arrivals.watch(reader).listen(() => {});
  const told: { version: number; pops: boolean }[] = [];
  const judging = new Judging(
    timers,
    arrivals,
    (judged) => {
      told.push({ version: judged.version, pops: judged.notes.some(({ check }) => check === "pop") });
    },
    (_, error) => {
      throw error;
    },
  );
  const document = ShotDocument.open(
    { uri, version: 1, text: popping, languageId: "json" },
    "utf-16",
  ) as ShotDocument;
  document.settings = defaultSettings(registry);
  return {
    timers,
    judging,
    document,
    told,
    /** An edit is there, and waits for its turn. */
    arrive() {
      const params = { textDocument: { uri, version: document.version + 1 }, contentChanges: [] };
      deliver({ jsonrpc: "2.0", method: "textDocument/didChange", params } as Message);
    },
    /** The edit's turn comes. */
    take(text: string) {
      arrivals.taken(uri);
      document.change([{ text }], document.version + 1);
      judging.request(document);
    },
  };
}

describe("judging a document", () => {
  test("does not tell of notes for which a newer edit has arrived, though its turn has not come", () => {
    const { timers, judging, document, told, arrive, take } = bench();
    judging.request(document);
    // Notes are computed, and would be told in the next turn.
    while (document.judgement !== "done") timers.turn();
    expect(told).toEqual([]);
    arrive();
    for (let i = 0; i < 20; i++) timers.turn();
    expect(told).toEqual([]);
    take(clean);
    timers.settle();
    expect(told).toEqual([{ version: 2, pops: false }]);
  });

  test("folds edits that arrived together into one computation", () => {
    const { timers, judging, document, told, arrive, take } = bench();
    judging.request(document);
    for (let i = 0; i < 30; i++) arrive();
    for (let i = 0; i < 30; i++) {
      timers.turn();
      take(i % 2 === 0 ? clean : popping);
    }
    timers.settle();
    expect(told).toEqual([{ version: 31, pops: true }]);
  });

  test("tells those who wait what came of it", async () => {
    const { timers, judging, document, take, arrive } = bench();
    const { token } = new CancellationTokenSource();
    const outcome = (waiting: Promise<Outcome>) => {
      timers.settle();
      return waiting;
    };
    judging.request(document);
    expect(await outcome(judging.judged(document, token))).toBe("judged");
    arrive();
    const early = judging.judged(document, token);
    take(clean);
    const late = judging.judged(document, token);
    expect(await early).toBe("newer");
    expect(await outcome(late)).toBe("judged");
    judging.request(document);
    const source = new CancellationTokenSource();
    const cancelled = judging.judged(document, source.token);
    source.cancel();
    expect(await cancelled).toBe("cancelled");
    const closed = judging.judged(document, token);
    judging.drop(document);
    expect(await closed).toBe("closed");
  });
});
