import { mkdir, mkdtemp, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { diskFiles } from "../../../../packages/server/base/files/read.ts";
import { type Discovered, discover } from "../../../../packages/server/judge/archive/discover.ts";

let cwd: string;
beforeAll(async () => {
  cwd = await mkdtemp(join(tmpdir(), "keyside discover (1)-"));
  const files = [
    "a.curves.json",
    "package.json",
    "seq/b.bvh",
    "seq/B2.BVH",
    "seq/old/c.curves.json",
    "seq/node_modules/d.curves.json",
    "seq/.trash/e.curves.json",
    "none/readme.txt",
    "odd [name]/f.curves.json",
    "looks-like.curves.json/readme.txt",
  ];
  for (const file of files) {
    await mkdir(dirname(join(cwd, file)), { recursive: true });
    await writeFile(join(cwd, file), "x");
  }
});
afterAll(() => rm(cwd, { recursive: true, force: true }));

const found = (...paths: string[]): Promise<Discovered> => discover(paths, { cwd, files: diskFiles });

describe("finding shots", () => {
  test("a folder gives all shots under it, by name", async () => {
    expect(await found("seq")).toEqual({
      files: ["seq/B2.BVH", "seq/b.bvh", "seq/old/c.curves.json"],
      errors: [],
      empty: [],
    });
  });

  test("a file is taken as it is given, and once", async () => {
    expect((await found("package.json", "./package.json", join(cwd, "package.json"))).files).toEqual([
      "package.json",
    ]);
  });

  test("a pattern gives what matches", async () => {
    expect((await found("seq/**/*.curves.json", "a.*")).files).toEqual([
      "seq/node_modules/d.curves.json",
      "seq/old/c.curves.json",
      "a.curves.json",
    ]);
    expect((await found(`${cwd.replace(/[()]/g, "\\$&")}/*.curves.json`)).files).toEqual([
      join(cwd, "a.curves.json"),
    ]);
  });

  test("a name with brackets is a name first", async () => {
    expect((await found("odd [name]")).files).toEqual(["odd [name]/f.curves.json"]);
    expect((await found("odd [name]/f.curves.json")).files).toEqual(["odd [name]/f.curves.json"]);
  });

  test("patterns of files to leave out", async () => {
    const ignoreFor = async () => [`${cwd.replace(/[()]/g, "\\$&")}/seq/old/**`];
    const { files } = await discover(["seq"], { cwd, files: diskFiles, ignoreFor });
    expect(files).toEqual(["seq/B2.BVH", "seq/b.bvh"]);
  });

  test.each([
    ["nothing", "There is no such file or folder."],
    ["seq/*.glb", "No file matches this pattern."],
  ])("%s is an error, and the others are found", async (path, message) => {
    const { files, errors } = await found(path, "a.curves.json");
    expect(files).toEqual(["a.curves.json"]);
    expect(errors).toEqual([{ file: path, message: expect.stringContaining(message) }]);
  });

  test("folders without shots are told apart from errors", async () => {
    const { files, errors, empty } = await found("none", "a.curves.json", "looks-like.curves.json");
    expect(files).toEqual(["a.curves.json"]);
    expect(errors).toEqual([]);
    expect(empty).toEqual(["none", "looks-like.curves.json"]);
  });

  test("a shot is found once, by its own name, whatever links lead to it", async () => {
    const linked = join(cwd, "linked");
    await mkdir(join(linked, "x/deep"), { recursive: true });
    await writeFile(join(linked, "x/deep/one.bvh"), "x");
    await symlink("x", join(linked, "a-link"));
    await symlink("../..", join(linked, "x/deep/round"));
    await symlink("x/deep/one.bvh", join(linked, "a.bvh"));
    const own = "linked/x/deep/one.bvh";
    for (const paths of [
      ["linked"],
      ["linked/**/*.bvh"],
      ["linked/a-link", "linked/x"],
      ["linked/a.bvh", own],
    ]) {
      expect(await found(...paths), paths.join(" ")).toEqual({ files: [own], errors: [], empty: [] });
    }
    expect((await found("linked/a-link/deep/*.bvh")).files).toEqual(["linked/a-link/deep/one.bvh"]);
  });

  test("a pattern that would take for ever takes no time, and one that is not read is told", async () => {
    const { errors } = await found(`seq/${"*e".repeat(50)}z`, "seq/!(b).bvh*");
    expect(errors.map(({ message }) => message)).toEqual([
      "No file matches this pattern.",
      "Patterns with !(…) are not read; name what is meant instead.",
    ]);
  });

  test("a disk that forbids looking", async () => {
    const files = {
      ...diskFiles,
      kind: async () => {
        throw Object.assign(new Error("EACCES"), { code: "EACCES" });
      },
    };
    const { errors } = await discover(["seq"], { cwd, files });
    expect(errors).toEqual([{ file: "seq", message: expect.stringContaining("No permission") }]);
  });
});
