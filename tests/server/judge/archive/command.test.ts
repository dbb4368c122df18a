import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { reportSchema } from "../../../../packages/core/notes/report-schema.ts";
import { localJudges } from "../../../../packages/server/judge/archive/local-judges.ts";
import { cacheContents } from "../../../../packages/server/judge/archive/tidy-cache.ts";
import { formatNames } from "../../../../packages/server/present/report/formats.ts";
import { type Ran, stackTrace, Workshop } from "../../cli/run-in-process.ts";
import { cleanDocument, poppingDocument } from "../../cli/shots-for-tests.ts";

let shop: Workshop;

/** Shots of the archive by their names; half of them pop. */
const names = Array.from({ length: 24 }, (_, i) => `archive/seq${i % 3}/pier_${String(i).padStart(2, "0")}`);

beforeAll(async () => {
  shop = await Workshop.open();
  for (const [i, name] of names.entries()) {
    const document = i % 2 === 0 ? cleanDocument() : poppingDocument();
    // One in three is called after its file.
    const { name: _, ...unnamed } = document.shot;
    const shot = i % 3 === 0 ? unnamed : { ...document.shot, name: `pier_${i}` };
    await put(`${name}.curves.json`, JSON.stringify({ ...document, shot }));
  }
  await put("archive/seq1/empty.bvh", "");
  await put("archive/seq2/keyside.config.json", JSON.stringify({ failOn: "polish", checks: { pop: false } }));
});
afterAll(() => shop.close());

async function put(name: string, text: string): Promise<void> {
  await mkdir(dirname(shop.path(name)), { recursive: true });
  await writeFile(shop.path(name), text);
}

const check = (...argv: string[]): Promise<Ran> => shop.run(["check", ...argv, "--format", "json"]);
const filesIn = ({ stdout }: Ran): string[] =>
  reportSchema.parse(JSON.parse(stdout)).shots.map(({ file }) => file);

describe("shards", () => {
  test.each([
    ["content", 1],
    ["content", 3],
    ["path", 5],
    ["content", 60],
  ])("by %s, %i of them, merged, are the single run byte for byte", async (key, of) => {
    const paths = ["archive", "nowhere", "archive/seq0"];
    const single = await check(...paths);
    expect(single.code).toBe(3);
    const parts: string[] = [];
    for (let index = of; index >= 1; index--) {
      const part = `part-${key}-${index}-of-${of}.json`;
      await check(...paths, "--shard", `${index}/${of}`, "--shard-by", key, "--out", part, "--force");
      parts.push(part);
    }
    const merged = await shop.run(["merge", ...parts, "--format", "json"]);
    expect(merged.stdout).toBe(single.stdout);
    expect(merged.code).toBe(single.code);
    expect(merged.stderr).toBe(single.stderr);
    for (const format of formatNames) {
      // A merged page has the shots' reports and not the shots: it cannot draw them.
      const undrawn = format === "html" ? ["--no-pictures"] : [];
      const { stdout } = await shop.run(["check", ...paths, "--format", format, ...undrawn]);
      expect((await shop.run(["merge", ...parts, "--format", format])).stdout).toBe(stdout);
    }
    const light = await shop.run(["check", ...paths, "--tier", "major"]);
    expect((await shop.run(["merge", ...parts, "--tier", "major"])).stdout).toBe(light.stdout);
  });

  test("the configuration's failing tier reaches the merged report's exit code", async () => {
    const seq = async (name: string) => {
      const argv = [`archive/${name}`, "--fail-on", "polish", "--out", `one-${name}.json`, "--force"];
      const { code } = await check(...argv);
      expect((await shop.run(["merge", `one-${name}.json`])).code).toBe(code);
    };
    await seq("seq0");
    await seq("seq2");
  });

  test("parts that do not belong together are refused, with the reason", async () => {
    for (const [index, of] of [
      [1, 3],
      [2, 3],
      [1, 2],
    ] as const) {
      await check("archive", "--shard", `${index}/${of}`, "--out", `p${index}of${of}.json`, "--force");
    }
    await check("archive/seq0", "--out", "seq0.json", "--force");
    await put("again.json", await readFile(shop.path("seq0.json"), "utf8"));
    await put("cut.json", (await readFile(shop.path("p1of3.json"), "utf8")).slice(0, -30));
    await put("other.json", '{"shots": []}');
    await put(
      "old.json",
      (await readFile(shop.path("seq0.json"), "utf8")).replace(/"version":"[^"]*"/, '"version":"0.0.1"'),
    );
    const refused = async (code: number, reason: string, ...parts: string[]) => {
      const ran = await shop.run(["merge", ...parts]);
      expect(ran.stderr).toContain(reason);
      expect(ran.stderr).not.toMatch(stackTrace);
      expect(ran.code).toBe(code);
    };
    await refused(2, "Of 3 shards these are missing: 3.", "p1of3.json", "p2of3.json");
    await refused(2, "are both shard 1", "p1of3.json", "p1of3.json", "p2of3.json");
    await refused(2, "is one of 3 shards and p1of2.json is one of 2", "p1of3.json", "p1of2.json");
    await refused(2, "is one shard of an archive and seq0.json is not", "seq0.json", "p1of3.json");
    await refused(2, "stands in seq0.json and in again.json", "seq0.json", "again.json");
    await refused(2, "was written by version 0.0.1", "old.json");
    await refused(3, "cut.json: It is not a whole report as JSON: it ends early.", "cut.json");
    await refused(3, "other.json: It is no report as JSON", "other.json");
    await refused(3, "no.json: There is no such file or folder.", "no.json");
  });

  test("a figure that one shard lacks is no wrong use", async () => {
    const argv = ["archive", "--figure", "heron", "--shard", "1/3"];
    expect((await check(...argv)).code).not.toBe(2);
  });
});

describe("the cache", () => {
  const inHome = () => ({ env: { HOME: shop.folder } });

  test("a second run gives the same report from what was kept, also under another name", async () => {
    const argv = ["check", "archive", "--format", "json"];
    const first = await shop.run(argv, inHome());
    const kept = async () =>
      (await readdir(shop.path(".cache/keyside"), { recursive: true })).filter((name) =>
        /\.(gz|index)$/.test(name),
      );
    const results = async () => (await cacheContents(shop.path(".cache/keyside"))).entries;
    const count = await results();
    expect(count).toBeGreaterThan(0);
    expect((await shop.run(argv, inHome())).stdout).toBe(first.stdout);
    expect(await results()).toBe(count);
    const document = await readFile(shop.path(`${names[0]}.curves.json`), "utf8");
    await put("moved/elsewhere.curves.json", document);
    const moved = await shop.run(["check", "moved", "--format", "json"], inHome());
    expect(JSON.parse(moved.stdout).shots[0]).toMatchObject({
      file: "moved/elsewhere.curves.json",
      name: "elsewhere",
    });
    expect(await results()).toBe(count);
    // What is damaged is computed again.
    for (const name of await kept()) await writeFile(shop.path(`.cache/keyside/${name}`), "damaged");
    expect((await shop.run(argv, inHome())).stdout).toBe(first.stdout);
  });

  test("other settings are other results; --no-cache keeps none", async () => {
    const cache = ["--cache", "kept"];
    const all = await check("archive/seq1", ...cache);
    const some = await check("archive/seq1", ...cache, "--only", "hitch");
    expect(some.stdout).not.toBe(all.stdout);
    expect((await check("archive/seq1", ...cache)).stdout).toBe(all.stdout);
    await check("archive/seq1", "--no-cache");
    await expect(readdir(shop.path("none"))).rejects.toThrow();
    expect((await shop.run(["cache", "--cache", "kept"])).stdout).toMatch(/: \d+ results, [\d.]+ k?B\.\n$/);
    expect((await shop.run(["cache", "--cache", "kept", "--prune", "1 GB"])).stdout).toContain("0 results");
    expect((await shop.run(["cache", "--cache", "kept", "--clear"])).stdout).toMatch(
      /Took away \d\d? results/,
    );
    expect((await shop.run(["cache", "--cache", "kept"])).stdout).toContain("0 results, 0 B");
    expect((await shop.run(["cache", "--prune", "much"])).code).toBe(2);
    expect((await shop.run(["cache"])).stderr).toContain("name the cache with --cache DIR");
  });

  test("one that cannot be written is said once, and the report is whole", async () => {
    await put("file", "");
    const ran = await check("archive/seq0", "--cache", "file");
    expect(ran.stderr.match(/could not be kept/g)).toHaveLength(1);
    expect(filesIn(ran)).toHaveLength(8);
  });
});

describe("selection", () => {
  test("--files-from takes a list from a file or from stdin, with lines or NUL characters", async () => {
    const two = [`${names[5]}.curves.json`, `${names[2]}.curves.json`];
    await put("list.txt", `${two.join("\r\n")}\n`);
    const expected = [...two].sort();
    expect(filesIn(await check("--files-from", "list.txt"))).toEqual(expected);
    const piped = (text: string) =>
      shop.run(["check", "--files-from", "-", "--format", "json"], {
        stdin: async () => new TextEncoder().encode(text),
      });
    expect(filesIn(await piped(two.join("\n")))).toEqual(expected);
    expect(filesIn(await piped(`${two.join("\0")}\0`))).toEqual(expected);
    const none = await piped("\n");
    expect(filesIn(none)).toEqual([]);
    expect(none.code).toBe(0);
    expect((await check("--files-from", "nowhere.txt")).stderr).toContain(
      "nowhere.txt: There is no such file",
    );
  });

  test("ignore files leave out what folders and patterns give, not what is named", async () => {
    await put("show/.keysideignore", "# blocking comes later\nblocking/\n*_old.curves.json\n");
    await put("show/seq/.keysideignore", "!keep_old.curves.json\n");
    for (const name of ["seq/a", "seq/keep_old", "seq/b_old", "blocking/c", "c_old"]) {
      await put(`show/${name}.curves.json`, JSON.stringify(cleanDocument()));
    }
    const left = ["show/seq/a.curves.json", "show/seq/keep_old.curves.json"];
    expect(filesIn(await check("show"))).toEqual(left);
    expect(filesIn(await check("show/seq"))).toEqual(left);
    expect(filesIn(await check("show/**/*.curves.json"))).toEqual(left);
    expect(filesIn(await check("show/c_old.curves.json"))).toEqual(["show/c_old.curves.json"]);
  });
});

describe("a run that is stopped", () => {
  test("leaves a valid report of what is done, and says how far it came", async () => {
    let stop = () => {};
    let judged = 0;
    const ran = await shop.run(["check", "archive", "--format", "json", "--out", "stopped.json"], {
      onInterrupt(handler) {
        stop = handler;
        return () => {};
      },
      async startJudges(options) {
        const judges = localJudges(options);
        return {
          ...judges,
          judge(task) {
            if (++judged === 10) stop();
            return judges.judge(task);
          },
        };
      },
    });
    expect(ran.code).toBe(130);
    const report = reportSchema.parse(JSON.parse(await readFile(shop.path("stopped.json"), "utf8")));
    expect(report.stopped).toEqual({ done: report.shots.length + report.errors.length, of: 25 });
    expect(report.shots.length).toBeGreaterThanOrEqual(8);
    expect(report.shots.length).toBeLessThan(24);
    expect(ran.stderr).toContain(`Stopped after ${report.stopped?.done} of 25 inputs`);
    // A report that is merged from it says so too.
    const merged = await shop.run(["merge", "stopped.json"]);
    expect(merged.code).toBe(130);
    expect(merged.stdout).toContain("the rest has not been judged");
  });
});

describe("keyside config", () => {
  test("names each value and where it comes from", async () => {
    await put(
      "lot/keyside.config.json",
      JSON.stringify({ rate: 24, style: "snappy", checks: { pop: { floor: "2 cm" }, hitch: false } }),
    );
    await put("lot/deep/a.curves.json", JSON.stringify(cleanDocument()));
    const shown = async (...argv: string[]) =>
      JSON.parse((await shop.run(["config", "lot/deep/a.curves.json", "--format", "json", ...argv])).stdout);
    const all = await shown("--style", "full", "--only", "pop");
    const file = "lot/keyside.config.json";
    expect(all.configuration).toBe(file);
    expect(all.run.rate).toEqual({ value: 24, unit: "fps", from: file });
    expect(all.run.style).toEqual({ value: "full", from: "command line" });
    expect(all.run.failOn).toEqual({ value: "major", from: "default" });
    expect(all.checks.pop.floor).toEqual({ value: 0.02, unit: "m", from: file });
    expect(all.checks.pop.spread.from).toBe("default");
    expect(all.checks.pop.on).toEqual({ value: true, from: "command line" });
    const own = await shown();
    expect(own.checks.hitch.on).toEqual({ value: false, from: file });
    expect(own.checks["hard-stop"].on).toMatchObject({ value: false, from: "style snappy" });
    expect(own.checks.pop.spread.from).toBe("style snappy");
    const { stdout } = await shop.run(["config", "archive/seq0"]);
    expect(stdout).toContain("no keyside.config.json in its folder or above");
    expect((await shop.run(["config", "nowhere"])).stderr).toBe(
      "keyside: nowhere: There is no such file or folder.\n",
    );
  });
});
