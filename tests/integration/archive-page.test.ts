import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { AxeResults } from "axe-core";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { registry } from "../../packages/core/faults/registry.ts";
import { archivePageWriter } from "../../packages/server/present/report/archive-page.ts";
import { nasty, reportedNote, reportedShot, written } from "../server/present/report/reported.ts";

/** The archive page in a real browser: Debian's Chromium, from disk. */

const folder = mkdtempSync(join(tmpdir(), "keyside-archive-page-"));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
let browser: Browser;
let url: string;

beforeAll(async () => {
  browser = await chromium.launch({
    executablePath: "/usr/bin/chromium",
    // The browser's own sandbox cannot be set up for root, as whom containers run.
    args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
  });
  writeFileSync(join(folder, "page.html"), page());
  url = pathToFileURL(join(folder, "page.html")).href;
});
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true });
});

function page(): string {
  const tiers = ["major", "minor", "polish"] as const;
  const shots = Array.from({ length: 90 }, (_, i) => {
    const notes = Array.from({ length: i % 5 }, (_, j) =>
      reportedNote({ check: registry[(3 * i + j) % 9]?.name ?? "pop", tier: tiers[(i + j) % 3] ?? "major" }),
    );
    const name = i === 4 ? nasty : `jetty_${String(i).padStart(4, "0")}`;
    return reportedShot({ file: `show_${i % 3}/seq_${i % 4}/${name}.curves.json`, name, notes });
  });
  const notes = { broken: 1, major: 40, minor: 80, polish: 20 };
  const past = ["2026-01-05", "2026-02-05"].map((day) => ({
    at: `${day}T08:00:00.000Z`,
    version: "0.1.0",
    shots: 80,
    failing: 30,
    errors: 0,
    notes,
    checks: {},
  }));
  const writer = archivePageWriter({
    layout: { width: 100, colour: false },
    lightest: "polish",
    history: { past, now: new Date("2026-03-05T08:00:00Z") },
    sheetFor: ({ name }) => (name.endsWith("1") ? `sheets/${name}.html` : null),
  });
  return written(writer, shots, { errorFiles: [nasty] });
}

async function open(options: BrowserContextOptions, use: (page: Page) => Promise<void>): Promise<void> {
  const context = await browser.newContext(options);
  const complaints: string[] = [];
  const requests: string[] = [];
  try {
    const page = await context.newPage();
    page.on("console", (message) => complaints.push(message.text()));
    page.on("pageerror", (error) => complaints.push(error.message));
    page.on("request", (request) => requests.push(request.url()));
    await page.goto(url);
    await use(page);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([url]);
  } finally {
    await context.close();
  }
}

describe.each(["light", "dark"] as const)("by %s", (colorScheme) => {
  test("has nothing to complain of for whoever does not see well, and asks for nothing else", async () => {
    // The page's own policy would keep the checker out.
    await open({ colorScheme, bypassCSP: true }, async (page) => {
      await page.evaluate(axe);
      const results = (await page.evaluate("axe.run()")) as AxeResults;
      expect(results.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    });
  });
});

test("texts are shown as text", async () => {
  await open({}, async (page) => {
    const shown = await page.locator("#worst ~ .shots .file").allTextContents();
    expect(shown.some((text) => text.includes("<b onclick="))).toBe(true);
    expect(await page.locator("b, script").count()).toBe(0);
  });
});

test("is walked with the keyboard: the first key leads past the head, links to the parts", async () => {
  await open({}, async (page) => {
    await page.keyboard.press("Tab");
    expect(await page.evaluate("document.activeElement.textContent")).toBe("To the worst shots");
    await page.keyboard.press("Enter");
    expect(await page.evaluate("location.hash")).toBe("#worst");
    for (const id of ["worst", "checks", "folders", "trend", "errors"]) {
      expect(await page.locator(`nav a[href="#${id}"]`).count()).toBe(1);
      expect(await page.locator(`h2#${id}`).count()).toBe(1);
    }
  });
});

test("fits a narrow window and a sheet of paper", async () => {
  await open({ viewport: { width: 420, height: 800 } }, async (page) => {
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(420);
    expect((await page.pdf({ format: "A4" })).byteLength).toBeGreaterThan(10_000);
  });
});
