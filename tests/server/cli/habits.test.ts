import { mkdir } from "node:fs/promises";
import { Ajv2020 } from "ajv/dist/2020.js";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { habitsSchema } from "../../../packages/server/present/report/habits-schema.ts";
import { Workshop } from "./run-in-process.ts";
import { cleanDocument, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await mkdir(shop.path("east"));
  await mkdir(shop.path("west"));
  for (let n = 0; n < 10; n++) {
    const put = (name: string, document: object, animators: readonly string[]) => {
      const { shot } = document as ReturnType<typeof cleanDocument>;
      return shop.put(name, { ...document, shot: { ...shot, animators } });
    };
    await put(`east/pier_${n}0_v1.curves.json`, poppingDocument(), ["Ada", "Ben"]);
    await put(`east/pier_${n}0_v2.curves.json`, cleanDocument(), ["Ada", "Ben"]);
    if (n < 2) await put(`west/dock_${n}0_v1.curves.json`, poppingDocument(), ["Ben"]);
  }
});
afterAll(() => shop.close());

const habits = (...more: string[]) =>
  shop.run(["habits", "east", "west", "--only", "pop", "--no-cache", "--no-progress", ...more]);

describe("keyside habits", () => {
  test("tells by folder what comes again and how long it stays, and where there are too few to tell", async () => {
    const { code, stdout, stderr } = await habits();
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    expect(stdout).toMatch(
      /^east {2}10 shots, 20 versions\n.*\n {2}pop +10 of 10 +100 % \(72 % to 100 %\) +1 \(10 shots\) +too few to tell$/m,
    );
    expect(stdout).toMatch(
      /^west {2}2 shots, 2 versions\n.*\n {2}pop +2 of 2 +too few to tell +too few to tell$/m,
    );
    expect(stdout.replace(/\s+/g, " ")).toContain(
      "It ranks nobody; groups stand in the order of their names.",
    );
    expect(stdout.replace(/\s+/g, " ")).toContain(
      "Shares are told from 10 shots on: if none of fewer has a fault, a third of all may still have it.",
    );
  });

  test("tells by a field of the header, in which a list counts for each, and by the file's name", async () => {
    const names = async (...more: string[]) =>
      JSON.parse((await habits("--format", "json", ...more)).stdout).groups.map(
        ({ name, shots }: { name: string; shots: number }) => `${name} ${shots}`,
      );
    expect(await names("--by-field", "animators")).toEqual(["Ada 10", "Ben 12"]);
    expect(await names("--by-field", "stage")).toEqual(["without stage 12"]);
    expect(await names("--by-name", "^([a-z]+)_")).toEqual(["dock 2", "pier 10"]);
    expect((await habits("--format", "markdown")).stdout).toMatch(
      /^## east: 10 shots, 20 versions\n\n\| check \| shots/,
    );
  });

  test("are told as JSON by the published schema, as keyside schema habits prints it", async () => {
    const schema = JSON.parse((await shop.run(["schema", "habits"])).stdout);
    const validate = new Ajv2020({ strict: false }).compile(schema);
    const report = JSON.parse((await habits("--format", "json")).stdout);
    expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
    expect(report.groups[0].habits[0]).toMatchObject({ check: "pop", shots: 10, gone: 10, versions: 1 });
    expect(habitsSchema.strict().safeParse(report).error?.issues ?? []).toEqual([]);
    expect(validate({ ...report, groups: [{ name: "east" }] })).toBe(false);
  });

  test.each([
    [["--by-name", "("], /"\(" is no regular expression/],
    [["--by-name", "x", "--by-field", "stage"], /grouped by one thing/],
  ])("%j is refused with a sentence", async (more, message) => {
    const { code, stderr } = await habits(...more);
    expect(code).toBe(2);
    expect(stderr).toMatch(message);
  });

  test("are on the page of an archive, by folder, with the same caution", async () => {
    const { stdout } = await shop.run([
      "check",
      "east",
      "west",
      "--only",
      "pop",
      "--no-cache",
      "--no-progress",
      "--format",
      "html",
      "--no-pictures",
    ]);
    expect(stdout).toContain('<h2 id="habits" tabindex="-1">What comes again</h2>');
    expect(stdout).toMatch(
      /<th scope="row">east<\/th><td>pop<\/td><td>10 of 10<\/td><td>100 % \(72 % to 100 %\)<\/td>/,
    );
    expect(stdout).toContain("It ranks nobody");
  });
});
