import { mkdir } from "node:fs/promises";
import { afterEach, beforeEach, expect, test } from "vitest";
import { Workshop } from "./run-in-process.ts";
import { poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeEach(async () => {
  shop = await Workshop.open();
  for (const folder of ["good", "bad"]) {
    await mkdir(shop.path(folder));
    await shop.put(`${folder}/a.curves.json`, poppingDocument());
  }
});
afterEach(() => shop.close());

const misspelt = 'chekcs: There is no setting of this name. Did you mean "checks"?\n';
const jsonRun = (...paths: string[]) => shop.run(["check", ...paths, "--no-cache", "--format", "json"]);
const shotsIn = (stdout: string) => JSON.parse(stdout).shots.map(({ file }: { file: string }) => file);

test("a misspelt key in a folder run names its file, ends with 2, and the rest is judged", async () => {
  await shop.put("bad/keyside.config.json", { chekcs: {} });
  for (const paths of [
    ["."],
    ["bad", "good"],
    ["bad/*.curves.json", "good"],
    ["bad/a.curves.json", "good"],
  ]) {
    const { code, stdout, stderr } = await jsonRun(...paths);
    expect(stderr, paths.join(" ")).toContain(`${shop.path("bad/keyside.config.json")}: ${misspelt}`);
    expect(stderr.split("\n")).toHaveLength(2);
    expect(shotsIn(stdout)).toEqual(["good/a.curves.json"]);
    expect(code).toBe(2);
  }
  // What could not be judged for another reason counts more.
  expect((await jsonRun(".", "nowhere.bvh")).code).toBe(3);
});

test("of a faulty configuration every command ends with 2", async () => {
  await shop.put("bad/keyside.config.json", "{");
  const shot = "bad/a.curves.json";
  for (const argv of [
    ["check", shot],
    ["check", "bad"],
    ["check", shot, "--config", "bad/keyside.config.json"],
    ["check", shot, "--why-silent", "pop:post:4"],
    ["fix", shot],
    ["sheet", shot],
    ["compare", shot, shot],
    ["calibrate", shot, "--out", "bad/learnt.json"],
    ["calibrate", "bad", "--out", "learnt.json"],
    ["config", shot],
    ["baseline", shot, "--out", "known.json"],
  ]) {
    const { code, stderr } = await shop.run(argv);
    expect(stderr, argv.join(" ")).toMatch(/keyside\.config\.json: This is not JSON\. /);
    expect(code, argv.join(" ")).toBe(2);
  }
});

test("an ignore file that cannot be read ends with 2, and the rest is judged", async () => {
  await shop.put("bad/.keysideignore", `ok\n${"x".repeat(5000)}\n`);
  const { code, stdout, stderr } = await jsonRun("bad", "good");
  expect(stderr).toContain("bad/.keysideignore: Line 2: The pattern has ");
  expect(shotsIn(stdout)).toEqual(["good/a.curves.json"]);
  expect(code).toBe(2);
});

test("--sheets without the page that leads to them is a wrong use", async () => {
  for (const format of ["text", "json", "sarif"]) {
    const { code, stderr } = await shop.run(["check", "good", "--sheets", ".", "--format", format]);
    expect(stderr).toBe(
      "keyside: --sheets is for the page of --format html; no other format leads to sheets.\n",
    );
    expect(code).toBe(2);
  }
});

test("an expression that is not understood is told with its column, wherever it ends", async () => {
  for (const [expression, where] of [
    ["angularSpeed(subject) > 1 dge/s", "Column 27"],
    ["speed(subject) >", "Column 17"],
    ["foo(subject) > 1", "Column 1"],
    ["speed(subject) > 1 deg/s", "Column 18"],
    ["(speed(subject) > 2 m/s", "Column 24"],
    ["speed(subject) > 2 m/s ;", "Column 24"],
  ]) {
    const own = { name: "own-x", tier: "minor", node: "hips", expression, message: "m" };
    await shop.put("own.json", { ownChecks: [own] });
    const { code, stderr } = await shop.run(["check", "good", "--config", "own.json", "--no-cache"]);
    expect(stderr).toMatch(new RegExp(`^keyside: own\\.json: ownChecks\\.0\\.expression: ${where}: `));
    expect(code).toBe(2);
  }
});
