import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { reportSchema } from "../../../packages/core/notes/report-schema.ts";
import { Workshop } from "./run-in-process.ts";
import { bvh, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
});
afterAll(() => shop.close());

interface Region {
  readonly startLine: number;
  readonly startColumn: number;
  readonly endLine: number;
  readonly endColumn: number;
}

interface Replacement {
  readonly deletedRegion: Region;
  readonly insertedContent: { readonly text: string };
}

/** Replacements made by their lines and columns alone, from the back, as any reader of SARIF would make them. */
function replaced(text: string, replacements: readonly Replacement[]): string {
  const lines = text.split(/(?<=\n)/);
  const offset = (line: number, column: number) =>
    lines.slice(0, line - 1).reduce((sum, { length }) => sum + length, 0) + column - 1;
  let after = text;
  for (const { deletedRegion: region, insertedContent } of [...replacements].reverse()) {
    const start = offset(region.startLine, region.startColumn);
    const end = offset(region.endLine, region.endColumn);
    after = after.slice(0, start) + insertedContent.text + after.slice(end);
  }
  return after;
}

async function resultsOf(name: string, ...argv: string[]) {
  const { stdout } = await shop.run(["check", name, "--format", "sarif", ...argv]);
  return JSON.parse(stdout).runs[0].results;
}

const demo = (name: string) =>
  readFileSync(fileURLToPath(new URL(`../../../demo/shots/${name}.curves.json`, import.meta.url)), "utf8");

describe("--fixes", () => {
  test.each([
    ["a document on one line", JSON.stringify(poppingDocument()), []],
    ["one with a key a line", JSON.stringify(poppingDocument(), null, 1), []],
    ["one with Windows' line ends", JSON.stringify(poppingDocument(), null, 1).replaceAll("\n", "\r\n"), []],
    ["a demo shot", demo("quay_0070_v1"), ["--only", "pop,hard-stop,hang-time"]],
  ])("each fix of %s, made by its regions alone, clears its note", async (_, text, argv) => {
    await shop.put("shot.curves.json", text);
    const before = await resultsOf("shot.curves.json", "--fixes", ...argv);
    const names = (results: typeof before) =>
      // biome-ignore lint/suspicious/noExplicitAny: a document of another standard is looked into
      results.map(({ partialFingerprints }: any) => partialFingerprints["keysideNote/v1"]);
    let fixes = 0;
    for (const { fixes: [fix] = [], partialFingerprints } of before) {
      if (fix === undefined) continue;
      fixes++;
      const [{ artifactLocation, replacements }] = fix.artifactChanges;
      expect(artifactLocation.uri).toBe("shot.curves.json");
      const after = replaced(text, replacements);
      expect(after).not.toBe(text);
      await shop.put("shot.curves.json", after);
      expect(names(await resultsOf("shot.curves.json", ...argv))).not.toContain(
        partialFingerprints["keysideNote/v1"],
      );
      await shop.put("shot.curves.json", text);
    }
    expect(fixes).toBeGreaterThan(0);
  });

  test("JSON tells the same, by its schema, and a run without it tells none", async () => {
    await shop.put("pop.curves.json", poppingDocument());
    const check = async (...argv: string[]) =>
      reportSchema.parse(JSON.parse((await shop.run(["check", "pop.curves.json", ...argv])).stdout));
    const [note] = (await check("--format", "json", "--fixes")).shots[0]?.notes ?? [];
    expect(note?.fix?.gone).toContain(note?.fingerprint);
    const [plain] = (await check("--format", "json")).shots[0]?.notes ?? [];
    expect(plain).not.toHaveProperty("fix");
  });

  test("results with and without fixes are kept apart", async () => {
    await shop.put("pop.curves.json", poppingDocument());
    const count = async (...argv: string[]) =>
      (await resultsOf("pop.curves.json", "--cache", "kept", ...argv)).filter(
        ({ fixes }: { fixes?: unknown }) => fixes !== undefined,
      ).length;
    const counts = [await count(), await count("--fixes"), await count(), await count("--fixes")];
    expect(counts[1]).toBeGreaterThan(0);
    expect(counts).toEqual([0, counts[1], 0, counts[1]]);
  });

  test("a shot that is no curve document has results and no fixes", async () => {
    const rows = Array.from({ length: 48 }, (_, i) => `0 90 0 ${i === 24 ? 60 : i} 0 0 0 0 0`);
    await shop.put("take.bvh", bvh(rows));
    const results = await resultsOf("take.bvh", "--fixes");
    expect(results.length).toBeGreaterThan(0);
    for (const { fixes, locations } of results) {
      expect(fixes).toBeUndefined();
      expect(locations[0].physicalLocation.region.startLine).toBeGreaterThan(0);
    }
  });

  test.each(["text", "junit", "html", "summary"])("%s has no place for them", async (format) => {
    const { code, stderr } = await shop.run(["check", "pop.curves.json", "--fixes", "--format", format]);
    expect(code).toBe(2);
    expect(stderr).toContain("--fixes is for sarif, json and jsonl");
  });
});

test("each result of a demo shot has a region with an end, also that of a note without a key", async () => {
  await shop.put("quay.curves.json", demo("quay_0070_v1"));
  const results = await resultsOf("quay.curves.json");
  expect(results.length).toBeGreaterThan(5);
  for (const { ruleId, locations } of results) {
    const { region } = locations[0].physicalLocation;
    expect(region, ruleId).toMatchObject({ endLine: expect.any(Number), endColumn: expect.any(Number) });
  }
});
