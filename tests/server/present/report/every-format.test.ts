import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { Ajv, type AnySchemaObject } from "ajv";
import addFormats from "ajv-formats";
import fc from "fast-check";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type ReportedShot, reportSchema } from "../../../../packages/core/notes/report-schema.ts";
import { printReview } from "../../../../packages/core/review/print.ts";
import type { ReviewFile } from "../../../../packages/core/review/schema.ts";
import {
  formatNames,
  formats,
  type ReportFormat,
} from "../../../../packages/server/present/report/formats.ts";
import { reportLineSchema } from "../../../../packages/server/present/report/json-lines-schema.ts";
import { summarySchema } from "../../../../packages/server/present/report/summary-schema.ts";
import { documents } from "../../../core/document/samples.ts";
import { anyReview } from "../../../core/review/any-review.ts";
import { Workshop } from "../../cli/run-in-process.ts";
import { junitFault } from "./junit-schema.ts";
import { written } from "./reported.ts";
import { parseXml } from "./xml-reader.ts";

/** Whatever comes in, each report is whole, meets its own schema, and holds no number that is none. */

const demoText = (name: string) =>
  readFileSync(fileURLToPath(new URL(`../../../../demo/shots/${name}.curves.json`, import.meta.url)), "utf8");
const names = ["quay_0070_v1", "steps_0110_v1", "jetty_0040_v1"];
const demos = new Map(names.map((name) => [name, demoText(name)]));
const demoOf = (name: string) => demos.get(name) as string;

const sarifSchema = createRequire(import.meta.url)(
  "@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json",
) as AnySchemaObject;
const { id: _id, $schema: _draft, ...plainSarif } = sarifSchema;
const ajv = new Ajv({ strict: false, allErrors: true, unicodeRegExp: false });
(addFormats as unknown as (to: Ajv) => void)(ajv);
const isSarif = ajv.compile(plainSarif);

const meets: Record<ReportFormat, (text: string) => void> = {
  text: (text) => expect(text).not.toBe(""),
  json: (text) => expect(reportSchema.safeParse(JSON.parse(text)).error?.issues ?? []).toEqual([]),
  jsonl: (text) => {
    const lines = text.trimEnd().split("\n");
    for (const line of lines)
      expect(reportLineSchema.safeParse(JSON.parse(line)).error?.issues ?? []).toEqual([]);
    expect(JSON.parse(lines.at(-1) ?? "")).toMatchObject({ kind: "end" });
  },
  sarif: (text) => {
    isSarif(JSON.parse(text));
    expect(isSarif.errors ?? []).toEqual([]);
  },
  junit: (text) => {
    expect(parseXml(text).name).toBe("testsuites");
    expect(junitFault(text)).toBeNull();
  },
  summary: (text) => expect(summarySchema.safeParse(JSON.parse(text)).error?.issues ?? []).toEqual([]),
  html: (text) => expect(text.trimEnd()).toMatch(/<\/html>$/),
};

/** A number that is none, as it shows in a text; the names in these documents are none of these words. */
const noNumber = /\b(NaN|-?Infinity|undefined)\b/;

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
});
afterAll(() => shop.close());

let held = 0;
async function holdAll(text: string, review?: ReviewFile): Promise<void> {
  const file = `shot_${held++}.curves.json`;
  await shop.put(file, text);
  if (review !== undefined) await shop.put(file.replace("curves", "review"), printReview(review));
  const judged = await shop.run(["check", file, "--format", "json", "--tier", "polish"]);
  // Clean, notes that fail, or something that could not be judged at all, of which the report tells.
  expect([0, 1, 3], judged.stderr).toContain(judged.code);
  const { shots, errors } = reportSchema.parse(JSON.parse(judged.stdout));
  for (const format of formatNames) {
    const writer = formats[format]({ lightest: "polish", layout: { width: 100, colour: false } });
    const text =
      format === "json"
        ? judged.stdout
        : written(writer, shots as ReportedShot[], { errorFiles: errors.map(({ file }) => file) });
    meets[format](text);
    const found = noNumber.exec(text);
    const around = found === null ? null : text.slice(Math.max(0, found.index - 300), found.index + 100);
    expect(around, format).toBeNull();
  }
}

const numbers = /-?\d+(\.\d+)?([eE][-+]?\d+)?/g;
const odd = [
  "0",
  "-0",
  "5e-324",
  "1e-30",
  "1e12",
  "-1e15",
  "1e150",
  "1e300",
  "-1e300",
  "0.30000000000000004",
];

test("legal documents of any kind", async () => {
  await fc.assert(
    fc.asyncProperty(documents, async (document) => {
      const text = JSON.stringify(document);
      fc.pre(!noNumber.test(text));
      await holdAll(text);
    }),
    { endOnFailure: true, numRuns: 20 },
  );
});

test("shots of which people say anything", async () => {
  await fc.assert(
    fc.asyncProperty(anyReview, (review) => holdAll(demoOf("quay_0070_v1"), review)),
    { endOnFailure: true, numRuns: 8 },
  );
});

test("shots with numbers out of all proportion", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...names),
      fc.array(fc.tuple(fc.nat(), fc.constantFrom(...odd)), { minLength: 1, maxLength: 6 }),
      async (name, changes) => {
        const text = demoOf(name);
        const count = [...text.matchAll(numbers)].length;
        const at = new Map(changes.map(([place, by]) => [place % count, by]));
        let index = 0;
        await holdAll(text.replace(numbers, (number) => at.get(index++) ?? number));
      },
    ),
    { endOnFailure: true, numRuns: 15 },
  );
});

test("documents that break off", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...names),
      fc.double({ min: 0, max: 1, noNaN: true }),
      async (name, share) => {
        const text = demoOf(name);
        await holdAll(text.slice(0, Math.floor(share * text.length)));
      },
    ),
    { endOnFailure: true, numRuns: 8 },
  );
});
