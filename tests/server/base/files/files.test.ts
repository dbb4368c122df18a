import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { ExistsError } from "../../../../packages/server/base/errors.ts";
import { diskFiles, type Files, readText } from "../../../../packages/server/base/files/read.ts";
import { startFile, writeFileWhole } from "../../../../packages/server/base/files/write.ts";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "keyside-files-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const failing = (code: string): Files => ({
  read: async () => {
    throw Object.assign(new Error(`${code}: open '/secret'`), { code });
  },
  kind: async () => "file",
});

describe("reading text", () => {
  test.each([
    ["EACCES", "No permission"],
    ["ENOENT", "no such file"],
    ["EISDIR", "a folder, not a file"],
    ["EMFILE", "Too many files"],
    ["EIO", "cannot be read (EIO)"],
  ])("a disk that says %s", async (code, message) => {
    await expect(readText(failing(code), "/secret", "secret")).rejects.toThrow(message);
    await expect(readText(failing(code), "/secret", "secret")).rejects.toMatchObject({ file: "secret" });
  });

  test.each<[string, Uint8Array, string]>([
    ["nothing at all", new Uint8Array(0), "empty"],
    ["blanks", new TextEncoder().encode(" \n\t\n"), "empty"],
    ["zero bytes", new Uint8Array([0x67, 0x6c, 0x54, 0x46, 2, 0, 0, 0]), "binary"],
    ["Latin-1", new Uint8Array([0x7b, 0xe9, 0x7d]), "not valid UTF-8"],
  ])("%s", async (_, bytes, message) => {
    const files: Files = { read: async () => bytes, kind: async () => "file" };
    await expect(readText(files, "x", "x")).rejects.toThrow(message);
  });

  test("a byte order mark is no part of the text", async () => {
    const files: Files = {
      read: async () => new Uint8Array([0xef, 0xbb, 0xbf, 0x7b, 0x7d]),
      kind: async () => "file",
    };
    expect(await readText(files, "x", "x")).toBe("{}");
  });

  test("a folder is told from a file, and from nothing", async () => {
    await writeFile(join(folder, "a"), "a");
    expect(await diskFiles.kind(join(folder, "a"))).toBe("file");
    expect(await diskFiles.kind(folder)).toBe("folder");
    expect(await diskFiles.kind(join(folder, "b"))).toBeNull();
    expect(await diskFiles.kind(join(folder, "a", "b"))).toBeNull();
  });
});

describe("writing", () => {
  test("a file stands under its name only once it is whole", async () => {
    const path = join(folder, "out.json");
    const file = await startFile(path, { force: false });
    await file.write("half");
    expect(await readdir(folder)).not.toContain("out.json");
    await file.write(" and half");
    await file.finish();
    expect(await readdir(folder)).toEqual(["out.json"]);
    expect(await readFile(path, "utf8")).toBe("half and half");
  });

  test("what was begun and given up leaves nothing", async () => {
    const file = await startFile(join(folder, "out.json"), { force: false });
    await file.write("half");
    await file.abandon();
    expect(await readdir(folder)).toEqual([]);
  });

  test("what stands there stays, unless it is to be overwritten", async () => {
    const path = join(folder, "out.json");
    await writeFile(path, "mine");
    await expect(writeFileWhole(path, "new", { force: false })).rejects.toThrow(ExistsError);
    expect(await readFile(path, "utf8")).toBe("mine");
    await writeFileWhole(path, "new", { force: true });
    expect(await readFile(path, "utf8")).toBe("new");
    expect(await readdir(folder)).toEqual(["out.json"]);
  });

  test("a file that appears meanwhile stays too", async () => {
    const path = join(folder, "out.json");
    const file = await startFile(path, { force: false });
    await writeFile(path, "mine");
    await file.write("new");
    await expect(file.finish()).rejects.toThrow(ExistsError);
    expect(await readFile(path, "utf8")).toBe("mine");
    expect(await readdir(folder)).toEqual(["out.json"]);
  });
});
