import { mkdir } from "node:fs/promises";
import { afterAll, beforeAll, expect, test } from "vitest";
import { Workshop } from "./run-in-process.ts";
import { cleanDocument, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await mkdir(shop.path("show/seq"), { recursive: true });
  await shop.put("show/seq/a.curves.json", cleanDocument());
  await shop.put("show/seq/b.curves.json", poppingDocument());
  await shop.put("show/keyside.config.json", {
    checks: { pop: false },
    ownChecks: [
      {
        name: "rim-speed",
        tier: "minor",
        node: "rim",
        expression: "speed(subject) > 1 m/s",
        message: "{subject} swings at {speed(subject)}",
      },
    ],
  });
});
afterAll(() => shop.close());

test("the nearest configuration's own checks run with the others, through the settings that workers are handed", async () => {
  const ran = await shop.run(["check", "show", "--no-cache", "--format", "json", "--fail-on", "minor"]);
  expect(ran).toMatchObject({ code: 1, stderr: "" });
  const [a, b] = JSON.parse(ran.stdout).shots;
  const own = (shot: { notes: { check: string }[] }) =>
    shot.notes.filter(({ check }) => check === "rim-speed");
  // The clean swing reaches 0.8 m · 30° · 2 rad/s ≈ 0.84 m/s; before and behind the pop it is faster, behind it more.
  expect(own(a)).toEqual([]);
  expect(own(b)).toMatchObject([
    { tier: "minor", node: "rim", frames: [49, 49] },
    { tier: "minor", node: "rim", frames: [47, 47] },
  ]);
  expect(b.failing).toBe(true);
});

test("they stand in SARIF as rules of their own", async () => {
  const ran = await shop.run(["check", "show", "--no-cache", "--format", "sarif", "--only", "own"]);
  const [run] = JSON.parse(ran.stdout).runs;
  expect(run.tool.driver.rules.map(({ id }: { id: string }) => id)).toEqual(["rim-speed"]);
  expect(run.tool.driver.rules[0].properties.tags).toEqual(["own"]);
});

test("keyside config shows them", async () => {
  const ran = await shop.run(["config", "show/seq/a.curves.json"]);
  expect(ran.stdout).toMatch(
    /rim-speed\n(.*\n)*.*expression +speed\(subject\) > 1 m\/s +show\/keyside\.config\.json/,
  );
});

test("a faulty expression is said with its file and place; only what it does not concern is judged", async () => {
  await mkdir(shop.path("other"));
  await shop.put("other/c.curves.json", cleanDocument());
  await shop.put("other/keyside.config.json", {
    ownChecks: [{ name: "x", tier: "minor", expression: "sped(rim) > 1 m/s", message: "x" }],
  });
  const ran = await shop.run(["check", "show", "other", "--no-cache", "--format", "json"]);
  expect(ran.code).toBe(2);
  expect(ran.stderr).toContain(
    'ownChecks.0.expression: Column 1: There is no series "sped". Did you mean "speed"?',
  );
  expect(ran.stderr).toContain("other/keyside.config.json");
  const judged = JSON.parse(ran.stdout).shots.map(({ file }: { file: string }) => file);
  expect(judged).toEqual(["show/seq/a.curves.json", "show/seq/b.curves.json"]);
  const alone = await shop.run(["check", "other", "--no-cache"]);
  expect(alone.code).toBe(2);
  expect(alone.stdout).not.toContain("pier_0010");
});
