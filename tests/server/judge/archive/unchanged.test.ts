import { appendFile, mkdir, readdir, readFile, rename, stat, utimes, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { diskFiles, type Files } from "../../../../packages/server/base/files/read.ts";
import { indexedJudges } from "../../../../packages/server/judge/archive/indexed-judges.ts";
import type { ShotTask } from "../../../../packages/server/judge/archive/judges.ts";
import { localJudges } from "../../../../packages/server/judge/archive/local-judges.ts";
import type { Trust } from "../../../../packages/server/judge/archive/trust.ts";
import { Workshop } from "../../cli/run-in-process.ts";
import { poppingDocument } from "../../cli/shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
});
afterAll(() => shop.close());

const limits = { count: 2, timeLimit: 3600 };
const longAgo = new Date("2020-01-01");
/** An hour after the files were written, so that their times tell what they are; and the moment itself. */
const later = () => Date.now() + 3_600_000;
const atOnce = () => 0;

/** Judges files of a folder with an index. Gives which were judged anew and which were read. */
async function judged(folder: string, trust: Trust, { stamp = "1", now = later } = {}) {
  const fresh: string[] = [];
  const read: string[] = [];
  const stored: string[] = [];
  const said: string[] = [];
  const files: Files = {
    ...diskFiles,
    read: (path, bounds) => {
      read.push(path);
      return diskFiles.read(path, bounds);
    },
  };
  const place = { folder: shop.path(`cache-${folder}`), stamp };
  const judges = indexedJudges(
    {
      ...{ options: { ...limits, cache: place }, place, trust, now },
      start: async () => localJudges({ ...limits, cache: place }),
      onDamage: (path) => said.push(path),
      onUnkept: (reason) => said.push(reason),
    },
    files,
  );
  for (const name of (await readdir(shop.path(folder))).sort()) {
    if (!name.endsWith(".curves.json")) continue;
    const path = join(shop.path(folder), name);
    const task: ShotTask = {
      ...{ file: name, path, waivers: path.replace(".curves.json", ".waivers.json") },
      ...{ kind: ".curves.json", settings: '{"config":{},"overrides":{}}' },
    };
    const judgement = await judges.judge(task);
    if (judgement.kind === "error") throw new Error(judgement.message);
    stored.push(judgement.stored);
    if (!judgement.isCached) fresh.push(name);
  }
  await judges.close();
  return { fresh, read: read.length, stored, said };
}

async function archive(folder: string): Promise<void> {
  await mkdir(shop.path(folder));
  for (const name of ["a", "b", "c"]) {
    const document = poppingDocument();
    document.shot.name = name;
    await shop.put(`${folder}/${name}.curves.json`, document);
  }
}

test("--trust content reads every shot that may be known and judges none again, also where it was moved", async () => {
  await archive("content");
  const first = await judged("content", "content");
  expect(first.fresh).toHaveLength(3);
  // Nothing is known yet: whoever judges reads it, and nobody else.
  expect(first.read).toBe(0);
  const again = await judged("content", "content");
  expect(again).toMatchObject({ fresh: [], read: 3, stored: first.stored, said: [] });
  await rename(shop.path("content/a.curves.json"), shop.path("content/d.curves.json"));
  expect((await judged("content", "content")).fresh).toEqual([]);
  expect((await judged("content", "content", { stamp: "2" })).fresh).toHaveLength(3);
});

test("--trust stat reads none of the shots whose size and times are those of before", async () => {
  await archive("stat");
  const first = await judged("stat", "stat");
  expect(await judged("stat", "stat")).toMatchObject({ fresh: [], read: 0, stored: first.stored });
  // One is touched: it is read, and known by its content. Its new times are trusted once they are old enough.
  await utimes(shop.path("stat/a.curves.json"), longAgo, longAgo);
  expect(await judged("stat", "stat", { now: atOnce })).toMatchObject({ fresh: [], read: 3 });
  expect(await judged("stat", "stat")).toMatchObject({ fresh: [], read: 1 });
  expect(await judged("stat", "stat")).toMatchObject({ fresh: [], read: 0, stored: first.stored });
  // One is changed, another gets waivers.
  await appendFile(shop.path("stat/b.curves.json"), "\n");
  expect((await judged("stat", "stat")).fresh).toEqual(["b.curves.json"]);
  await shop.put("stat/c.waivers.json", { format: "keyside.waivers", version: 1, waivers: [] });
  expect((await judged("stat", "stat")).fresh).toEqual(["c.curves.json"]);
});

test("a change that keeps size and time of change is found by the file's other times", async () => {
  await archive("sly");
  await judged("sly", "stat");
  const path = shop.path("sly/a.curves.json");
  const { atime, mtime } = await stat(path);
  await writeFile(path, (await readFile(path, "utf8")).replace('"a"', '"z"'));
  await utimes(path, atime, mtime);
  expect((await judged("sly", "stat")).fresh).toEqual(["a.curves.json"]);
});

test("a shot that has just been written is not told by its times", async () => {
  await archive("new");
  const first = await judged("new", "stat", { now: atOnce });
  expect(await judged("new", "stat")).toMatchObject({ fresh: [], read: 3, stored: first.stored });
});

test("the reports of a run with and without a cache, and by either trust, are the same", async () => {
  await archive("report");
  const report = async (...argv: string[]) => {
    const ran = await shop.run(["check", "report", "--format", "json", "--jobs", "2", ...argv]);
    expect(ran.stderr).toBe("");
    return ran.stdout;
  };
  const fresh = await report("--no-cache");
  for (const trust of ["content", "content", "stat", "stat"])
    expect(await report("--cache", "kept", "--trust", trust)).toBe(fresh);
  // A single shot is found in the index of the many.
  const one = await shop.run(["check", "report/a.curves.json", "--format", "json", "--cache", "kept"]);
  expect(JSON.parse(one.stdout).shots).toEqual(JSON.parse(fresh).shots.slice(0, 1));
});
test("a damaged index is said, and the report is the same", async () => {
  await archive("damaged");
  const argv = ["check", "damaged", "--format", "json", "--cache", "hurt"];
  const { stdout } = await shop.run(argv);
  const folder = shop.path("hurt/index-1");
  const [version = ""] = await readdir(folder);
  const [name = ""] = await readdir(join(folder, version));
  await writeFile(join(folder, version, name), "nothing of the kind");
  const again = await shop.run(argv);
  expect(again.stdout).toBe(stdout);
  expect(again.stderr).toContain(
    `${name}: This index of kept results was damaged; its shots are judged again.`,
  );
  expect((await shop.run(argv)).stderr).toBe("");
});
