import { readFileSync } from "node:fs";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test, vi } from "vitest";
import { checkNamed } from "../../../packages/core/faults/registry.ts";
import { reportSchema } from "../../../packages/core/notes/report-schema.ts";
import { exitCodes } from "../../../packages/server/base/errors.ts";
import { reportLineSchema } from "../../../packages/server/present/report/json-lines-schema.ts";
import { Workshop } from "./run-in-process.ts";

const quay = readFileSync(new URL("../../../demo/shots/quay_0070_v1.curves.json", import.meta.url), "utf8");

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("quay.curves.json", quay);
  await shop.put("next.curves.json", quay);
});
afterAll(() => shop.close());

const pop = checkNamed("pop");
if (pop === undefined) throw new Error("the check is not there");
const breakPop = () =>
  vi.spyOn(pop, "find").mockImplementation(() => {
    throw new Error("no such <bone>");
  });
afterEach(() => {
  vi.restoreAllMocks();
});

/** The report of a run over one shot. */
const run = (...argv: string[]) =>
  shop.run(["check", "quay.curves.json", "--no-cache", "--only", "pop,hang-time", ...argv]);

describe("a check that fails", () => {
  beforeEach(() => {
    breakPop();
  });

  test("fails alone: the other notes stand, it is told on stderr once, and the run ends with 3", async () => {
    const { code, stdout, stderr } = await shop.run([
      ...["check", "quay.curves.json", "next.curves.json", "--no-cache", "--only", "pop,hang-time"],
      ...["--format", "json", "--jobs", "1"],
    ]);
    expect(code).toBe(exitCodes.unreadable);
    expect(stderr.match(/The check pop failed on /g)).toHaveLength(1);
    expect(stderr).toContain("no such <bone>. Its notes are missing there.");
    const { shots } = reportSchema.parse(JSON.parse(stdout));
    expect(shots).toHaveLength(2);
    for (const { notes, failures } of shots) {
      expect(new Set(notes.map(({ check }) => check))).toEqual(new Set(["hang-time"]));
      expect(failures).toEqual([
        { check: "pop", subject: expect.any(String), others: expect.any(Number), message: "no such <bone>" },
      ]);
    }
  });

  test("stands in the text report", async () => {
    const { stdout } = await run();
    expect(stdout).toContain("The check pop failed on ");
    expect(stdout).toContain("1 check failed");
    expect(stdout).toContain("hang-time");
  });

  test("is a line of the JSON lines, and counted in the last", async () => {
    const { stdout } = await run("--format", "jsonl");
    const lines = stdout
      .trim()
      .split("\n")
      .map((line) => reportLineSchema.parse(JSON.parse(line)));
    expect(lines.find(({ kind }) => kind === "failure")).toMatchObject({ check: "pop", shot: "quay_0070" });
    expect(lines.at(-1)).toMatchObject({ kind: "end", failures: 1 });
  });

  test("is a notification in SARIF", async () => {
    const { stdout } = await run("--format", "sarif");
    const [invocation] = JSON.parse(stdout).runs[0].invocations;
    expect(invocation.executionSuccessful).toBe(false);
    expect(invocation.toolExecutionNotifications).toMatchObject([
      { level: "error", associatedRule: { id: "pop" } },
    ]);
  });

  test("is an error in JUnit XML, and counted there", async () => {
    const { stdout } = await run("--format", "junit");
    expect(stdout).toMatch(/<testsuite[^>]* errors="1"/);
    expect(stdout).toMatch(
      /<testcase classname="quay.curves.json.pop" name="can be run"[^>]*>\s*<error type="check failed"/,
    );
    expect(stdout).toContain("no such &lt;bone&gt;");
  });

  test("stands on the archive page and on the sheet, in both of its formats", async () => {
    const page = (await run("--format", "html")).stdout;
    expect(page).toContain("Checks that failed");
    expect(page).toContain("no such &lt;bone&gt;");
    for (const format of ["html", "markdown"]) {
      const { code, stdout } = await shop.run([
        "sheet",
        "quay.curves.json",
        "--no-fixes",
        "--format",
        format,
      ]);
      expect(code).toBe(exitCodes.unreadable);
      expect(stdout).toContain("The check pop failed on ");
    }
  });

  test("is told by compare and fix, which end with 3", async () => {
    for (const argv of [
      ["compare", "quay.curves.json", "next.curves.json"],
      ["fix", "quay.curves.json"],
    ]) {
      const { code, stderr } = await shop.run([...argv, "--only", "pop"]);
      expect(code, argv[0]).toBe(exitCodes.unreadable);
      expect(stderr).toContain("The check pop failed on ");
    }
  });

  test("goes from shards into the merged report", async () => {
    const one = await shop.run([
      ...["check", "quay.curves.json", "--no-cache", "--only", "pop,hang-time", "--format", "json"],
      ...["--shard", "1/1", "--out", "part.json"],
    ]);
    expect(one.code).toBe(exitCodes.unreadable);
    const merged = await shop.run(["merge", "part.json", "--format", "json"]);
    expect(merged.code).toBe(exitCodes.unreadable);
    expect(JSON.parse(merged.stdout).shots[0].failures).toHaveLength(1);
  });
});

test("a result in which a check failed is not kept: the next run has its notes", async () => {
  const argv = ["check", "quay.curves.json", "--cache", "kept", "--only", "pop", "--format", "json"];
  breakPop();
  expect(JSON.parse((await shop.run(argv)).stdout).shots[0].notes).toEqual([]);
  vi.restoreAllMocks();
  const { stdout } = await shop.run(argv);
  expect(JSON.parse(stdout).shots[0].failures).toBeUndefined();
  expect(JSON.parse(stdout).shots[0].notes.length).toBeGreaterThan(0);
});
