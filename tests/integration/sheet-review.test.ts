import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { AxeResults } from "axe-core";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { addRemark } from "../../packages/core/review/change.ts";
import { printReview } from "../../packages/core/review/print.ts";
import { emptyReview } from "../../packages/core/review/schema.ts";
import { makeSheet } from "../../packages/server/present/sheet/make.ts";
import { sheetPage } from "../../packages/server/present/sheet/page.ts";
import { judged } from "../server/present/sheet/shots.ts";
import { launch } from "../support/desk-page.ts";

/** What people say on a review sheet, in a real browser. */

const folder = mkdtempSync(join(tmpdir(), "keyside-sheet-"));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
let browser: Browser;
let url: string;

beforeAll(async () => {
  browser = await launch();
  const text = readFileSync(new URL("../../demo/shots/quay_0070_v1.curves.json", import.meta.url), "utf8");
  const said = { by: "Ada", date: "2031-04-02", node: "hand_r", frames: [26, 40] as [number, number] };
  const plane = {
    origin: [0, 1, 0] as [number, number, number],
    normal: [0, 0, 1] as [number, number, number],
  };
  const strokes = [
    {
      ...{ frame: 33, plane, target: { node: "hand_r", frames: [26, 40] as [number, number] } },
      points: [
        [-0.4, 1.2, 0],
        [0, 1, 0],
        [0.4, 1.2, 0],
      ] as [number, number, number][],
    },
  ];
  let { review } = addRemark(emptyReview("quay_0070"), { ...said, text: "Let it trail.", strokes }, "a");
  review = addRemark(review, { ...said, text: "More of this.", weight: "keep" }, "b").review;
  const version = await judged(text, "quay_0070_v1.curves.json", printReview(review));
  const sheet = makeSheet(version, { previous: null, fixes: false, lightest: "polish" });
  writeFileSync(join(folder, "sheet.html"), sheetPage(sheet));
  url = pathToFileURL(join(folder, "sheet.html")).href;
});
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true });
});

test.each([
  ["wide", { viewport: { width: 1100, height: 900 } }],
  ["narrow and dark", { viewport: { width: 420, height: 900 }, colorScheme: "dark" as const }],
])("remarks are read by everybody, with what was drawn, %s", async (_, options) => {
  const page = await browser.newPage(options);
  const complaints: string[] = [];
  page.on("console", (message) => complaints.push(message.text()));
  await page.goto(url);
  expect(await page.locator(".remark").count()).toBe(2);
  expect(await page.locator(".remark .drawn.target").isVisible()).toBe(true);
  expect(await page.locator("keyside-player #drawn").isVisible()).toBe(true);
  await page.evaluate(axe);
  const { violations } = await page.evaluate<AxeResults>("axe.run()");
  expect(violations.map(({ id }) => id)).toEqual([]);
  const overflow = await page.evaluate<number>(
    "document.documentElement.scrollWidth - document.documentElement.clientWidth",
  );
  expect(overflow).toBeLessThanOrEqual(0);
  expect(complaints).toEqual([]);
  await page.close();
});
