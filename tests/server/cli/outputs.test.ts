import { mkdir, readdir, readFile } from "node:fs/promises";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { Workshop } from "./run-in-process.ts";
import { cleanDocument, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
const names = [
  "a.curves.json",
  "b.curves.json",
  "a.waivers.json",
  "show.json",
  "known.json",
  "list.txt",
  "part.json",
];
let before: ReadonlyMap<string, string>;

beforeAll(async () => {
  shop = await Workshop.open();
  await mkdir(shop.path("folder"));
});
afterAll(() => shop.close());
beforeEach(async () => {
  await shop.put("a.curves.json", poppingDocument());
  await shop.put("b.curves.json", cleanDocument());
  const waivers = [{ check: "pop", reason: "a spark" }];
  await shop.put("a.waivers.json", { format: "keyside.waivers", version: 1, waivers });
  await shop.put("show.json", { style: "full" });
  await shop.put("list.txt", "a.curves.json\n");
  const quick = ["--no-cache", "--force"];
  await shop.run(["baseline", "a.curves.json", "--out", "known.json", ...quick]);
  await shop.run(["check", "a.curves.json", "--out", "part.json", "--format", "json", ...quick]);
  before = new Map(
    await Promise.all(names.map(async (name) => [name, await readFile(shop.path(name), "utf8")] as const)),
  );
});

describe("what a run reads is not written over, whatever is forced", () => {
  const isShot = /holds a shot or its waivers; name another file\.\n$/;
  const isRead = /is read by this run; name another file\.\n$/;

  test.each<[readonly string[], string, RegExp]>([
    [["check", "a.curves.json", "--no-cache"], "a.curves.json", isShot],
    [["check", "a.curves.json", "--no-cache"], "./a.curves.json", isShot],
    [["check", ".", "--no-cache", "--shard", "1/9"], "b.curves.json", isShot],
    [["check", "a.curves.json", "--no-cache"], "b.curves.json", isShot],
    [["check", "a.curves.json", "--no-cache"], "a.waivers.json", isShot],
    [["check", "a.curves.json", "--no-cache", "--config", "show.json"], "show.json", isRead],
    [["check", "a.curves.json", "--no-cache", "--baseline", "known.json"], "known.json", isRead],
    [["check", "--files-from", "list.txt", "--no-cache"], "list.txt", isRead],
    [["baseline", "a.curves.json", "--no-cache"], "a.curves.json", isShot],
    [["calibrate", "a.curves.json"], "a.curves.json", isShot],
    [["calibrate", "a.curves.json", "--config", "show.json"], "show.json", isRead],
    [["sheet", "a.curves.json"], "a.curves.json", isShot],
    [["sheet", "a.curves.json", "--config", "show.json"], "show.json", isRead],
    [["compare", "a.curves.json", "b.curves.json"], "b.curves.json", isShot],
    [["merge", "part.json", "--format", "json"], "part.json", isRead],
  ])("%j onto %s", async (argv, out, message) => {
    const { code, stderr } = await shop.run([...argv, "--out", out, "--force"]);
    expect(code).toBe(2);
    expect(stderr).toMatch(message);
    expect(stderr.split("\n")).toHaveLength(2);
    for (const [name, text] of before) expect(await readFile(shop.path(name), "utf8")).toBe(text);
  });
});

describe("a folder where a file is to be written", () => {
  test.each([
    [["check", "a.curves.json", "--no-cache"]],
    [["baseline", "a.curves.json", "--no-cache"]],
    [["calibrate", "a.curves.json"]],
    [["sheet", "a.curves.json", "--no-fixes"]],
    [["compare", "a.curves.json", "b.curves.json"]],
    [["merge", "part.json"]],
  ])("%j: says so, and leaves nothing behind", async (argv) => {
    for (const more of [[], ["--force"]]) {
      const { code, stderr } = await shop.run([...argv, "--out", "folder", ...more]);
      expect({ code, stderr }).toEqual({
        code: 3,
        stderr: "keyside: folder: This is a folder, not a file.\n",
      });
    }
    expect((await readdir(shop.folder)).filter((name) => name.endsWith(".part"))).toEqual([]);
  });
});
