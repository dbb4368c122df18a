import { execFileSync } from "node:child_process";
import { copyFile, mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { expect, test } from "vitest";
import { diskFiles } from "../../../../packages/server/base/files/read.ts";
import { IgnoreFiles } from "../../../../packages/server/judge/archive/ignore-files.ts";

const lists: Readonly<Record<string, string>> = {
  ".": "*.tmp.bvh\n/top.bvh\nblock/\n!block/kept.bvh\nseq/*/old.bvh\n**/wip*.bvh\n\\#odd.bvh\n# a remark\nspaced.bvh  \nkept\\ .bvh\n[w-y]?[!a].bvh\nq**r.bvh\n",
  seq: "!keep.tmp.bvh\ndeep/**\n!deep/one.bvh\n",
  "seq/a": "*\n!wip_final.bvh\n",
};
const shots = [
  "top.bvh",
  "seq/top.bvh",
  "a.tmp.bvh",
  "seq/keep.tmp.bvh",
  "seq/other.tmp.bvh",
  "block/kept.bvh",
  "seq/block/x.bvh",
  "seq/b/old.bvh",
  "seq/b/c/old.bvh",
  "seq/wip1.bvh",
  "seq/a/wip_final.bvh",
  "seq/a/x.bvh",
  "seq/a/deeper/y.bvh",
  "seq/deep/one.bvh",
  "seq/deep/two.bvh",
  "#odd.bvh",
  "good.bvh",
  "spaced.bvh",
  "kept .bvh",
  "seq/x1b.bvh",
  "seq/x1a.bvh",
  "seq/q/r.bvh",
  "seq/q-r.bvh",
];

test("leaves out what Git leaves out for the same lists", async () => {
  const folder = await mkdtemp(join(tmpdir(), "keyside-ignore-"));
  try {
    execFileSync("git", ["init", "-q"], { cwd: folder });
    for (const shot of shots) {
      await mkdir(dirname(join(folder, shot)), { recursive: true });
      await writeFile(join(folder, shot), "");
    }
    for (const [place, list] of Object.entries(lists)) {
      await writeFile(join(folder, place, ".keysideignore"), list);
      await copyFile(join(folder, place, ".keysideignore"), join(folder, place, ".gitignore"));
    }
    const listed = execFileSync("git", ["ls-files", "-z", "--others", "--exclude-standard"], { cwd: folder });
    const expected = listed
      .toString()
      .split("\0")
      .filter((name) => name.endsWith(".bvh"))
      .sort();
    const ignoring = new IgnoreFiles(diskFiles);
    const left: string[] = [];
    for (const shot of shots) if (!(await ignoring.isIgnored(join(folder, shot)))) left.push(shot);
    expect(left.sort()).toEqual(expected);
    expect(left.length).toBeGreaterThan(3);
    expect(left.length).toBeLessThan(shots.length - 3);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
});
