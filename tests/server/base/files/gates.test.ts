import { execFileSync, spawnSync } from "node:child_process";
import { once } from "node:events";
import {
  chmod,
  link,
  lstat,
  mkdir,
  mkdtemp,
  readdir,
  readFile,
  rm,
  stat,
  symlink,
  truncate,
  writeFile,
} from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { bounds } from "../../../../packages/server/base/files/bounds.ts";
import { makeFolder } from "../../../../packages/server/base/files/folder.ts";
import { streamPlain } from "../../../../packages/server/base/files/plain.ts";
import { diskFiles, readText, threadFiles } from "../../../../packages/server/base/files/read.ts";
import { readLogOf } from "../../../../packages/server/base/files/read-log.ts";
import { startFile, writeFileWhole } from "../../../../packages/server/base/files/write.ts";

let folder: string;
const at = (name: string) => join(folder, name);
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "keyside-gates-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe("the gate for reading", () => {
  test.each([
    ["waiting", diskFiles],
    ["without waiting", threadFiles],
  ])("%s: what is no plain file is refused and never waited for", async (_, files) => {
    execFileSync("mkfifo", [at("pipe")]);
    await symlink("/dev/zero", at("device"));
    await symlink(at("pipe"), at("link"));
    for (const [name, what] of [
      ["pipe", "a pipe"],
      ["device", "a device"],
      ["link", "a pipe"],
    ] as const) {
      await expect(readText(files, at(name), name)).rejects.toThrow(`This is ${what}, not a file.`);
    }
    const server = createServer().listen(at("socket"));
    await once(server, "listening");
    await expect(readText(files, at("socket"), "socket")).rejects.toThrow("a socket");
    server.close();
    await expect(readText(files, folder, "here")).rejects.toThrow("This is a folder, not a file.");
  });

  test.each([
    ["waiting", diskFiles],
    ["without waiting", threadFiles],
  ])(
    "%s: a file that is too large is refused by its size, a binary one by its first bytes",
    async (_, files) => {
      // A hole takes no room on the disk, and reading it whole would take what it says.
      await writeFile(at("huge"), "{");
      await truncate(at("huge"), 40_000_000_000);
      await expect(readText(files, at("huge"), "huge")).rejects.toThrow(
        "The file has 40 GB, and at most 256 MB are read. If that is meant, --budget file=40000000000 allows it.",
      );
      await truncate(at("huge"), bounds.shot.most);
      const before = process.memoryUsage.rss();
      await expect(readText(files, at("huge"), "huge")).rejects.toThrow("binary file");
      expect(process.memoryUsage.rss() - before).toBeLessThan(bounds.shot.most / 2);
    },
  );

  test.each([
    ["waiting", diskFiles],
    ["without waiting", threadFiles],
  ])("%s: files of all lengths come whole, also those that name no length", async (_, files) => {
    for (const length of [1, 8191, 8192, 8193, 8194, 100_000]) {
      await writeFile(at("text"), "x".repeat(length));
      expect(await readText(files, at("text"), "text")).toHaveLength(length);
    }
    if (process.platform === "linux") {
      expect(await readText(files, "/proc/self/status", "status")).toContain("Pid:");
    }
  });

  test("a stream is opened through the same gate", async () => {
    execFileSync("mkfifo", [at("pipe")]);
    await expect(streamPlain(at("pipe"))).rejects.toThrow("a pipe");
    await writeFile(at("text"), "ä".repeat(100_000));
    let text = "";
    for await (const piece of await streamPlain(at("text"))) text += piece;
    expect(text).toBe("ä".repeat(100_000));
  });

  test("what was read is known by any of its names", async () => {
    await writeFile(at("a"), "a");
    await writeFile(at("b"), "b");
    await symlink(at("a"), at("soft"));
    await link(at("a"), at("hard"));
    const { files, hasRead } = readLogOf(diskFiles);
    await files.read(at("a"));
    expect(["a", "soft", "hard", "b", "none"].filter((name) => hasRead(at(name)))).toEqual([
      "a",
      "soft",
      "hard",
    ]);
  });
});

describe("the gate for writing", () => {
  const parts = async () => (await readdir(folder)).filter((name) => name.endsWith(".part"));

  test("mode and links stay as they were, and the file that a link leads to is the one that is written", async () => {
    await writeFile(at("real"), "old", { mode: 0o640 });
    await chmod(at("real"), 0o640);
    await symlink("real", at("soft"));
    await writeFileWhole(at("soft"), "new", { force: true });
    expect((await lstat(at("soft"))).isSymbolicLink()).toBe(true);
    expect(await readFile(at("real"), "utf8")).toBe("new");
    expect((await stat(at("real"))).mode & 0o777).toBe(0o640);
  });

  test("a file of two names keeps both", async () => {
    await writeFile(at("one"), "a longer text than the new one");
    await link(at("one"), at("other"));
    await writeFileWhole(at("one"), "new", { force: true });
    expect(await readFile(at("other"), "utf8")).toBe("new");
    expect((await stat(at("one"))).ino).toBe((await stat(at("other"))).ino);
    expect(await parts()).toEqual([]);
  });

  test.skipIf(process.getuid?.() !== 0)("the owner stays", async () => {
    await writeFile(at("theirs"), "old");
    execFileSync("chown", ["12345:23456", at("theirs")]);
    await writeFileWhole(at("theirs"), "new", { force: true });
    expect(await stat(at("theirs"))).toMatchObject({ uid: 12345, gid: 23456 });
  });

  test("a new file gets the mode that the process gives, or the one that is asked for", async () => {
    const before = process.umask(0o027);
    try {
      await writeFileWhole(at("plain"), "x", { force: false });
      await writeFileWhole(at("secret"), "x", { force: false, mode: 0o600 });
    } finally {
      process.umask(before);
    }
    expect((await stat(at("plain"))).mode & 0o777).toBe(0o640);
    expect((await stat(at("secret"))).mode & 0o777).toBe(0o600);
  });

  test("while it is written a part is for its owner alone, where the file is not for all", async () => {
    await writeFile(at("real"), "old");
    await chmod(at("real"), 0o600);
    const file = await startFile(at("real"), { force: true });
    const [part] = await parts();
    expect((await stat(at(part as string))).mode & 0o777).toBe(0o600);
    await file.abandon();
  });

  test("devices, pipes and links that lead nowhere are not written to", async () => {
    execFileSync("mkfifo", [at("pipe")]);
    await symlink("nowhere", at("dangling"));
    const writing = (path: string) => writeFileWhole(path, "x", { force: true });
    await expect(writing(at("pipe"))).rejects.toThrow("a pipe");
    await expect(writing("/dev/null")).rejects.toThrow("a device");
    await expect(writing(at("dangling"))).rejects.toThrow("leads to no file");
    expect((await stat("/dev/null")).isCharacterDevice()).toBe(true);
  });

  test("names of parts cannot be foreseen", async () => {
    const one = await startFile(at("out"), { force: false });
    const two = await startFile(at("out"), { force: false });
    const names = await parts();
    expect(new Set(names).size).toBe(2);
    for (const name of names) expect(name).toMatch(/^\.keyside-[0-9a-f]{8}-\d+-[0-9a-f]{24}\.part$/);
    await one.abandon();
    await two.abandon();
  });

  test.skipIf(process.platform !== "linux")(
    "a disk that is full leaves the old file, and no part",
    async () => {
      await mkdir(at("small"));
      try {
        execFileSync("mount", ["-t", "tmpfs", "-o", "size=64k", "tmpfs", at("small")], { stdio: "ignore" });
      } catch {
        // Only some may mount a disk.
        return;
      }
      try {
        await writeFile(at("small/out"), "old");
        await expect(
          writeFileWhole(at("small/out"), "x".repeat(1 << 20), { force: true }),
        ).rejects.toMatchObject({ code: "ENOSPC" });
        expect(await readFile(at("small/out"), "utf8")).toBe("old");
        expect(await readdir(at("small"))).toEqual(["out"]);
      } finally {
        execFileSync("umount", [at("small")]);
      }
    },
  );

  test("what a killed run has left is swept by the next, what is under way or another machine's is not", async () => {
    const own = await startFile(at("own"), { force: false });
    const [name = ""] = await parts();
    const { pid: dead } = spawnSync(process.execPath, ["--version"]);
    const left = name.replace(`-${process.pid}-`, `-${dead}-`);
    const foreign = left.replace(/^.keyside-[0-9a-f]{8}/, ".keyside-00000000");
    const mine = ".keyside-notes.part";
    for (const other of [left, foreign, mine]) await writeFile(at(other), "x");
    const file = await startFile(at("out"), { force: false });
    await file.write("x");
    await file.finish();
    expect((await readdir(folder)).sort()).toEqual([foreign, name, mine, "out"].sort());
    await own.abandon();
    expect(await parts()).not.toContain(name);
  });

  test("a folder that cannot be made is told, and not tried for ever", () => {
    makeFolder(at("a/b/c"));
    makeFolder(at("a/b/c"));
    expect(() => makeFolder("/dev/null/x")).toThrow();
    if (process.platform === "linux") expect(() => makeFolder("/proc/keyside/x")).toThrow("ENOENT");
  });
});
