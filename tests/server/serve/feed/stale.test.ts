import { afterEach, describe, expect, test } from "vitest";
import { readShot } from "../../../../packages/core/document/read.ts";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { ShotDocument } from "../../../../packages/server/serve/feed/shot-document.ts";
import { bipedDocument, everyFrame } from "../../../support/shots.ts";
import { Client } from "./client.ts";
import { clean, cleanKey, popLine, popping, poppingKey } from "./shots.ts";

const uri = "file:///shots/pier.curves.json";
let client: Client;
afterEach(() => client.stop());
const line = [
  [popLine, 0],
  [popLine, 999],
] as const;
const hasPop = ({ diagnostics }: { diagnostics: readonly { code?: unknown }[] }) =>
  diagnostics.some(({ code }) => code === "pop");

/** Counts how often documents are judged to the end. */
function countJudgements(): { count: number } {
  const counter = { count: 0 };
  const { judge } = ShotDocument.prototype;
  ShotDocument.prototype.judge = function* () {
    yield* judge.call(this);
    counter.count++;
  };
  stops.push(() => {
    ShotDocument.prototype.judge = judge;
  });
  return counter;
}
const stops: (() => void)[] = [];
afterEach(() => {
  for (const stop of stops.splice(0)) stop();
});

describe("a flood of edits", () => {
  test("never gets notes of an older text after a newer edit, and folds what queues up", async () => {
    client = await Client.start();
    await client.open(uri, popping);
    await client.diagnostics(uri, 1);
    const counter = countJudgements();
    let sent = 1;
    const late: number[] = [];
    client.connection.onNotification(
      "textDocument/publishDiagnostics",
      (params: { version: number; diagnostics: { code?: unknown }[] }) => {
        client.published.push({ uri, ...params } as never);
        // Even versions are clean, odd ones pop: notes that do not fit their version are notes of another text.
        if (hasPop(params) !== (params.version % 2 === 1)) late.push(params.version);
      },
    );
    const edits = 600;
    for (let version = 2; version <= edits + 1; version++) {
      sent = version;
      void client.change(uri, version, version % 2 === 0 ? cleanKey : poppingKey, line);
      if (version % 50 === 0) await new Promise((resolve) => setTimeout(resolve, 3));
    }
    await new Promise<void>((resolve) => {
      const wait = setInterval(() => {
        if (client.published.at(-1)?.version !== sent) return;
        clearInterval(wait);
        resolve();
      }, 2);
    });
    const versions = client.published.map(({ version }) => version ?? 0);
    expect(late).toEqual([]);
    expect(versions).toEqual([...versions].sort((a, b) => a - b));
    expect(counter.count).toBeLessThan(edits / 2);
  });

  test("across documents leaves each with its own newest notes", async () => {
    client = await Client.start();
    const uris = Array.from({ length: 6 }, (_, i) => `file:///shots/${i}.curves.json`);
    for (const each of uris) void client.open(each, popping);
    for (let version = 2; version <= 40; version++) {
      for (const each of uris)
        void client.change(each, version, version % 2 === 0 ? cleanKey : poppingKey, line);
    }
    for (const each of uris) expect(hasPop(await client.diagnostics(each, 40))).toBe(false);
  });
});

describe("a long computation", () => {
  const long = writeDocument(
    bipedDocument(
      Object.fromEntries(
        ["hips", "chest", "upper_arm_l", "upper_arm_r", "thigh_l", "thigh_r"].flatMap((node) =>
          ["x", "y", "z"].map((axis) => [
            `${node} rotation.${axis}`,
            everyFrame(1, 1500, (frame) => 10 * Math.sin(frame / 7)),
          ]),
        ),
      ),
    ),
  );

  test("lets questions and edits of other documents be answered first", async () => {
    client = await Client.start();
    const order: string[] = [];
    const other = "file:///shots/long.curves.json";
    await client.open(uri, popping);
    await client.diagnostics(uri, 1);
    const longDone = client.open(other, long).then(() => client.diagnostics(other, 1));
    void longDone.then(() => order.push("long"));
    const folds = client.request("textDocument/foldingRange", { textDocument: { uri } });
    void folds.then(() => order.push("question"));
    await Promise.all([longDone, folds]);
    expect(order).toEqual(["question", "long"]);
  });

  test("is given up for a newer edit of its own", async () => {
    const counter = countJudgements();
    client = await Client.start();
    await client.open(uri, long);
    await client.change(uri, 2, clean);
    await client.diagnostics(uri, 2);
    expect(client.published.map(({ version }) => version)).toEqual([2]);
    expect(counter.count).toBe(1);
    expect(readShot(long).problems).toEqual([]);
  });
});
