import { readFile } from "node:fs/promises";
import { Ajv2020 } from "ajv/dist/2020.js";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { reportJsonSchema, reportSchema } from "../../../packages/core/notes/report-schema.ts";
import { stackTrace, Workshop } from "./run-in-process.ts";
import { poppingDocument } from "./shots-for-tests.ts";

const shops: Workshop[] = [];
let shop: Workshop;
beforeEach(async () => {
  shop = await Workshop.open();
  shops.push(shop);
  await shop.put("pop.curves.json", JSON.stringify(poppingDocument(), null, 1));
});
afterAll(() => Promise.all(shops.map((one) => one.close())));

const waiver = { check: "pop", node: "post", frames: [47, 49], reason: "a gust", by: "J. Doe" };
const file = (...waivers: object[]) => ({ format: "keyside.waivers", version: 1, waivers });
const check = (...more: string[]) => shop.run(["check", "pop.curves.json", "--only", "pop", ...more]);

async function reportOf(...more: string[]) {
  const data = JSON.parse((await check("--format", "json", ...more)).stdout);
  const validate = new Ajv2020({ strict: false }).compile(reportJsonSchema());
  expect(validate(data), JSON.stringify(validate.errors)).toBe(true);
  return reportSchema.parse(data).shots[0];
}

/** Puts the waiver where it belongs: in the shot, or in the file beside it. */
const places: Record<string, (...waivers: object[]) => Promise<void>> = {
  "in the document": (...waivers) =>
    shop.put("pop.curves.json", JSON.stringify({ ...poppingDocument(), waivers }, null, 1)),
  "in the file beside it": (...waivers) => shop.put("pop.waivers.json", file(...waivers)),
};

describe.each(Object.keys(places))("a waiver %s", (place) => {
  const inDocument = place === "in the document";
  const put = (...waivers: object[]) => places[place](...waivers);

  test("takes its note out of the exit code, and lists it apart with its reason", async () => {
    expect((await check()).code).toBe(1);
    await put(waiver);
    const { code, stdout } = await check();
    expect(code).toBe(0);
    expect(stdout).toMatch(/^ {2}waived {2}48 +post +pop\n {10}a gust \(J\. Doe\)$/m);
    expect(stdout).toContain("1 note waived.");
    const shot = await reportOf();
    expect(shot.notes).toEqual([]);
    expect(shot.failing).toBe(false);
    expect(shot.waived).toMatchObject([
      { check: "pop", node: "post", waiver: { reason: "a gust", by: "J. Doe", inDocument } },
    ]);
  });

  test("that answers nothing is a note itself, which does not fail", async () => {
    await put({ ...waiver, frames: [60, 70] });
    const { notes, waived, failing } = await reportOf();
    expect(notes.map((note) => [note.check, note.tier])).toEqual([
      ["pop", notes[0].tier],
      ["unused-waiver", "polish"],
    ]);
    expect(waived ?? []).toEqual([]);
    expect(failing).toBe(true);
  });

  test("is over after the last revision it was given for", async () => {
    const shot = { ...poppingDocument().shot, revision: 3 };
    const of = (lastRevision: number) => ({ ...waiver, lastRevision });
    const write = async (one: object) => {
      const own = inDocument ? { waivers: [one] } : {};
      await shop.put("pop.curves.json", JSON.stringify({ ...poppingDocument(), shot, ...own }));
      if (!inDocument) await put(one);
    };
    await write(of(3));
    expect((await check()).code).toBe(0);
    await write(of(2));
    expect((await check()).code).toBe(1);
    expect((await reportOf()).notes.map((note) => note.check)).toContain("unused-waiver");
  });

  test("is left alone by keyside fix", async () => {
    await put(waiver);
    const { stdout } = await shop.run(["fix", "pop.curves.json", "--only", "pop"]);
    expect(stdout).toContain("Nothing to fix");
  });
});

describe("a file of waivers", () => {
  test("agrees with the schema that is published", async () => {
    const { stdout } = await shop.run(["schema", "waivers"]);
    const validate = new Ajv2020({ strict: false }).compile(JSON.parse(stdout));
    expect(validate(file(waiver)), JSON.stringify(validate.errors)).toBe(true);
    expect(validate(file({ check: "pop" }))).toBe(false);
  });

  test.each<[string, string]>([
    ["torn", '{ "format": "keyside.waivers", "version": 1, "waivers": [ {'],
    ["without a reason", JSON.stringify(file({ check: "pop" }), null, 1)],
    ["something else", "[]"],
  ])("%s is said with its place, and the shot is not judged without it", async (_, text) => {
    await shop.put("pop.waivers.json", text);
    const { code, stderr, stdout } = await check();
    expect(code).toBe(3);
    expect(`${stdout}${stderr}`).toContain("pop.waivers.json");
    expect(stderr).not.toMatch(stackTrace);
  });

  test("is read again when it changes, though the shot's result is kept", async () => {
    const cache = ["--cache", shop.path("kept")];
    expect((await check(...cache)).code).toBe(1);
    expect((await check(...cache)).code).toBe(1);
    await shop.put("pop.waivers.json", file(waiver));
    expect((await check(...cache)).code).toBe(0);
    expect((await reportOf(...cache)).waived).toHaveLength(1);
    await shop.put("pop.waivers.json", file({ ...waiver, frames: [60, 70] }));
    expect((await check(...cache)).code).toBe(1);
  });

  test("is not changed by anything", async () => {
    await shop.put("pop.waivers.json", file(waiver));
    const before = await readFile(shop.path("pop.waivers.json"), "utf8");
    await check();
    await shop.run(["fix", "pop.curves.json", "--write"]);
    expect(await readFile(shop.path("pop.waivers.json"), "utf8")).toBe(before);
  });
});
