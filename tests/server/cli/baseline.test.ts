import { mkdir, readdir, readFile } from "node:fs/promises";
import { Ajv2020 } from "ajv/dist/2020.js";
import { afterAll, beforeAll, expect, test } from "vitest";
import { baselineJsonSchema } from "../../../packages/server/present/report/baseline.ts";
import { Workshop } from "./run-in-process.ts";
import { poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await mkdir(shop.path("shots"));
  await shop.put("shots/pier.curves.json", poppingDocument());
});
afterAll(() => shop.close());

/** The popping sign, with a second pop. */
function worse() {
  const document = poppingDocument();
  const key = document.curves[0]?.keys[69];
  if (key !== undefined) (key as [number, number])[1] += 31;
  return document;
}

test("writes what is known, and tells only what is new against it", async () => {
  const written = await shop.run(["baseline", "shots", "--out", "known.json", "--no-cache"]);
  expect(written.code).toBe(0);
  expect(written.stdout).toMatch(/^\d+ notes? in 1 shot; written to known\.json\.\n$/);
  const baseline = JSON.parse(await readFile(shop.path("known.json"), "utf8"));
  expect(new Ajv2020({ strict: false }).compile(baselineJsonSchema())(baseline)).toBe(true);
  expect(baseline.shots).toHaveLength(1);
  const count = baseline.shots[0].fingerprints.length;
  expect(count).toBeGreaterThan(0);

  const same = await shop.run([
    "check",
    "shots",
    "--baseline",
    "known.json",
    "--no-cache",
    "--fail-on",
    "polish",
  ]);
  expect(same.code).toBe(0);
  expect(same.stdout).toContain(`${count} known note${count === 1 ? "" : "s"} left out by the baseline.`);

  await shop.put("shots/pier.curves.json", worse());
  const after = await shop.run([
    "check",
    "shots",
    "--baseline",
    "known.json",
    "--no-cache",
    "--format",
    "json",
    "--fail-on",
    "polish",
  ]);
  expect(after.code).toBe(1);
  const [shot] = JSON.parse(after.stdout).shots;
  expect(shot.known).toBeGreaterThan(0);
  expect(shot.notes.some(({ frames }: { frames: number[] }) => frames[0] === 70)).toBe(true);
  const known = new Set(baseline.shots[0].fingerprints);
  for (const note of shot.notes) expect(known.has(note.fingerprint)).toBe(false);
  await shop.put("shots/pier.curves.json", poppingDocument());
});

test("a shot keeps its baseline when its file moves or its lines shift", async () => {
  await shop.run(["baseline", "shots", "--out", "moved.json", "--no-cache"]);
  await mkdir(shop.path("elsewhere"));
  await shop.put("elsewhere/other_name.curves.json", `\n\n${JSON.stringify(poppingDocument(), null, 1)}`);
  const ran = await shop.run([
    "check",
    "elsewhere",
    "--baseline",
    "moved.json",
    "--no-cache",
    "--fail-on",
    "polish",
  ]);
  expect(ran.code).toBe(0);
});

test("SARIF results against a baseline are new", async () => {
  await shop.put("none.json", {
    format: "keyside.baseline",
    version: 1,
    tool: { name: "keyside", version: "0" },
    shots: [],
  });
  const ran = await shop.run([
    "check",
    "shots",
    "--baseline",
    "none.json",
    "--no-cache",
    "--format",
    "sarif",
  ]);
  const { results } = JSON.parse(ran.stdout).runs[0];
  expect(results.length).toBeGreaterThan(0);
  for (const result of results) expect(result.baselineState).toBe("new");
});

test("keeps a file that is there, and leaves no half of one", async () => {
  await shop.put("kept.json", "mine");
  const ran = await shop.run(["baseline", "shots", "--out", "kept.json", "--no-cache"]);
  expect(ran).toMatchObject({
    code: 2,
    stderr: "keyside: kept.json is there already; --force overwrites it.\n",
  });
  expect(await readFile(shop.path("kept.json"), "utf8")).toBe("mine");
  expect((await readdir(shop.folder)).filter((name) => name.endsWith(".part"))).toEqual([]);
});

test.each([
  [
    "half.json",
    '{"format":"keyside.baseline","version":1,"shots":[{"shot":"a"',
    "It is not a whole baseline",
  ],
  ["other.json", '{"format":"other","version":1,"shots":[]}', "It is no baseline of this version"],
  [
    "wrong.json",
    '{"format":"keyside.baseline","version":1,"shots":[{"shot":1}]}',
    "It is no baseline of this version",
  ],
  ["text.json", "not json", "It is not a whole baseline"],
])("%s is refused with one line", async (name, text, message) => {
  await shop.put(name, text);
  const ran = await shop.run(["check", "shots", "--baseline", name, "--no-cache"]);
  expect(ran.code).toBe(2);
  expect(ran.stderr).toMatch(new RegExp(`^keyside: ${name.replace(".", "\\.")}: ${message}.*\n$`));
});

test("a missing baseline is refused", async () => {
  const ran = await shop.run(["check", "shots", "--baseline", "gone.json", "--no-cache"]);
  expect(ran).toMatchObject({ code: 2, stderr: "keyside: gone.json: There is no such file or folder.\n" });
});

test("a baseline needs a place to go", async () => {
  expect((await shop.run(["baseline", "shots"])).code).toBe(2);
});

test("a history takes a line per run and refuses what is none", async () => {
  for (const expected of [1, 2]) {
    const ran = await shop.run([
      "check",
      "shots",
      "--history",
      "runs.jsonl",
      "--no-cache",
      "--format",
      "html",
      "--out",
      "page.html",
      "--force",
    ]);
    expect(ran.code).toBe(1);
    const lines = (await readFile(shop.path("runs.jsonl"), "utf8")).trimEnd().split("\n");
    expect(lines).toHaveLength(expected);
    expect(JSON.parse(lines[0] as string)).toMatchObject({ shots: 1, failing: 1, errors: 0 });
  }
  expect(await readFile(shop.path("page.html"), "utf8")).toContain("Notes per shot over 2 runs");
  await shop.put("wrong.jsonl", '{"at":1}\n');
  const ran = await shop.run(["check", "shots", "--history", "wrong.jsonl", "--no-cache"]);
  expect(ran.code).toBe(3);
  expect(ran.stderr).toMatch(/^keyside: wrong\.jsonl: Line 1 is no run of Keyside \(at\); .*\n$/);
  expect(await readFile(shop.path("wrong.jsonl"), "utf8")).toBe('{"at":1}\n');
});

test("the page leads to the sheets of a folder", async () => {
  await mkdir(shop.path("sheets/shots"), { recursive: true });
  await shop.put("sheets/shots/pier.html", "<!doctype html>");
  await shop.run([
    "check",
    "shots",
    "--no-cache",
    "--format",
    "html",
    "--sheets",
    "sheets",
    "--out",
    "index.html",
  ]);
  expect(await readFile(shop.path("index.html"), "utf8")).toContain('href="sheets/shots/pier.html"');
});
