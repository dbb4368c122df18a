import { afterEach, describe, expect, test } from "vitest";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { addRemark, decide, markRemark } from "../../../../packages/core/review/change.ts";
import { printReview } from "../../../../packages/core/review/print.ts";
import { emptyReview, type ReviewFile } from "../../../../packages/core/review/schema.ts";
import { diskFiles } from "../../../../packages/server/base/files/read.ts";
import { eased, everyFrame, pointDocument } from "../../../support/shots.ts";
import { Client } from "./client.ts";

/** What people say of a shot, to an editor. */

const uri = "file:///shots/pier.curves.json";
const path = "/shots/pier.review.json";
const said = { by: "Ada", date: "2031-04-02T09:30:00Z" };
const document = (rise: number) =>
  writeDocument(
    pointDocument({
      "translation.x": everyFrame(1, 72, eased(6, 60, 0, 2)),
      "translation.y": everyFrame(1, 72, () => rise),
    }),
  );
const node = JSON.parse(document(0)).nodes[0].id as string;

let client: Client;
afterEach(() => client.stop());

/** Opens the document with a review beside it, which can be changed. */
async function open(review: ReviewFile, text = document(0)) {
  const held = { content: printReview(review) };
  const files = {
    ...diskFiles,
    kind: async (asked: string) => (asked === path ? ("file" as const) : null),
    read: async (asked: string) => new TextEncoder().encode(asked === path ? held.content : ""),
    stamp: async () => held.content,
  };
  client = await Client.start({
    capabilities: { workspace: { didChangeWatchedFiles: { dynamicRegistration: true } } },
    environment: { files },
  });
  await client.open(uri, text);
  return held;
}
const remarksIn = (diagnostics: readonly { source?: string | undefined }[]) =>
  diagnostics.filter(({ source }) => source === "keyside review");

describe("remarks of people", () => {
  test("stand at the first key of their frames, in words of their own, and by how much they matter", async () => {
    let review = emptyReview("pier");
    const add = (fields: Omit<Parameters<typeof addRemark>[1], "by" | "date">, id: string) => {
      review = addRemark(review, { ...fields, ...said }, id).review;
    };
    add({ text: "Slow it down.", weight: "must", node, frames: [20, 22] }, "a");
    add({ text: "More of this.", weight: "keep", node, frames: [40, 40] }, "b");
    add({ text: "The idea is clear.", weight: "could" }, "c");
    await open(review);
    const { diagnostics } = await client.diagnostics(uri, (told) => remarksIn(told.diagnostics).length === 3);
    const [a, b, c] = remarksIn(diagnostics) as typeof diagnostics;
    expect(a).toMatchObject({ code: "must", severity: 2, message: "Ada: Slow it down." });
    expect(b).toMatchObject({ code: "keep", severity: 4 });
    expect(c).toMatchObject({ code: "could", severity: 4 });
    const lines = document(0).split("\n");
    expect(lines[a.range.start.line].slice(a.range.start.character)).toMatch(/^\[20, /);
    expect(lines[b.range.start.line].slice(b.range.start.character)).toMatch(/^\[40, /);
    expect(a.relatedInformation).toHaveLength(5);
    expect(a.data).toMatchObject({ remark: "a", weight: "must", by: "Ada", node, frames: [20, 22] });
  });

  test("of another shot drop none of this one's notes", async () => {
    const rises = everyFrame(1, 72, (frame) => (frame === 30 ? 0.2 : 0));
    const popping = writeDocument(pointDocument({ "translation.y": rises }));
    const name: string = JSON.parse(popping).shot.name ?? "pier";
    const popsWith = async (shot: string) => {
      const dropped = { check: "pop", verdict: "dropped", reason: "A gust.", ...said } as const;
      await open(decide(emptyReview(shot), dropped).review, popping);
      const { diagnostics } = await client.diagnostics(uri);
      return diagnostics.filter(({ code }) => code === "pop").length;
    };
    expect(await popsWith(name)).toBe(0);
    await client.stop();
    expect(await popsWith("elsewhere")).toBe(1);
  });

  test("go once they are done, and come as the file changes", async () => {
    const { review } = addRemark(
      emptyReview("pier"),
      { text: "Slower.", node, frames: [20, 22], ...said },
      "a",
    );
    const held = await open(review);
    await client.diagnostics(uri, (told) => remarksIn(told.diagnostics).length === 1);
    held.content = printReview(markRemark(review, { of: "a", state: "done", ...said }).review);
    await client.connection.sendNotification("workspace/didChangeWatchedFiles", {
      changes: [{ uri: `file://${path}`, type: 2 }],
    });
    await client.diagnostics(uri, (told) => remarksIn(told.diagnostics).length === 0);
  });

  test("tell how far a part is from its target path, and tell it anew while keys are edited", async () => {
    const { review } = addRemark(
      emptyReview("pier"),
      {
        ...{ text: "Along the ground.", node, frames: [10, 50], ...said },
        strokes: [
          {
            frame: 10,
            plane: { origin: [0, 0, 0], normal: [0, 0, 1] },
            points: [
              [0, 0, 0],
              [2, 0, 0],
            ],
            target: { node, frames: [10, 50] },
          },
        ],
      },
      "a",
    );
    await open(review, document(0.25));
    const { diagnostics } = await client.diagnostics(uri, (told) => remarksIn(told.diagnostics).length === 1);
    // The point goes 25 cm over the line all along.
    expect((remarksIn(diagnostics) as typeof diagnostics)[0].message).toMatch(/25 cm from its target path/);
    await client.connection.sendNotification("textDocument/didChange", {
      textDocument: { uri, version: 2 },
      contentChanges: [{ text: document(0.1) }],
    });
    await client.diagnostics(uri, (told) =>
      (remarksIn(told.diagnostics) as typeof diagnostics).some(({ message }) =>
        /10 cm from/.test(String(message)),
      ),
    );
  });
});
