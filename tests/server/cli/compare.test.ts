import { copyFile, readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { Ajv2020 } from "ajv/dist/2020.js";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { comparisonSchema } from "../../../packages/core/notes/compare-schema.ts";
import { stackTrace, Workshop } from "./run-in-process.ts";
import { cleanDocument, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
const demo = (name: string) => fileURLToPath(new URL(`../../../demo/shots/${name}`, import.meta.url));

beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("good.curves.json", cleanDocument());
  await shop.put("bad.curves.json", poppingDocument());
  await copyFile(demo("jetty_0040_v1.curves.json"), shop.path("jetty_v1.curves.json"));
  await copyFile(demo("jetty_0040_v2.curves.json"), shop.path("under-another-name.curves.json"));
});
afterAll(() => shop.close());

describe("keyside compare", () => {
  test("something new of the failing tier ends with 1, the way back with 0", async () => {
    const broken = await shop.run(["compare", "good.curves.json", "bad.curves.json"]);
    expect(broken.code).toBe(1);
    expect(broken.stdout).toMatch(/^ {2}new$/m);
    expect(broken.stdout).toContain("0 fixed");
    const fixed = await shop.run(["compare", "bad.curves.json", "good.curves.json"]);
    expect(fixed.code).toBe(0);
    expect(fixed.stdout).toMatch(/[1-9] fixed, 0 changed, 0 still there, 0 new\./);
    expect(fixed.stdout).toMatch(/^ {2}fixed$/m);
    expect(fixed.stdout).toContain("Cleared; no motion elsewhere changed.");
  });

  test("what a change moved where nothing was noted is told with the part and the frame, whoever made it", async () => {
    const worse = JSON.parse(JSON.stringify(cleanDocument()));
    for (const key of worse.curves[0].keys) if (key[0] > 70) key[1] += 4;
    await shop.put("moved.curves.json", JSON.stringify(worse));
    const { stdout } = await shop.run(["compare", "bad.curves.json", "moved.curves.json"]);
    expect(stdout).toMatch(/^Cleared; motion elsewhere changed by \d+(\.\d+)? (mm|cm): \S.*, frame \d+\.$/m);
    const { stdout: json } = await shop.run([
      ...["compare", "bad.curves.json", "moved.curves.json"],
      ...["--format", "json"],
    ]);
    expect(JSON.parse(json).elsewhere.frame).toBeGreaterThan(70);
  });

  test("only what is at or above the tier of --fail-on fails, whatever the configuration says", async () => {
    const pair = ["good.curves.json", "bad.curves.json"];
    const tiers = await shop.run(["compare", ...pair, "--format", "json"]);
    const heaviest = JSON.parse(tiers.stdout).new[0].tier;
    expect((await shop.run(["compare", ...pair, "--fail-on", heaviest])).code).toBe(1);
    expect((await shop.run(["compare", ...pair, "--fail-on", "broken"])).code).toBe(0);
    await shop.put("keyside.config.json", { failOn: "broken" });
    expect((await shop.run(["compare", ...pair, "--config", "keyside.config.json"])).code).toBe(0);
    expect(
      (await shop.run(["compare", ...pair, "--config", "keyside.config.json", "--fail-on", heaviest])).code,
    ).toBe(1);
  });

  test("versions under different names; JSON agrees with the published schema", async () => {
    const { stdout } = await shop.run([
      "compare",
      "jetty_v1.curves.json",
      "under-another-name.curves.json",
      "--format",
      "json",
    ]);
    const data = JSON.parse(stdout);
    expect(comparisonSchema.parse(data)).toEqual(data);
    const schema = JSON.parse((await shop.run(["schema", "compare"])).stdout);
    const validate = new Ajv2020({ strict: false }).compile(schema);
    expect(validate(data), JSON.stringify(validate.errors)).toBe(true);
    expect(data.before).toMatchObject({ file: "jetty_v1.curves.json", name: "jetty_0040", revision: 1 });
    expect(data.after).toMatchObject({ file: "under-another-name.curves.json", revision: 2 });
    const named = (list: { check: string; node: string }[]) =>
      list.map(({ check, node }) => `${check} ${node}`);
    expect(named(data.fixed)).toContain("rotation-flip head");
    expect(data.fixed.length + data.changed.length + data.still.length).toBe(data.before.notes);
    expect(data.new.length + data.changed.length + data.still.length).toBe(data.after.notes);
  });

  test("what is waived is listed apart, with who says so, and does not fail", async () => {
    await shop.put("waived.curves.json", {
      ...poppingDocument(),
      waivers: [
        { check: "pop", reason: "a gust", by: "Ana" },
        { check: "hitch", reason: "a gust" },
      ],
    });
    const args = ["compare", "good.curves.json", "waived.curves.json"];
    const { stdout } = await shop.run(args);
    expect(stdout).toMatch(/^ {2}waived$/m);
    expect(stdout).toContain("a gust (Ana)");
    const json = await shop.run([...args, "--format", "json"]);
    const data = JSON.parse(json.stdout);
    expect(comparisonSchema.parse(data)).toEqual(data);
    expect(data.waived[0]).toMatchObject({ before: null, after: { waiver: { reason: "a gust" } } });
    const schema = JSON.parse((await shop.run(["schema", "compare"])).stdout);
    const validate = new Ajv2020({ strict: false }).compile(schema);
    expect(validate(data), JSON.stringify(validate.errors)).toBe(true);
    expect(data.new.every(({ check }: { check: string }) => check !== "pop")).toBe(true);
  });

  test("never writes over a shot that it reads", async () => {
    const ran = await shop.run([
      "compare",
      "good.curves.json",
      "bad.curves.json",
      "--out",
      "bad.curves.json",
      "--force",
    ]);
    expect(ran.code).toBe(2);
    expect(JSON.parse(await readFile(shop.path("bad.curves.json"), "utf8")).format).toBe("keyside.curves");
  });

  test("says how the time of the newer version runs", async () => {
    const longer = cleanDocument();
    const later = (frame: number) => (frame <= 40 ? frame : frame + 6);
    await shop.put("longer.curves.json", {
      ...longer,
      shot: { ...longer.shot, range: [1, 102] },
      curves: longer.curves.map((curve) => ({
        ...curve,
        keys: curve.keys.map(([frame, value]) => [later(frame), value]),
      })),
    });
    const { stdout } = await shop.run(["compare", "good.curves.json", "longer.curves.json"]);
    expect(stdout).toContain("Frames 40 to 41 take 7 frames in the newer version, were 1.");
  });

  test("what is broken in the newer document is new and fails", async () => {
    const document = cleanDocument();
    const [curve] = document.curves;
    const keys = [...curve.keys.slice(0, 5), curve.keys[2], ...curve.keys.slice(5)];
    await shop.put("broken.curves.json", { ...document, curves: [{ ...curve, keys }] });
    const { code, stdout } = await shop.run(["compare", "good.curves.json", "broken.curves.json"]);
    expect(code).toBe(1);
    expect(stdout).toContain("broken  key-order");
  });

  test("writes to a file, which is kept unless --force is given", async () => {
    const args = ["compare", "bad.curves.json", "good.curves.json", "--out", "comparison.txt"];
    expect(await shop.run(args)).toMatchObject({ code: 0, stdout: "Wrote comparison.txt.\n" });
    const again = await shop.run(args);
    expect(again.code).toBe(2);
    expect(again.stderr).toContain("--force");
    expect((await shop.run([...args, "--force"])).code).toBe(0);
    expect(await readFile(shop.path("comparison.txt"), "utf8")).toContain("fixed");
  });

  test.each([
    [["compare", "good.curves.json"], 2],
    [["compare", "good.curves.json", "nowhere.curves.json"], 3],
    [["compare", "good.curves.json", "bad.curves.json", "--format", "xml"], 2],
    [["compare", "good.curves.json", "bad.curves.json", "--config", "nowhere.json"], 2],
  ])("%j ends with %d and one line", async (argv, code) => {
    const ran = await shop.run(argv);
    expect(ran.code).toBe(code);
    expect(ran.stderr).toMatch(/^keyside: [^\n]+\n$/);
    expect(ran.stderr).not.toMatch(stackTrace);
  });
});
