import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, describe, expect, test, vi } from "vitest";
import { demoModule } from "./load.ts";

const folder = mkdtempSync(join(tmpdir(), "keyside-demo-"));
const argv = process.argv;
afterAll(() => rmSync(folder, { recursive: true }));
afterEach(() => {
  process.argv = argv;
  vi.restoreAllMocks();
});

/** Runs a module of the demo as if from the command line; what it printed. */
async function run(path: string, ...args: string[]): Promise<string> {
  const lines: string[] = [];
  vi.spyOn(console, "log").mockImplementation((line) => lines.push(String(line)));
  process.argv = [process.execPath, path, ...args];
  await demoModule(path);
  return lines.join("\n");
}

describe("scripts", () => {
  test.each([
    ["build-a-shot", /frames? .*24/],
    ["walk-poses", /^frame 1: head at 1\.\d+ m, 0\.00 m\/s$/m],
    ["print-notes", /pop 33-33 \(hand_r rotate\.\w at 33\)/],
    ["flight-gravity", /0\.\d\d s in the air, gravity \d+\.\d\d m\/s²/],
    ["one-check", /hand_l, frames .*at least 10/],
  ])("%s runs", async (name, expected) => {
    expect(await run(`scripts/${name}.mjs`)).toMatch(expected);
  });
});

describe("the demo", () => {
  test("prints what it found and writes pages that need no network and no script", async () => {
    const printed = await run("run.mjs", folder);
    expect(printed).toContain("jetty_0040, version 2");
    expect(printed).toContain("forward-jump (captured)");
    expect(printed.trimEnd().split("\n").at(-1)).toMatch(/^Pages: file:.*index\.html$/);
    const pages = readdirSync(folder);
    expect(pages).toHaveLength(8);
    for (const page of pages) {
      const html = readFileSync(join(folder, page), "utf8");
      expect(html).not.toMatch(/<script|https?:|NaN|undefined/);
      for (const [, target] of html.matchAll(/href="([^"#]+)"/g)) expect(pages).toContain(target);
      for (const [, id] of html.matchAll(/href="#([^"]+)"/g)) expect(html).toContain(`id="${id}"`);
      if (page !== "index.html") expect(html).toContain("<svg");
    }
  });
});
