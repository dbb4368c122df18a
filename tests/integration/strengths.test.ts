import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { AxeResults } from "axe-core";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { makeSheet } from "../../packages/server/present/sheet/make.ts";
import { sheetPage } from "../../packages/server/present/sheet/page.ts";
import { judged } from "../server/present/sheet/shots.ts";
import { untilTrue } from "../support/eventually.ts";

/** What holds, on a review sheet in a real browser: Debian's Chromium. */

const folder = mkdtempSync(join(tmpdir(), "keyside-strengths-"));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
let browser: Browser;
let page: Page;
const complaints: string[] = [];

beforeAll(async () => {
  browser = await chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
  });
  const demo = readFileSync(new URL("../../demo/shots/quay_0070_v2.curves.json", import.meta.url), "utf8");
  const html = sheetPage(makeSheet(await judged(demo), { previous: null, fixes: false, lightest: "polish" }));
  writeFileSync(join(folder, "sheet.html"), html);
  page = await browser.newPage();
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  await page.goto(pathToFileURL(join(folder, "sheet.html")).href);
});
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true });
});

interface Shown {
  readonly strength: number | null;
  readonly note: number | null;
  readonly playing: boolean;
  readonly frame: number;
  readonly said: string;
}

// As text: what runs in the page knows the page, and these files do not.
const shown = (): Promise<Shown> =>
  page.evaluate(`(() => {
    const { strength, note, playing, frame, shadowRoot } = document.querySelector("keyside-player");
    return { strength, note, playing, frame, said: shadowRoot.querySelector("#here").textContent };
  })()`);

describe("what holds", () => {
  test("is played by its button, around its frames, and said beneath the picture", async () => {
    const item = page.locator(".strengths li", { hasText: "falls at 1.00 g" });
    await item.locator(".play").click();
    await untilTrue(page, 'document.querySelector("keyside-player").playing');
    const at = await shown();
    expect(at).toMatchObject({ note: null, playing: true });
    expect(at.said).toBe("the body falls at 1.00 g, frames 77 to 89");
    // Six tenths of a second on either side.
    expect(at.frame).toBeGreaterThanOrEqual(77 - 16);
    expect(at.frame).toBeLessThanOrEqual(89 + 16);
  });

  test("is chosen in the player beside the notes, and a note takes its place", async () => {
    const select = page.locator("keyside-player #note");
    expect(await select.locator("optgroup").getAttribute("label")).toBe("what holds");
    await select.selectOption("holds 2");
    expect(await shown()).toMatchObject({ strength: 2, note: null });
    await select.selectOption("1");
    expect(await shown()).toMatchObject({ strength: null, note: 1 });
  });

  test("can be used by whoever cannot see it, and the page complains of nothing", async () => {
    await page.evaluate(axe);
    const { violations }: AxeResults = await page.evaluate("axe.run()");
    expect(violations.map(({ id }) => id)).toEqual([]);
    expect(complaints).toEqual([]);
  });
});
