import { hash } from "node:crypto";
import { chmod, mkdtemp, readdir, readFile, rm, truncate, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { ResultCache } from "../../../../packages/server/judge/archive/cache.ts";
import { packedResult } from "../../../../packages/server/judge/archive/packed-result.ts";
import { indexFolderOf, ResultIndex } from "../../../../packages/server/judge/archive/result-index.ts";
import { cacheContents, clearCache } from "../../../../packages/server/judge/archive/tidy-cache.ts";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "keyside-index-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const stamp = "1";
const digest = (text: string, length: number) => hash("sha256", text, "buffer").subarray(0, length);
const keyOf = (text: string) => hash("sha256", `key ${text}`);
const textOf = (name: string) => JSON.stringify({ name, notes: name.repeat(50) });

/** Opens the index; what is damaged is written down. */
function opened(damaged: string[] = []): ResultIndex {
  return new ResultIndex({ folder, stamp }, (path) => damaged.push(path));
}

function add(index: ResultIndex, name: string, state = "old"): void {
  const key = keyOf(name);
  const row = { place: digest(name, 16), state: digest(state, 16), key, fileSize: name.length };
  index.add(row, packedResult(key, textOf(name)));
}

/** Runs that each keep some results. */
function runs(...all: readonly (readonly string[])[]): void {
  for (const names of all) {
    const index = opened();
    for (const name of names) add(index, name);
    index.close();
    expect(index.unkept).toBeNull();
  }
}

const filesHere = async () => (await readdir(indexFolderOf({ folder, stamp }))).sort();

describe("an index of results", () => {
  test("gives back what any run kept, by place and state and by key, and nothing else", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.string({ minLength: 1 }), { maxLength: 40 }),
        fc.nat(12),
        (names, cut) => {
          runs(names.slice(0, cut), names.slice(cut));
          const index = opened();
          for (const name of names) {
            const known = { key: keyOf(name), text: textOf(name) };
            expect(index.inState(digest(name, 16), digest("old", 16))).toEqual(known);
            expect(index.result(keyOf(name))?.text).toBe(textOf(name));
            expect(index.mayKnow(name.length)).toBe(true);
            expect(index.inState(digest(name, 16), digest("new", 16))).toBeNull();
            expect(new ResultCache({ folder, stamp }, true).get(keyOf(name))).toBe(textOf(name));
          }
          expect(index.result(keyOf("\u0000other"))).toBeNull();
          expect(new ResultCache({ folder, stamp }, true).get(keyOf("\u0000other"))).toBeNull();
          expect(new ResultCache({ folder, stamp: "2" }, true).get(keyOf(names[0] ?? ""))).toBeNull();
          index.close();
        },
      ),
      { numRuns: 25 },
    );
  });

  test("runs at the same time lose nothing of each other", () => {
    const [one, two] = [opened(), opened()];
    for (let i = 0; i < 50; i++) add(i % 2 === 0 ? one : two, `shot ${i}`);
    one.close();
    two.close();
    const index = opened();
    for (let i = 0; i < 50; i++) expect(index.result(keyOf(`shot ${i}`))?.text).toBe(textOf(`shot ${i}`));
    index.close();
  });

  test("one file is made of many, also by two runs at once, and of a place the last state stays", async () => {
    runs(...Array.from({ length: 8 }, (_, i) => [`shot ${i}`]));
    const [one, two] = [opened(), opened()];
    add(one, "shot 0", "new");
    add(two, "shot 99");
    one.close();
    two.close();
    expect((await filesHere()).length).toBeLessThanOrEqual(2);
    const index = opened();
    expect(index.inState(digest("shot 0", 16), digest("new", 16))?.text).toBe(textOf("shot 0"));
    for (const i of [1, 7, 99]) expect(index.result(keyOf(`shot ${i}`))?.text).toBe(textOf(`shot ${i}`));
    index.close();
  });

  test("a file that is cut or changed anywhere is said or does no harm, and what is judged again is kept", async () => {
    const names = ["a", "b", "c"];
    runs(names);
    const [name = ""] = await filesHere();
    const path = join(indexFolderOf({ folder, stamp }), name);
    const whole = await readFile(path);
    const look = () => {
      const damaged: string[] = [];
      const index = opened(damaged);
      for (const one of names) expect([undefined, textOf(one)]).toContain(index.result(keyOf(one))?.text);
      index.close();
      return damaged;
    };
    for (let length = 0; length < whole.length; length += 11) {
      await writeFile(path, whole);
      await truncate(path, length);
      for (const one of names) expect(new ResultCache({ folder, stamp }, true).get(keyOf(one))).toBeNull();
      expect(look()).toEqual([path]);
      expect(await filesHere()).toEqual([]);
    }
    for (let at = 0; at < whole.length; at += 3) {
      const changed = Buffer.from(whole);
      changed[at] = (changed[at] as number) ^ 0x10;
      await writeFile(path, changed);
      for (const one of names)
        expect([null, textOf(one)]).toContain(new ResultCache({ folder, stamp }, true).get(keyOf(one)));
      look();
    }
    runs(names);
    expect(look()).toEqual([]);
  });

  test("nothing unfinished stays, and a folder that cannot be written is a reason, not a failure", async () => {
    runs(["a"]);
    expect(await filesHere()).toEqual([expect.stringMatching(/^[0-9a-f]{24}\.index$/)]);
    const place = { folder: join(folder, "file"), stamp };
    await writeFile(place.folder, "");
    const index = new ResultIndex(place, () => {});
    add(index, "a");
    index.close();
    expect(index.unkept).toEqual(expect.any(String));
    await chmod(place.folder, 0o600);
  });

  test("its results are counted and taken away with the others", async () => {
    runs(["a", "b"], ["c"]);
    expect((await cacheContents(folder)).entries).toBe(3);
    expect((await clearCache(folder)).entries).toBe(3);
    expect(await cacheContents(folder)).toEqual({ entries: 0, bytes: 0 });
  });
});
