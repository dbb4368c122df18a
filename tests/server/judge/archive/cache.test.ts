import { chmod, mkdir, mkdtemp, readdir, readFile, rm, truncate, utimes, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { ResultCache } from "../../../../packages/server/judge/archive/cache.ts";
import { defaultCacheFolder } from "../../../../packages/server/judge/archive/cache-folder.ts";
import { toolStamp } from "../../../../packages/server/judge/archive/stamp.ts";
import {
  cacheContents,
  clearCache,
  pruneCache,
} from "../../../../packages/server/judge/archive/tidy-cache.ts";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "keyside-cache-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const bytes = (text: string) => new TextEncoder().encode(text);
const task = { kind: ".bvh", settings: "{}" };

/** Files of the cache, as paths. */
async function files(): Promise<string[]> {
  const names = await readdir(folder, { recursive: true, withFileTypes: true });
  return names.filter((name) => name.isFile()).map((name) => join(name.parentPath, name.name));
}

describe("the key", () => {
  test("changes with content, kind, settings and version, and with nothing else", () => {
    const key = (stamp = "1", kind = ".bvh", settings = "{}", content = "shot") =>
      new ResultCache({ folder, stamp }).keyOf({ kind, settings }, bytes(content));
    const all = [key(), key("2"), key("1", ".csv"), key("1", ".bvh", "{ }"), key("1", ".bvh", "{}", "Shot")];
    expect(new Set(all).size).toBe(all.length);
    expect(key()).toBe(key());
    expect(key()).toMatch(/^[0-9a-f]{64}$/);
  });

  test("the program's stamp is the same from call to call and begins with its version", () => {
    const stamp = toolStamp();
    expect(stamp).toMatch(/^\d+\.\d+\.\d+ [0-9a-f]{64}$/);
    expect(toolStamp()).toBe(stamp);
  });
});

describe("keeping results", () => {
  test("gives back what was kept, to another run too, and nothing for another key", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), fc.uint8Array(), (text, content) => {
        const cache = new ResultCache({ folder, stamp: "1" });
        const key = cache.keyOf(task, content);
        expect(cache.put(key, text)).toBeNull();
        expect(new ResultCache({ folder, stamp: "1" }).get(key)).toBe(text);
        expect(cache.get(cache.keyOf({ ...task, settings: "other" }, content))).toBeNull();
      }),
      { numRuns: 30 },
    );
  });

  test("an entry that is cut, changed, empty or another's counts as none, and is written again", async () => {
    const cache = new ResultCache({ folder, stamp: "1" });
    const key = cache.keyOf(task, bytes("a"));
    const text = JSON.stringify({ notes: Array.from({ length: 50 }, (_, i) => i) });
    cache.put(key, text);
    const [path] = (await files()) as [string];
    const whole = await readFile(path);
    for (let length = 0; length < whole.length; length += 7) {
      await truncate(path, length);
      expect(cache.get(key)).toBeNull();
      await writeFile(path, whole);
    }
    for (let at = 10; at < whole.length; at += 5) {
      const changed = Buffer.from(whole);
      changed[at] = (changed[at] as number) ^ 0x10;
      await writeFile(path, changed);
      // Whatever stands there: never another text than the one that was kept.
      expect([null, text]).toContain(cache.get(key));
    }
    const other = cache.keyOf(task, bytes("b"));
    cache.put(other, "another's");
    const otherPath = (await files()).find((file) => file !== path) as string;
    await writeFile(path, await readFile(otherPath));
    expect(cache.get(key)).toBeNull();
    expect(cache.put(key, text)).toBeNull();
    expect(cache.get(key)).toBe(text);
  });

  test("two that write the same entry at the same time leave it whole, and nothing unfinished", async () => {
    const caches = [1, 2, 3].map(() => new ResultCache({ folder, stamp: "1" }));
    const key = caches[0]?.keyOf(task, bytes("a")) as string;
    for (let i = 0; i < 20; i++) for (const cache of caches) cache.put(key, "text");
    expect(await files()).toHaveLength(1);
    expect(caches[1]?.get(key)).toBe("text");
  });

  test("a folder that cannot be written is a reason, not a failure", async () => {
    await writeFile(join(folder, "file"), "");
    const cache = new ResultCache({ folder: join(folder, "file"), stamp: "1" });
    const key = cache.keyOf(task, bytes("a"));
    expect(cache.put(key, "text")).toEqual(expect.any(String));
    expect(cache.get(key)).toBeNull();
  });

  test("an entry that is used is marked so, once a day", async () => {
    const cache = new ResultCache({ folder, stamp: "1" });
    const key = cache.keyOf(task, bytes("a"));
    cache.put(key, "text");
    const [path] = (await files()) as [string];
    const longAgo = new Date("2020-01-01");
    await utimes(path, longAgo, longAgo);
    await chmod(path, 0o600);
    cache.get(key);
    const { stat } = await import("node:fs/promises");
    expect((await stat(path)).mtimeMs).toBeGreaterThan(Date.now() - 60_000);
  });
});

describe("tidying", () => {
  async function fill(): Promise<string[]> {
    const cache = new ResultCache({ folder, stamp: "1" });
    const keys = ["a", "b", "c", "d"].map((text) => cache.keyOf(task, bytes(text)));
    for (const [index, key] of keys.entries()) {
      cache.put(key, `result ${key}`);
      const path = (await files()).find((file) => file.endsWith(`${key.slice(2)}.gz`)) as string;
      const used = new Date(2024, 0, index + 1);
      await utimes(path, used, used);
    }
    return keys;
  }

  test("takes the longest unused first, until the rest is small enough", async () => {
    const keys = await fill();
    const { entries, bytes: size } = await cacheContents(folder);
    expect(entries).toBe(4);
    expect(await pruneCache(folder, size / 2 + 1)).toMatchObject({ entries: 2 });
    const cache = new ResultCache({ folder, stamp: "1" });
    expect(keys.map((key) => cache.get(key) !== null)).toEqual([false, false, true, true]);
  });

  test("clears its own files and nothing else", async () => {
    await fill();
    const foreign = [
      "readme.txt",
      "results-1/readme.txt",
      "results-1/ab/notes.gz",
      "shots/ab/shot.curves.json",
      `elsewhere/ab/${"c".repeat(62)}.gz`,
    ];
    for (const file of foreign) {
      await mkdir(dirname(join(folder, file)), { recursive: true });
      await writeFile(join(folder, file), "mine");
    }
    const left = `results-1/ab/${"d".repeat(62)}.gz.123-0a0b0c0d.part`;
    const part = `results-1/ab/.keyside-0a0b0c0d-123-${"e".repeat(24)}.part`;
    for (const file of [left, part]) await writeFile(join(folder, file), "");
    expect((await clearCache(folder)).entries).toBe(6);
    expect((await files()).sort()).toEqual(foreign.map((file) => join(folder, file)).sort());
    expect(await cacheContents(folder)).toEqual({ entries: 0, bytes: 0 });
    expect(await clearCache(join(folder, "nowhere"))).toEqual({ entries: 0, bytes: 0 });
  });
});

test("the user's cache folder: XDG Base Directory Specification 0.8, and each system's habit", () => {
  expect(defaultCacheFolder({ XDG_CACHE_HOME: "/c", HOME: "/h" }, "linux")).toBe("/c/keyside");
  // "If an implementation encounters a relative path … it should consider the path invalid and ignore it."
  expect(defaultCacheFolder({ XDG_CACHE_HOME: "c", HOME: "/h" }, "linux")).toBe("/h/.cache/keyside");
  expect(defaultCacheFolder({ HOME: "/h" }, "darwin")).toBe("/h/Library/Caches/keyside");
  expect(defaultCacheFolder({}, "linux")).toBeNull();
});
