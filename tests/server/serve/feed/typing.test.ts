import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { defaultSettings } from "../../../../packages/core/settings/resolve.ts";
import { diagnosticsOf } from "../../../../packages/server/serve/feed/diagnostics.ts";
import { ShotDocument } from "../../../../packages/server/serve/feed/shot-document.ts";
import { poppingDocument } from "../../cli/shots-for-tests.ts";
import { Client } from "./client.ts";
import { popping } from "./shots.ts";

const uri = "file:///shots/pier.curves.json";

/** Diagnostics of a text that is opened as it is. */
function fresh(text: string): unknown {
  const document = ShotDocument.open({ uri, version: 1, text, languageId: "json" }, "utf-16") as ShotDocument;
  return judged(document);
}

function judged(document: ShotDocument): unknown {
  document.settings = defaultSettings(registry);
  for (const _ of document.judge());
  return diagnosticsOf(document, { lightestTier: "polish", checkPages: null, takes: takesAll });
}

const takesAll = { related: true, codeDescription: true, data: true, needless: true, version: true };
const codes = (of: unknown) => (of as { code: string }[]).map(({ code }) => code);

describe("a document that is typed", () => {
  test("is answered after each character, and keeps the notes of the parts that still read", async () => {
    const client = await Client.start();
    await client.open(uri, "");
    await client.diagnostics(uri, 1);
    let version = 1;
    let firstPop = 0;
    for (let at = 0; at < popping.length; at++) {
      const lines = popping.slice(0, at).split("\n");
      const position = [lines.length - 1, lines[lines.length - 1].length] as const;
      await client.change(uri, ++version, popping[at], [position, position]);
      const { diagnostics } = await client.diagnostics(uri, version);
      if (firstPop === 0 && codes(diagnostics).includes("pop")) firstPop = at;
      // Once the frames around the pop are there, it is told, though the document is still open at its end.
      if (firstPop > 0) expect(codes(diagnostics)).toContain("pop");
    }
    expect(firstPop).toBeGreaterThan(popping.indexOf("[48,"));
    expect(firstPop).toBeLessThan(popping.indexOf("[60,"));
    expect((await client.diagnostics(uri, version)).diagnostics).toEqual(fresh(popping));
    await client.stop();
  });

  test("says the same as one that was opened so, at each character of a demo shot's middle", () => {
    const text = readFileSync(
      new URL("../../../../demo/shots/jetty_0040_v1.curves.json", import.meta.url),
      "utf8",
    );
    const from = text.indexOf('"curves"') + 2000;
    const typed = text.slice(from, from + 160);
    const document = ShotDocument.open(
      { uri, version: 1, text: text.slice(0, from) + text.slice(from + typed.length), languageId: "json" },
      "utf-16",
    ) as ShotDocument;
    judged(document);
    for (let at = 0; at < typed.length; at++) {
      const position = document.text.positionAt(from + at);
      document.change([{ range: { start: position, end: position }, text: typed[at] }], at + 2);
      const now = judged(document);
      if (at % 8 === 0 || at === typed.length - 1) expect(now).toEqual(fresh(document.text.text));
    }
    expect(document.text.text).toBe(text);
    // The whole shot is judged after each character, which takes its time on a busy machine.
  });

  const document = poppingDocument();
  const sway = {
    node: "sign",
    channel: "rotation.x" as const,
    keys: [
      [1, 0],
      [48, 5],
      [96, 0],
    ] as [number, number][],
  };
  const two = writeDocument({ ...document, curves: [...document.curves, sway] });

  test.each([
    ["a value that is missing", '"frameRate": 24', '"frameRate": '],
    ["a text that is not closed", '"name": "pier_0010",', '"name": "pier_0010'],
    ["a comma that is missing", "[60, ", "[60 "],
    ["a number that is half-written", "[60, ", "[60, 1e, "],
    ["a bracket that is missing", "[60, ", "60, "],
    ["a brace too many", '"nodes": [', '"nodes": [ {'],
    ["a half-written name in another curve", '"channel": "rotation.x"', '"x": "half "channel": "rotation.x"'],
    ["another curve without its end", "[96, 0]", "[96"],
    ["another curve that has just begun", '{ "node": "sign", "ch', '{ "no'],
  ])("keeps the notes of what still reads beside %s", (_, whole, half) => {
    expect(two).toContain(whole);
    expect(codes(fresh(two))).toContain("pop");
    const found = codes(fresh(two.replace(whole, half)));
    expect(found).toContain("pop");
    expect(found.length).toBeGreaterThan(1);
  });

  test("keeps the notes of what comes before its end", () => {
    expect(codes(fresh(popping.slice(0, popping.indexOf("[90,"))))).toEqual(
      expect.arrayContaining(["cut-off", "pop"]),
    );
  });
});
