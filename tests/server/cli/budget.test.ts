import { readFile } from "node:fs/promises";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { budgetFrom, budgetNames } from "../../../packages/server/base/budget.ts";
import { Workshop } from "./run-in-process.ts";
import { bvh, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  const shot = poppingDocument();
  await shop.put("a.curves.json", shot);
  const demo = new URL("../../../demo/shots/quay_0070_v1.curves.json", import.meta.url);
  await shop.put("quay.curves.json", await readFile(demo, "utf8"));
  await shop.put("a.bvh", bvh(Array.from({ length: 40 }, () => "0 0 0 0 0 0 0 0 0")));
});
afterAll(() => shop.close());

const quick = ["--no-cache", "--only", "pop"];

describe("a shot that is more work than is meant is refused before it is done", () => {
  const refusal = (name: string) => new RegExp(`^keyside: \\S+: .* If that is meant, --budget ${name}=\\d+`);

  test("a range with a slip of the pen, by every command that judges", async () => {
    await shop.put("long.curves.json", {
      ...poppingDocument(),
      shot: { frameRate: 24, range: [1, 900_000] },
      nodes: Array.from({ length: 30 }, (_, i) => ({ id: i === 0 ? "post" : `n${i}` })),
    });
    for (const argv of [
      ["check", "long.curves.json", ...quick],
      ["fix", "long.curves.json"],
      ["sheet", "long.curves.json"],
      ["compare", "long.curves.json", "a.curves.json"],
      ["check", "long.curves.json", "--why-silent", "pop:post:4"],
      ["calibrate", "long.curves.json", "--out", "c.json"],
    ]) {
      const { code, stderr } = await shop.run(argv);
      expect(stderr).toMatch(refusal("poses"));
      expect(stderr).toContain("900,000 frames of 30 nodes to judge, which are 27,000,000 poses");
      expect(code).toBe(3);
    }
    // Nothing is posed by converting.
    expect((await shop.run(["convert", "long.curves.json", "out.curves.json"])).code).toBe(0);
  });

  test("a rate that makes frames without number, of documents and of capture", async () => {
    for (const file of ["a.curves.json", "a.bvh"]) {
      const { code, stderr } = await shop.run(["check", file, ...quick, "--rate", "9999999"]);
      expect(stderr).toMatch(refusal("poses"));
      expect(code).toBe(3);
    }
  });

  test("poses, keys, notes and the file itself, each with the number that would allow it", async () => {
    for (const [name, number] of [
      ["poses", "100"],
      ["keys", "50"],
      ["notes", "1"],
      ["file", "900"],
    ] as const) {
      const argv = ["check", "quay.curves.json", "--no-cache"];
      const { code, stderr } = await shop.run([...argv, "--budget", `${name}=${number}`]);
      expect(code, name).toBe(3);
      const raised = /--budget (\w+=\S+?)[ .]/.exec(stderr)?.[1];
      expect(raised, stderr).toMatch(new RegExp(`^${name}=`));
      const again = await shop.run([...argv, "--budget", raised as string]);
      expect(again.code, raised).toBeLessThan(2);
    }
  });

  test("figures without number", async () => {
    const figures = Array.from({ length: 1001 }, (_, i) => ({ id: `f${i}`, parts: { root: "post" } }));
    await shop.put("crowd.curves.json", { ...poppingDocument(), figures });
    const { code, stderr } = await shop.run(["check", "crowd.curves.json", ...quick]);
    expect(stderr).toMatch(refusal("figures"));
    expect(stderr).toContain("It has 1,001 figures, and at most 1,000 are allowed.");
    expect(code).toBe(3);
  });

  test("what is no budget is a wrong use", async () => {
    for (const text of ["poses", "poses=", "poses=-1", "poses=1e9", "frames=3", "file=many", "poses=0"]) {
      expect(budgetFrom(text)).toBeNull();
    }
    expect(budgetNames.map((name) => budgetFrom(`${name}=7`))).toEqual(
      budgetNames.map((name) => ({ [name]: 7 })),
    );
    expect(budgetFrom("file=2GB")).toEqual({ file: 2_000_000_000 });
    const { code, stderr } = await shop.run(["check", "a.curves.json", "--budget", "pose=3"]);
    expect(code).toBe(2);
    expect(stderr).toContain("one of file, poses, keys, figures, notes");
  });
});

test("a single shot that takes too long is given up, by every command that judges", async () => {
  for (const argv of [
    ["check", "a.curves.json", "--no-cache"],
    ["fix", "a.curves.json"],
    ["sheet", "a.curves.json"],
    ["compare", "a.curves.json", "a.curves.json"],
    ["check", "a.curves.json", "--why-silent", "pop:post:4"],
    ["calibrate", "a.curves.json", "--out", "c.json"],
  ]) {
    const { code, stderr } = await shop.run([...argv, "--time-limit", "0.001"]);
    expect(stderr.split("\n")[0]).toBe(
      "keyside: a.curves.json: Checking it took longer than 0.001 s and was given up; --time-limit gives it more.",
    );
    expect(code).toBe(3);
  }
});
