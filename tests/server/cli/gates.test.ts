import { execFileSync } from "node:child_process";
import { link, lstat, mkdir, readdir, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { reportSchema } from "../../../packages/core/notes/report-schema.ts";
import { UnreadableError } from "../../../packages/server/base/errors.ts";
import { Workshop } from "./run-in-process.ts";
import { cleanDocument, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeEach(async () => {
  shop = await Workshop.open();
  await shop.put("a.curves.json", poppingDocument());
});
afterEach(() => shop.close());

const pipe = (name: string) => execFileSync("mkfifo", [shop.path(name)]);

describe("what is no plain file is told, and nothing waits for it", () => {
  test("as a shot; the others are judged", async () => {
    pipe("b.curves.json");
    await symlink("/dev/zero", shop.path("c.curves.json"));
    const argv = ["check", ".", "b.curves.json", "--format", "json", "--no-cache"];
    const { code, stdout, stderr } = await shop.run(argv);
    expect(code).toBe(3);
    expect(stderr).toBe(
      "keyside: b.curves.json: This is a pipe, not a file.\n" +
        "keyside: c.curves.json: This is a device, not a file.\n",
    );
    const { shots, errors } = reportSchema.parse(JSON.parse(stdout));
    expect([shots.length, errors.length]).toEqual([1, 2]);
  });

  test.each([
    ["waivers", "a.waivers.json", [], 3],
    ["the configuration", "keyside.config.json", [], 2],
    ["an ignore file", ".keysideignore", [], 2],
    ["a named configuration", "x.json", ["--config", "x.json"], 2],
    ["a baseline", "x.json", ["--baseline", "x.json"], 2],
    ["a history", "x.json", ["--history", "x.json"], 3],
    ["a list", "x.json", ["--files-from", "x.json"], 2],
  ])("as %s", async (_, name, argv, expected) => {
    pipe(name);
    const { code, stderr } = await shop.run(["check", ".", "--no-cache", ...argv]);
    expect({ code, lines: stderr.split("\n").length }).toEqual({ code: expected, lines: 2 });
    expect(stderr).toContain(name);
    expect(stderr).toContain("This is a pipe, not a file.");
  });

  test("as a part of a merge", async () => {
    pipe("part.json");
    const { code, stderr } = await shop.run(["merge", "part.json"]);
    expect({ code, stderr }).toEqual({
      code: 3,
      stderr: "keyside: part.json: This is a pipe, not a file.\n",
    });
  });
});

describe("what a run reads is not written over, by whatever name", () => {
  const refused = async (argv: readonly string[], out: string, why: RegExp) => {
    const { code, stderr } = await shop.run([...argv, "--out", out, "--force"]);
    expect(stderr).toMatch(why);
    expect(code).toBe(2);
    expect((await readdir(shop.folder)).filter((name) => name.endsWith(".part"))).toEqual([]);
  };
  const says = /says how shots are judged; name another file\.\n$/;
  const isRead = /is read by this run; name another file\.\n$/;
  const isShot = /holds a shot or its waivers; name another file\.\n$/;
  const check = ["check", ".", "--no-cache"];

  test("the configuration that was found, and an ignore file", async () => {
    await shop.put("keyside.config.json", { style: "snappy" });
    await shop.put(".keysideignore", "old\n");
    for (const argv of [check, ["calibrate", "."], ["sheet", "a.curves.json"], ["baseline", "."]]) {
      await refused(argv, "keyside.config.json", says);
      await refused(argv, ".keysideignore", says);
      await refused(argv, "./.keysideignore", says);
    }
    expect(await readFile(shop.path("keyside.config.json"), "utf8")).toBe('{"style":"snappy"}');
    expect(await readFile(shop.path(".keysideignore"), "utf8")).toBe("old\n");
  });

  test("a configuration by another name of its own", async () => {
    await shop.put("keyside.config.json", { style: "snappy" });
    await link(shop.path("keyside.config.json"), shop.path("settings.json"));
    await refused(check, "settings.json", isRead);
  });

  test("a shot through a link, or by a second name", async () => {
    await symlink("a.curves.json", shop.path("soft.json"));
    await link(shop.path("a.curves.json"), shop.path("hard.json"));
    const before = await readFile(shop.path("a.curves.json"), "utf8");
    await refused(check, "soft.json", isShot);
    await refused(check, "hard.json", isRead);
    await refused(["sheet", "a.curves.json", "--no-fixes"], "hard.json", isRead);
    await refused(["compare", "a.curves.json", "a.curves.json"], "hard.json", isRead);
    expect(await readFile(shop.path("a.curves.json"), "utf8")).toBe(before);
  });

  test("the modules of plug-ins, and what they import", async () => {
    await shop.put("keyside.config.json", { plugins: ["./studio.mjs"] });
    await shop.put("studio.mjs", 'import "./helper.mjs";\nexport default () => ({});');
    await shop.put("helper.mjs", "");
    await refused(check, "studio.mjs", isRead);
    await refused(check, "helper.mjs", isRead);
  });

  test("converting through a link to its own input", async () => {
    await symlink("a.curves.json", shop.path("soft.curves.json"));
    const { code, stderr } = await shop.run(["convert", "a.curves.json", "soft.curves.json", "--force"]);
    expect(code).toBe(2);
    expect(stderr).toMatch(isRead);
  });
});

test("a shot that is fixed through a link: the link stays, and the real shot is changed", async () => {
  await mkdir(shop.path("store"));
  await shop.put("store/real.curves.json", poppingDocument());
  await symlink("store/real.curves.json", shop.path("link.curves.json"));
  const before = await readFile(shop.path("store/real.curves.json"), "utf8");
  const { stdout } = await shop.run(["fix", "link.curves.json", "--only", "pop", "--write"]);
  expect(stdout).toContain("link.curves.json");
  expect((await lstat(shop.path("link.curves.json"))).isSymbolicLink()).toBe(true);
  expect(await readFile(shop.path("store/real.curves.json"), "utf8")).not.toBe(before);
});

test("a report that cannot be written whole ends with exit code 3, and says why", async () => {
  const failure = new UnreadableError("stdout", "The disk is full.");
  const lost = { stdoutTaken: () => Promise.reject(failure) };
  for (const argv of [
    ["check", "a.curves.json", "--no-cache"],
    ["explain"],
    ["schema", "report"],
    ["sheet", "a.curves.json", "--no-fixes"],
  ]) {
    const { code, stderr } = await shop.run(argv, lost);
    expect({ code, stderr }).toEqual({ code: 3, stderr: "keyside: stdout: The disk is full.\n" });
  }
});

test("entries that others have put into the cache count as none", async () => {
  await shop.put("a.curves.json", cleanDocument());
  const argv = ["check", "a.curves.json", "--cache", "kept", "--format", "json"];
  const first = await shop.run(argv);
  const entries = (await readdir(shop.path("kept"), { recursive: true })).filter((name) =>
    name.endsWith(".gz"),
  );
  const [entry = ""] = entries;
  const path = join(shop.path("kept"), entry);
  const key = entry.replace(/^.*?\/|\.gz$/g, "").replace("/", "");
  const forgeries = [
    "null",
    "[]",
    "{}",
    '{"name":null}',
    '{"name":null,"frameRate":24,"range":[1,2],"figures":[],"inferred":[],"notes":[null]}',
    '{"name":null,"frameRate":24,"range":[1,2],"figures":[],"inferred":[],"notes":[{"keys":7}]}',
    "not JSON",
  ];
  for (const forged of forgeries) {
    await writeFile(path, gzipSync(`${key}\n${forged}`));
    expect(await shop.run(argv), forged).toEqual(first);
  }
  // A small file that would unpack to gigabytes, a pipe, a device.
  await writeFile(path, gzipSync(Buffer.alloc(300_000_000)));
  expect(await shop.run(argv)).toEqual(first);
  await rm(path);
  execFileSync("mkfifo", [path]);
  expect(await shop.run(argv)).toEqual(first);
  await rm(path);
  await symlink("/dev/zero", path);
  expect(await shop.run(argv)).toEqual(first);
});

test.skipIf(process.platform !== "linux")(
  "a cache where nothing can be made is told of, and the run goes on",
  async () => {
    const { code, stderr } = await shop.run(["check", "a.curves.json", "--cache", "/proc/keyside"]);
    expect(stderr).toBe(
      "keyside: Results could not be kept in the cache: There is no such file or folder.\n",
    );
    expect(code).toBeLessThan(2);
  },
);
