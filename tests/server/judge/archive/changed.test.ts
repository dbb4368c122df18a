import { execFileSync } from "node:child_process";
import { mkdir, mkdtemp, realpath, rm, stat, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ChangedError, changedSince } from "../../../../packages/server/judge/archive/changed.ts";
import { Workshop } from "../../cli/run-in-process.ts";

let folder: string;

const git = (...argv: string[]) =>
  execFileSync("git", ["-c", "user.name=n", "-c", "user.email=n@localhost", ...argv], {
    cwd: join(folder, "show"),
    stdio: "pipe",
  });
async function put(name: string, text: string): Promise<void> {
  await mkdir(dirname(join(folder, name)), { recursive: true });
  await writeFile(join(folder, name), text);
}

const files = ["a", "seq/b", "seq/ü d", "seq/moved", "seq/new", "seq/staged", "out/left-out"].map(
  (name) => `show/${name}.bvh`,
);

beforeAll(async () => {
  folder = await realpath(await mkdtemp(join(tmpdir(), "keyside changed-")));
  await mkdir(join(folder, "show"));
  git("init", "-q");
  await put("show/.gitignore", "out/\n");
  for (const name of ["a", "seq/b", "seq/ü d", "seq/old"]) await put(`show/${name}.bvh`, name);
  git("add", ".");
  git("commit", "-q", "-m", "first");
  git("tag", "first");
  await put("show/seq/ü d.bvh", "changed and committed");
  git("mv", "seq/old.bvh", "seq/moved.bvh");
  git("commit", "-q", "-a", "-m", "second");
  await put("show/seq/b.bvh", "changed in the work tree");
  await put("show/seq/new.bvh", "not known");
  await put("show/seq/staged.bvh", "staged");
  git("add", "seq/staged.bvh");
  await put("show/out/left-out.bvh", "ignored");
  await put("elsewhere/c.bvh", "c");
  await symlink(join(folder, "show/seq"), join(folder, "link"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("what has changed since a revision", () => {
  test("committed, in the work tree, staged, renamed and new; not what Git ignores", async () => {
    expect(await changedSince("first", files, folder)).toEqual(files.slice(1, 6));
    const sinceSecond = ["seq/b", "seq/new", "seq/staged"].map((name) => `show/${name}.bvh`);
    expect(await changedSince("HEAD", files, folder)).toEqual(sinceSecond);
  });

  test("through a link, and from inside the folder", async () => {
    expect(await changedSince("HEAD", ["link/b.bvh", "link/moved.bvh"], folder)).toEqual(["link/b.bvh"]);
    expect(await changedSince("HEAD", ["b.bvh", "../a.bvh"], join(folder, "show/seq"))).toEqual(["b.bvh"]);
  });

  test.each(["nowhere", "--output=x", "-p", ""])(
    "the revision %j is refused, and does nothing else",
    async (revision) => {
      await expect(changedSince(revision, files, folder)).rejects.toThrow(ChangedError);
      await expect(changedSince(revision, files, folder)).rejects.toThrow("knows no revision");
    },
  );

  test("a file in no repository is named", async () => {
    await expect(changedSince("HEAD", ["elsewhere/c.bvh"], folder)).rejects.toThrow(
      "elsewhere/c.bvh is in no Git repository",
    );
  });

  test("the command says it in one line", async () => {
    const shop = await Workshop.open();
    await shop.put("a.bvh", "HIERARCHY");
    const { code, stderr } = await shop.run(["check", "a.bvh", "--changed-since", "HEAD"]);
    await shop.close();
    expect(code).toBe(2);
    expect(stderr).toMatch(/^keyside: a\.bvh is in no Git repository.*\n$/);
  });
});

test("a repository's own configuration starts no program", async () => {
  const place = await realpath(await mkdtemp(join(tmpdir(), "keyside hostile-")));
  try {
    const mark = join(place, "started");
    const run = (...argv: string[]) =>
      execFileSync("git", ["-c", "user.name=n", "-c", "user.email=n@localhost", ...argv], {
        cwd: place,
        stdio: "pipe",
      });
    run("init", "-q");
    await writeFile(join(place, "a.bvh"), "a");
    await writeFile(join(place, ".gitattributes"), "*.bvh filter=evil diff=evil\n");
    run("add", ".");
    run("commit", "-q", "-m", "first");
    const program = `touch '${mark}'; cat`;
    for (const name of [
      "filter.evil.clean",
      "filter.evil.smudge",
      "diff.evil.textconv",
      "diff.evil.command",
    ]) {
      run("config", name, program);
    }
    for (const name of ["core.fsmonitor", "diff.external", "core.pager"]) run("config", name, program);
    await writeFile(join(place, "a.bvh"), "b");
    expect(await changedSince("HEAD", ["a.bvh"], place)).toEqual(["a.bvh"]);
    await expect(stat(mark)).rejects.toThrow("ENOENT");
    // The trap works: plain Git walks into it.
    run("diff", "--name-only", "HEAD");
    await stat(mark);
  } finally {
    await rm(place, { recursive: true, force: true });
  }
});
