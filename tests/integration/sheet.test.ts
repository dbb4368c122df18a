import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { AxeResults } from "axe-core";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { makeSheet } from "../../packages/server/present/sheet/make.ts";
import { sheetPage } from "../../packages/server/present/sheet/page.ts";
import { judged } from "../server/present/sheet/shots.ts";
import { untilTrue } from "../support/eventually.ts";

/** The review sheet in a real browser: Debian's Chromium, from disk, as whoever gets the file opens it. */

const folder = mkdtempSync(join(tmpdir(), "keyside-sheet-"));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const demo = (name: string) =>
  readFileSync(new URL(`../../demo/shots/${name}.curves.json`, import.meta.url), "utf8");
let browser: Browser;
let first: string;
let second: string;

beforeAll(async () => {
  browser = await chromium.launch({
    executablePath: "/usr/bin/chromium",
    // The browser's own sandbox cannot be set up for root, as whom containers run.
    args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
  });
  const [v1, v2] = [await judged(demo("steps_0110_v1")), await judged(demo("steps_0110_v2"))];
  const write = (name: string, html: string) => {
    writeFileSync(join(folder, name), html);
    return pathToFileURL(join(folder, name)).href;
  };
  const options = { fixes: true, lightest: "polish" } as const;
  first = write("first.html", sheetPage(makeSheet(v1, { ...options, previous: null })));
  second = write("second.html", sheetPage(makeSheet(v2, { ...options, previous: v1 })));
});
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true });
});

/** Opens a page and hands it over, with whatever it complained about and asked for. */
async function open(
  url: string,
  options: BrowserContextOptions,
  use: (page: Page, heard: { readonly complaints: string[]; readonly requests: string[] }) => Promise<void>,
): Promise<void> {
  const context = await browser.newContext(options);
  try {
    const page = await context.newPage();
    const heard = { complaints: [] as string[], requests: [] as string[] };
    page.on("console", (message) => {
      if (["error", "warning"].includes(message.type())) heard.complaints.push(message.text());
    });
    page.on("pageerror", (error) => heard.complaints.push(error.message));
    page.on("request", (request) => heard.requests.push(request.url()));
    await page.goto(url);
    await use(page, heard);
  } finally {
    await context.close();
  }
}

const ticked = (page: Page) => page.locator(".note .tick input:checked").count();
const focused = (page: Page) => page.evaluate<string>("document.activeElement?.id ?? ''");
const said = (page: Page) => page.locator("#said").textContent();

describe("in Chromium, from disk", () => {
  test.each(["first", "second"])(
    "the %s version opens without a complaint and asks for nothing but itself",
    async (which) => {
      const url = which === "first" ? first : second;
      await open(url, {}, async (page, { complaints, requests }) => {
        expect(await page.locator(".note").count()).toBeGreaterThan(1);
        expect(await page.locator(".note svg").first().isVisible()).toBe(true);
        expect(complaints).toEqual([]);
        expect(requests).toEqual([url]);
      });
    },
  );

  test.each([
    ["light", { width: 1200, height: 900 }],
    ["dark", { width: 1200, height: 900 }],
    ["light", { width: 380, height: 800 }],
    ["dark", { width: 380, height: 800 }],
  ] as const)("axe finds nothing serious: %s, %j", async (colorScheme, viewport) => {
    await open(second, { colorScheme, viewport }, async (page) => {
      await page.locator(".note .tick input").first().check();
      await page.evaluate(axe);
      const results = (await page.evaluate("axe.run(document)")) as AxeResults;
      expect(results.passes.length).toBeGreaterThan(10);
      const bad = results.violations.filter(({ impact }) => impact === "serious" || impact === "critical");
      expect(
        bad.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(" | ")}`),
      ).toEqual([]);
    });
  });

  test("nothing is cut off on a narrow screen", async () => {
    await open(first, { viewport: { width: 360, height: 800 } }, async (page) => {
      expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(360);
    });
  });

  test("ticks are counted, outlive a reload, and can be taken back", async () => {
    await open(first, {}, async (page) => {
      const boxes = page.locator(".note .tick input");
      const count = await boxes.count();
      await boxes.nth(1).check();
      await boxes.nth(2).check();
      await boxes.nth(2).uncheck();
      expect(await page.locator("#done").textContent()).toBe(`1 of ${count} ticked`);
      await page.reload();
      expect(await boxes.nth(1).isChecked()).toBe(true);
      expect(await ticked(page)).toBe(1);
      await page.locator("#hide").click();
      expect(await page.locator(".note:visible").count()).toBe(count - 1);
      await page.locator("#hide").click();
      expect(await page.locator(".note:visible").count()).toBe(count);
    });
  });

  test("a tick belongs to its note: the next version's sheet knows it, in one browser", async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    const print = () =>
      page.evaluate<string[]>(
        "[...document.querySelectorAll('.note')].map((note) => note.dataset.fingerprint)",
      );
    await page.goto(first);
    const before = await print();
    for (const box of await page.locator(".note .tick input").all()) await box.check();
    await page.goto(second);
    const after = await print();
    expect(await ticked(page)).toBe(after.filter((one) => before.includes(one)).length);
    await context.close();
  });

  test("by the keyboard alone: from note to note, tick, hide, and the focus can be seen", async () => {
    await open(first, {}, async (page) => {
      await page.keyboard.press("Tab");
      expect(await page.evaluate("document.activeElement?.className")).toBe("skip");
      await page.locator("#note-1").focus();
      for (const [key, to] of [
        ["ArrowDown", 2],
        ["n", 3],
        ["p", 2],
        ["ArrowUp", 1],
        ["ArrowUp", 1],
        ["End", 0],
        ["Home", 1],
      ] as const) {
        await page.keyboard.press(key);
        const last = await page.locator(".note").count();
        expect(await focused(page)).toBe(`note-${to === 0 ? last : to}`);
      }
      const outline = await page.evaluate<string>(
        "getComputedStyle(document.querySelector('#note-1')).outlineWidth",
      );
      expect(Number.parseFloat(outline)).toBeGreaterThanOrEqual(2);
      await page.keyboard.press("t");
      expect(await page.locator("#note-1 .tick input").isChecked()).toBe(true);
      expect(await said(page)).toBe("Note 1 ticked.");
      await page.keyboard.press("t");
      expect(await ticked(page)).toBe(0);
      // With a key held that means something else, nothing happens.
      await page.keyboard.press("Control+t");
      expect(await ticked(page)).toBe(0);
    });
  });

  test("a note is copied as text", async () => {
    await open(first, { permissions: ["clipboard-read", "clipboard-write"] }, async (page) => {
      await page.locator("#note-2 .copy").click();
      await untilTrue(page, "document.querySelector('#said').textContent !== ''");
      expect(await said(page)).toBe("Note 2 copied as text.");
      const text = await page.evaluate<string>("navigator.clipboard.readText()");
      expect(text).toContain("steps_0110, revision 1, note 2");
      expect(text).toContain("Change: ");
      expect(text).not.toMatch(/<|&[a-z]+;/);
    });
  });

  test("where the browser lets nothing be kept or copied, the sheet says so and works", async () => {
    const context = await browser.newContext();
    await context.addInitScript({
      content: `
        Object.defineProperty(window, "localStorage", { get() { throw new Error("not for you"); } });
        Object.defineProperty(navigator, "clipboard", { value: undefined });
        document.execCommand = () => false;`,
    });
    const page = await context.newPage();
    const complaints: string[] = [];
    page.on("pageerror", (error) => complaints.push(error.message));
    await page.goto(first);
    await page.locator("#note-1 .tick input").check();
    expect(await page.locator("#note-1 .tick input").isChecked()).toBe(true);
    expect(await said(page)).toContain("does not keep");
    await page.locator("#note-1 .copy").click();
    await untilTrue(page, "document.querySelector('#said').textContent.includes('copy')");
    expect(complaints).toEqual([]);
    await context.close();
  });

  test("without script everything that is said and drawn is there", async () => {
    await open(first, { javaScriptEnabled: false }, async (page) => {
      expect(await page.locator(".note svg").first().isVisible()).toBe(true);
      expect(await page.locator(".bar-of-tools").isVisible()).toBe(false);
      expect(await page.locator(".copy").first().isVisible()).toBe(false);
    });
  });

  test("in print there is paper, ink and a box to tick; no buttons, no dark", async () => {
    await open(first, { colorScheme: "dark" }, async (page) => {
      await page.emulateMedia({ media: "print" });
      expect(await page.evaluate("getComputedStyle(document.body).backgroundColor")).toBe(
        "rgb(255, 255, 255)",
      );
      expect(await page.locator(".copy").first().isVisible()).toBe(false);
      expect(await page.locator(".note .tick input").first().isVisible()).toBe(true);
      const pdf = await page.pdf({ preferCSSPageSize: true });
      expect(pdf.subarray(0, 5).toString()).toBe("%PDF-");
    });
  });
});
