import { readdir, readFile } from "node:fs/promises";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { stackTrace, Workshop } from "./run-in-process.ts";
import { bvh, cleanDocument, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;

beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("v1.curves.json", poppingDocument());
  await shop.put("v2.curves.json", cleanDocument());
  await shop.put("capture.bvh", bvh(Array.from({ length: 24 }, (_, i) => `${i} 90 0 0 0 0 0 ${5 * i} 0`)));
});
afterAll(() => shop.close());

const read = (name: string) => readFile(shop.path(name), "utf8");

describe("keyside sheet", () => {
  test("writes a page to a file, whole, and says so", async () => {
    expect(await shop.run(["sheet", "v1.curves.json", "--out", "v1.html"])).toMatchObject({
      code: 0,
      stdout: "Wrote v1.html.\n",
      stderr: "",
    });
    const html = await read("v1.html");
    expect(html).toMatch(/^<!doctype html>/);
    expect(html.trimEnd()).toMatch(/<\/html>$/);
    expect((await readdir(shop.folder)).filter((name) => name.endsWith(".part"))).toEqual([]);
  });

  test("a page that is there is kept unless --force is given; a shot is kept whatever is given", async () => {
    await shop.put("kept.html", "mine");
    const refused = await shop.run(["sheet", "v1.curves.json", "--out", "kept.html"]);
    expect(refused.code).toBe(2);
    expect(refused.stderr).toContain("--force");
    expect(await read("kept.html")).toBe("mine");
    expect((await shop.run(["sheet", "v1.curves.json", "--out", "kept.html", "--force"])).code).toBe(0);
    expect(await read("kept.html")).not.toBe("mine");
    for (const args of [["v1.curves.json"], ["v2.curves.json", "--previous", "v1.curves.json"]]) {
      expect((await shop.run(["sheet", ...args, "--out", "v1.curves.json", "--force"])).code).toBe(2);
    }
    expect(JSON.parse(await read("v1.curves.json")).format).toBe("keyside.curves");
  });

  test("against the version before, in Markdown, to stdout", async () => {
    const { code, stdout } = await shop.run([
      "sheet",
      "v2.curves.json",
      "--previous",
      "v1.curves.json",
      "--format",
      "markdown",
    ]);
    expect(code).toBe(0);
    expect(stdout).toContain("### Fixed since");
    expect(stdout).toContain("No notes");
  });

  test("settings hold for it as for check", async () => {
    const markdown = (...more: string[]) =>
      shop.run(["sheet", "v1.curves.json", "--format", "markdown", "--no-fixes", ...more]);
    const all = (await markdown()).stdout.match(/^- \[ \]/gm) ?? [];
    const only = await markdown("--only", "pop");
    expect(only.stdout.match(/^- \[ \] \*\*\d+\. /gm)).toEqual(
      only.stdout.match(/^- \[ \] \*\*\d+\. (?=Pop)/gm),
    );
    expect((await markdown("--tier", "broken")).stdout).not.toContain("- [ ]");
    expect(all.length).toBeGreaterThan(0);
    expect((await markdown()).stdout).not.toContain("**Fix:**");
  });

  test("of a capture", async () => {
    const { code, stdout } = await shop.run(["sheet", "capture.bvh", "--rate", "24"]);
    expect(code).toBe(0);
    expect(stdout).toContain("capture");
  });

  test.each([
    [["sheet"], 2],
    [["sheet", "nowhere.curves.json"], 3],
    [["sheet", "v1.curves.json", "--previous", "nowhere.curves.json"], 3],
    [["sheet", "v1.curves.json", "--format", "pdf"], 2],
    [["sheet", "v1.curves.json", "--out", "no/such/folder.html"], 3],
  ])("%j ends with %d and one line", async (argv, code) => {
    const ran = await shop.run(argv);
    expect(ran.code).toBe(code);
    expect(ran.stderr).toMatch(/^keyside: [^\n]+\n$/);
    expect(ran.stderr).not.toMatch(stackTrace);
    expect(ran.stdout).toBe("");
  });
});
