import { afterEach, describe, expect, test, vi } from "vitest";
import type { Diagnostic } from "vscode-languageserver/node";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import type { DiagnosticData } from "../../../../packages/server/serve/feed/diagnostics.ts";
import { ShotDocument } from "../../../../packages/server/serve/feed/shot-document.ts";
import { bipedDocument } from "../../../support/shots.ts";
import { bvh } from "../../cli/shots-for-tests.ts";
import { Client, type ClientOptions } from "./client.ts";
import { clean, cleanKey, lineOfFrame, only, popLine, popping, poppingKey } from "./shots.ts";

const uri = "file:///shots/pier.curves.json";
let client: Client;
const start = async (options: ClientOptions = {}) => {
  client = await Client.start(options);
};
afterEach(() => client.stop());

const line = [
  [popLine, 0],
  [popLine, 999],
] as const;
const codes = ({ diagnostics }: { diagnostics: readonly Diagnostic[] }) =>
  diagnostics.map(({ code }) => code);

describe("diagnostics that are pushed", () => {
  test("stand on the key that causes the note, and go when it is fixed", async () => {
    await start();
    await client.open(uri, popping);
    const { diagnostics, version } = await client.diagnostics(uri, 1);
    expect(version).toBe(1);
    const pop = diagnostics.find(({ code }) => code === "pop");
    expect(pop?.range).toEqual({
      start: { line: popLine, character: poppingKey.indexOf("[") },
      end: { line: popLine, character: poppingKey.lastIndexOf("]") + 1 },
    });
    expect(pop).toMatchObject({ source: "keyside", severity: 2 });
    await client.change(uri, 2, cleanKey, line);
    expect(codes(await client.diagnostics(uri, 2))).not.toContain("pop");
  });

  test("carry the note, without its series", async () => {
    await start();
    await client.open(uri, popping);
    const { diagnostics } = await client.diagnostics(uri, 1);
    const data = diagnostics.find(({ code }) => code === "pop")?.data as DiagnosticData;
    expect(data).toMatchObject({ check: "pop", tier: "major", node: "post" });
    expect(data.fingerprint).toMatch(/^[0-9a-f]{16}$/);
    expect(data.keys?.[0]).toMatchObject({ node: "post", channel: "rotation.z", frame: 48 });
    expect(data.measured?.value).toBeGreaterThan(0);
    expect(data.frames?.[0]).toBeLessThanOrEqual(48);
    expect(data).not.toHaveProperty("evidence");
  });

  test("are empty for a clean document and for one that was closed", async () => {
    await start({ initializationOptions: only("pop") });
    await client.open(uri, popping);
    await client.diagnostics(uri, ({ diagnostics }) => diagnostics.length > 0);
    await client.close(uri);
    await client.diagnostics(uri, ({ diagnostics }) => diagnostics.length === 0);
    const before = client.published.length;
    await client.open(uri, clean);
    await client.until(() => client.published.length > before);
    expect(client.published.slice(before)).toEqual([{ uri, version: 1, diagnostics: [] }]);
  });

  test("stay as they were where judging fails", async () => {
    await start();
    await client.open(uri, popping);
    await client.diagnostics(uri, 1);
    const before = client.published.length;
    const judge = vi.spyOn(ShotDocument.prototype, "judge").mockImplementation(function* () {
      yield 1;
      throw new Error("out of numbers");
    });
    await client.change(uri, 2, cleanKey, line);
    await client.until(() => client.logged.some((text) => text.includes("out of numbers")));
    expect(client.published.length).toBe(before);
    judge.mockRestore();
    await client.change(uri, 3, cleanKey, line);
    expect(codes(await client.diagnostics(uri, 3))).not.toContain("pop");
  });

  test("lead to the check's page, where there is one", async () => {
    await start({ environment: { checkPages: "https://pages.example/" } });
    await client.open(uri, popping);
    const { diagnostics } = await client.diagnostics(uri, 1);
    expect(diagnostics.find(({ code }) => code === "pop")?.codeDescription).toEqual({
      href: "https://pages.example/pop.md",
    });
  });

  test("have the weight of their tier, errors for what is broken", async () => {
    await start();
    const broken = popping.replace("[20, ", "[19, ").replace('"parent": "post"', '"parent": "pots"');
    await client.open(uri, broken);
    const { diagnostics } = await client.diagnostics(uri, 1);
    for (const { severity, data } of diagnostics) {
      const { tier } = data as DiagnosticData;
      expect(severity).toBe({ broken: 1, major: 2, minor: 3, polish: 4 }[tier]);
    }
    const errors = diagnostics.filter(({ severity }) => severity === 1);
    expect(errors.map(({ range }) => range.start.line).sort((a, b) => a - b)).toEqual([
      broken.split("\n").findIndex((text) => text.includes("pots")),
      lineOfFrame(broken, 19),
    ]);
    // The rest is judged all the same.
    expect(codes({ diagnostics })).toContain("pop");
  });

  test("fade what is there for nothing", async () => {
    await start();
    const text = writeDocument(
      bipedDocument({
        "hips translation.x": [
          [1, 0],
          [24, 1],
        ],
        "hips translation.y": [
          [1, 0.95],
          [12, 0.95],
          [24, 0.95],
        ],
      }),
    );
    await client.open(uri, text);
    const { diagnostics } = await client.diagnostics(uri, 1);
    const idle = diagnostics.find(({ code }) => code === "idle-curve") as Diagnostic;
    expect(idle.tags).toEqual([1]);
    expect(text.split("\n")[idle.range.start.line]).toContain("0.95");
  });

  test("point to the other keys of a note", async () => {
    await start();
    // Two frames off their path: the key behind the one that pops stands as far off.
    const twice = popping.replace(/\[49, ([-\d.]+)\]/, (_, value) => `[49, ${Number(value) + 25}]`);
    await client.open(uri, twice);
    const { diagnostics } = await client.diagnostics(uri, 1);
    const pop = diagnostics.find(({ code }) => code === "pop") as Diagnostic;
    const { keys } = pop.data as { keys: { frame: number }[] };
    expect(keys.length).toBeGreaterThan(1);
    const related = pop.relatedInformation ?? [];
    expect(related.map(({ location }) => location.range.start.line)).toEqual(
      keys.slice(1).map(({ frame }) => lineOfFrame(twice, frame)),
    );
    expect(related[0].location.uri).toBe(uri);
    expect(related[0].message).toMatch(/^post rotation\.z, frame \d+/);
  });

  test.each(["utf-16", "utf-8"])("count columns in %s where the client asks for it", async (encoding) => {
    // Keys on one line, behind names beyond ASCII.
    const oneLine = popping
      .replaceAll('"post"', '"pöst😀"')
      .replace(/"keys": \[\n\s*/, '"keys": [')
      .replace(/\],\n\s*\[/g, "], [");
    const row = oneLine.split("\n").findIndex((text) => text.includes("[48,"));
    const before = oneLine.split("\n")[row].split("[48,")[0];
    expect(before).toContain("pöst😀");
    await start({ capabilities: { general: { positionEncodings: [encoding] } } });
    expect(client.result.capabilities.positionEncoding).toBe(encoding);
    await client.open(uri, oneLine);
    const pop = (await client.diagnostics(uri, 1)).diagnostics.find(({ code }) => code === "pop");
    const character = encoding === "utf-8" ? Buffer.byteLength(before) : before.length;
    expect(pop?.range.start).toEqual({ line: row, character });
    await client.change(uri, 2, "[46", [
      [row, character],
      [row, character + 3],
    ]);
    // Now two keys stand at frame 46, which only an edit at the right place brings about.
    expect(codes(await client.diagnostics(uri, 2))).toContain("duplicate-key");
  });

  test("are of many documents at once, each its own", async () => {
    await start({ initializationOptions: only("pop") });
    const uris = Array.from({ length: 20 }, (_, i) => `file:///shots/${i}.curves.json`);
    await Promise.all(uris.map((each, i) => client.open(each, i % 2 === 0 ? popping : clean)));
    for (const [i, each] of uris.entries()) {
      expect(codes(await client.diagnostics(each, 1))).toEqual(i % 2 === 0 ? ["pop"] : []);
    }
  });

  test("are of other files that are open, such as captured motion", async () => {
    await start();
    const walk = "file:///shots/walk.bvh";
    await client.open(walk, bvh(["0 90 0 0 0 0 0 0 0", "0 90 x 0 0 0 0 0 0"]));
    expect((await client.diagnostics(walk, 1)).diagnostics[0]).toMatchObject({ severity: 1 });
    await client.change(walk, 2, bvh(["0 90 0 0 0 0 0 0 0", "0 90 0 0 0 0 0 0 0"]));
    const { diagnostics } = await client.diagnostics(walk, 2);
    expect(diagnostics.filter(({ severity }) => severity === 1)).toEqual([]);
  });

  test("are the same whether an editor sends changes or whole texts", async () => {
    await start();
    await client.open(uri, popping);
    await client.change(uri, 2, clean);
    const whole = (await client.diagnostics(uri, 2)).diagnostics;
    await client.change(uri, 3, poppingKey, line);
    await client.change(uri, 4, cleanKey, line);
    expect((await client.diagnostics(uri, 4)).diagnostics).toEqual(whole);
  });
});
