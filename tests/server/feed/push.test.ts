import { afterEach, describe, expect, test } from "vitest";
import { Client, type ClientOptions } from "./client.ts";
import { clean, cleanKey, popLine, popping, poppingKey } from "./shots.ts";

const uri = "file:///shots/pier.curves.json";
let client: Client;
const start = async (options: ClientOptions = {}) => {
  client = await Client.start(options);
};
afterEach(() => client.stop());

describe("diagnostics that are pushed", () => {
  test("stand on the key that causes the note, and go when it is mended", async () => {
    await start();
    await client.open(uri, popping);
    const { diagnostics, version } = await client.diagnostics(uri, 1);
    expect(version).toBe(1);
    const pop = diagnostics.find(({ code }) => code === "pop");
    const column = poppingKey.indexOf("[");
    expect(pop?.range).toEqual({
      start: { line: popLine, character: column },
      end: { line: popLine, character: poppingKey.lastIndexOf("]") + 1 },
    });
    expect(pop).toMatchObject({ source: "keyside", severity: 2, data: { check: "pop", tier: "major" } });
    const line = [
      [popLine, 0],
      [popLine, poppingKey.length],
    ] as const;
    await client.change(uri, 2, cleanKey, line);
    expect((await client.diagnostics(uri, 2)).diagnostics.map(({ code }) => code)).not.toContain("pop");
  });

  test("are empty for a clean document and for one that was closed", async () => {
    await start();
    await client.open(uri, popping);
    await client.diagnostics(uri, ({ diagnostics }) => diagnostics.length > 0);
    await client.close(uri);
    expect(
      (await client.diagnostics(uri, ({ diagnostics }) => diagnostics.length === 0)).diagnostics,
    ).toEqual([]);
    await client.open(uri, clean);
    const { diagnostics } = await client.diagnostics(uri, 1);
    expect(diagnostics.map(({ code }) => code)).not.toContain("pop");
  });
});
