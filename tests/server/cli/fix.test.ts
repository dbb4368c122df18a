import { chmod, copyFile, readdir, readFile, stat } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { Ajv2020 } from "ajv/dist/2020.js";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { fixJsonSchema, fixSchema } from "../../../packages/core/session/fix-schema.ts";
import { diskFiles } from "../../../packages/server/base/files/read.ts";
import { stackTrace, Workshop } from "./run-in-process.ts";
import { bvh, cleanDocument, poppingDocument } from "./shots-for-tests.ts";

const shops: Workshop[] = [];
let shop: Workshop;
let text = "";
beforeEach(async () => {
  shop = await Workshop.open();
  shops.push(shop);
  text = `${JSON.stringify(poppingDocument(), null, 1)}\n`;
  await shop.put("pop.curves.json", text);
  await shop.put("clean.curves.json", cleanDocument());
});
afterAll(() => Promise.all(shops.map((one) => one.close())));

const read = (name: string) => readFile(shop.path(name), "utf8");

/** Numbers of the lines in which two texts differ; both have as many. */
function changedLines(before: string, after: string): number[] {
  const [a, b] = [before.split("\n"), after.split("\n")];
  expect(b).toHaveLength(a.length);
  return a.flatMap((line, at) => (line === b[at] ? [] : [at]));
}

async function reportOf(argv: readonly string[]) {
  const { stdout } = await shop.run([...argv, "--format", "json"]);
  return fixSchema.parse(JSON.parse(stdout));
}

describe("keyside fix", () => {
  test("shows what it would change, and writes nothing", async () => {
    const { code, stdout, stderr } = await shop.run(["fix", "pop.curves.json"]);
    expect(stderr).toBe("");
    expect(code).toBe(0);
    expect(stdout).toMatch(/pop, post, frame 48\n/);
    expect(stdout).toMatch(/post rotation\.z: key 48: -?[\d.]+ → -?[\d.]+\n/);
    expect(stdout).toContain(
      "Nothing has been written; --write changes the file, --out FILE writes another.",
    );
    expect(await read("pop.curves.json")).toBe(text);
    expect((await readdir(shop.folder)).sort()).toEqual(["clean.curves.json", "pop.curves.json"]);
  });

  test("--write changes the lines of the edited keys alone", async () => {
    const before = await reportOf(["fix", "pop.curves.json"]);
    const { code, stdout } = await shop.run(["fix", "pop.curves.json", "--write"]);
    expect(code).toBe(0);
    expect(stdout).toContain("Wrote pop.curves.json.");
    const after = await read("pop.curves.json");
    const keys = before.fixes.flatMap((fix) => fix.keys);
    expect(changedLines(text, after).length).toBeLessThanOrEqual(2 * keys.length);
    const [key] = JSON.parse(after).curves[0].keys.filter(([frame]: [number]) => frame === 48);
    expect(key[1]).toBeCloseTo(30 * Math.sin(47 / 12), 0);
    expect((await reportOf(["fix", "pop.curves.json"])).fixes).toEqual([]);
    expect((await readdir(shop.folder)).sort()).toEqual([
      "clean.curves.json",
      "pop.curves.json",
      "pop.undo.json",
    ]);
  });

  test("--undo puts back what --write changed, byte for byte, mode and all, and its file goes", async () => {
    await chmod(shop.path("pop.curves.json"), 0o640);
    await shop.run(["fix", "pop.curves.json", "--write"]);
    expect(await read("pop.curves.json")).not.toBe(text);
    const { code, stdout } = await shop.run(["fix", "pop.curves.json", "--undo"]);
    expect(code).toBe(0);
    expect(stdout).toBe("Put pop.curves.json back as it was before its last fixes.\n");
    expect(await read("pop.curves.json")).toBe(text);
    expect((await stat(shop.path("pop.curves.json"))).mode & 0o777).toBe(0o640);
    expect((await readdir(shop.folder)).sort()).toEqual(["clean.curves.json", "pop.curves.json"]);
    const again = await shop.run(["fix", "pop.curves.json", "--undo"]);
    expect(again.code).toBe(2);
    expect(again.stderr).toContain("there is nothing to undo");
  });

  test("--undo loses no later change unless it is forced, and takes no other file for its own", async () => {
    await shop.run(["fix", "pop.curves.json", "--write"]);
    const changed = `${await read("pop.curves.json")}\n`;
    await shop.put("pop.curves.json", changed);
    const kept = await shop.run(["fix", "pop.curves.json", "--undo"]);
    expect(kept.code).toBe(2);
    expect(kept.stderr).toContain("was changed since its fixes were written");
    expect(await read("pop.curves.json")).toBe(changed);
    expect((await shop.run(["fix", "pop.curves.json", "--undo", "--force"])).code).toBe(0);
    expect(await read("pop.curves.json")).toBe(text);
    await shop.put("pop.undo.json", "notes of somebody");
    const strange = await shop.run(["fix", "pop.curves.json", "--write"]);
    expect(strange.code).toBe(2);
    expect(strange.stderr).toContain("pop.undo.json is no undo file of fixes");
    expect(await read("pop.curves.json")).toBe(text);
    expect(await read("pop.undo.json")).toBe("notes of somebody");
  });

  test("--undo stands alone", async () => {
    const { code, stderr } = await shop.run(["fix", "pop.curves.json", "--undo", "--write"]);
    expect(code).toBe(2);
    expect(stderr).toContain("--undo stands alone");
  });

  test("tells each fix as moves of keys, and makes no sketch that is not asked for by name", async () => {
    const demo = fileURLToPath(new URL("../../../demo/shots/quay_0070_v1.curves.json", import.meta.url));
    await copyFile(demo, shop.path("quay.curves.json"));
    const plain = await reportOf(["fix", "quay.curves.json", "--only", "lone-joint"]);
    expect(plain.fixes.filter(({ kind }) => kind === "sketch")).toEqual([]);
    expect(plain.unfixed.length).toBeGreaterThan(0);
    for (const { why, sketch } of plain.unfixed) {
      expect(why).toMatch(/^[A-Z].*\. By hand: .*\.$/);
      expect(sketch?.moves.length).toBeGreaterThan(0);
    }
    const asked = await reportOf([
      "fix",
      "quay.curves.json",
      "--only",
      "lone-joint",
      "--sketch",
      "lone-joint",
    ]);
    expect(asked.fixes.map(({ kind }) => kind)).toContain("sketch");
    const { stdout } = await shop.run(["fix", "quay.curves.json", "--only", "lone-joint"]);
    expect(stdout).toMatch(/why not +[A-Z]/);
    expect(stdout).toMatch(/sketch +\S.*\(--sketch\s+lone-joint\)/s);
  });

  test("writes nothing over a file that was changed meanwhile", async () => {
    let reads = 0;
    const files = {
      ...diskFiles,
      read: async (path: string) => {
        const bytes = await diskFiles.read(path);
        if (!path.endsWith("pop.curves.json") || reads++ === 0) return bytes;
        return new TextEncoder().encode(`${text} `);
      },
    };
    const { code, stderr } = await shop.run(["fix", "pop.curves.json", "--write"], { files });
    expect(code).toBe(3);
    expect(stderr).toContain("pop.curves.json: It was changed while its fixes were worked out; run again.");
    expect(await read("pop.curves.json")).toBe(text);
  });

  test("--out writes another file, and overwrites one only with --force", async () => {
    const run = (...more: string[]) =>
      shop.run(["fix", "pop.curves.json", "--out", "new.curves.json", ...more]);
    expect((await run()).code).toBe(0);
    const written = await read("new.curves.json");
    expect(changedLines(text, written).length).toBeGreaterThan(0);
    expect(await read("pop.curves.json")).toBe(text);
    await shop.put("new.curves.json", "mine");
    const refused = await run();
    expect(refused).toMatchObject({ code: 2 });
    expect(refused.stderr).toContain("new.curves.json is there already; --force overwrites it.");
    expect(await read("new.curves.json")).toBe("mine");
    expect((await run("--force")).code).toBe(0);
    expect(await read("new.curves.json")).toBe(written);
  });

  test("--only, --node and --frames choose the notes", async () => {
    const count = async (...argv: string[]) => {
      const { fixes, unfixed } = await reportOf(["fix", "pop.curves.json", ...argv]);
      return fixes.length + unfixed.length;
    };
    expect(await count()).toBeGreaterThan(0);
    expect(await count("--only", "pop")).toBe(1);
    expect(await count("--only", "hitch,contact-slide")).toBe(0);
    expect(await count("--only", "pop", "--node", "post")).toBe(1);
    expect(await count("--only", "pop", "--node", "rim", "--node", "post", "--frames", "48")).toBe(1);
    expect(await count("--only", "pop", "--frames", "40-50")).toBe(1);
    expect(await count("--frames", "60-90")).toBe(0);
  });

  test("0 where there is nothing to do; 1 where notes of the failing tier are left", async () => {
    const nothing = await shop.run(["fix", "clean.curves.json"]);
    expect(nothing.code).toBe(0);
    expect(nothing.stdout).toContain("Nothing to fix");
    // The pop is not asked for, and stays.
    const run = (tier: string) =>
      shop.run(["fix", "pop.curves.json", "--only", "contact-slide", "--fail-on", tier]);
    expect((await run("polish")).code).toBe(1);
    expect((await run("broken")).code).toBe(0);
  });

  test("JSON agrees with the published schema", async () => {
    const validate = new Ajv2020({ strict: false }).compile(fixJsonSchema());
    for (const argv of [[], ["--only", "hitch"], ["--out", "x.curves.json"]]) {
      const { stdout } = await shop.run(["fix", "pop.curves.json", ...argv, "--format", "json"]);
      expect(validate(JSON.parse(stdout)), JSON.stringify(validate.errors)).toBe(true);
    }
  });

  test("of a captured motion is written as a curve document", async () => {
    const rows = Array.from({ length: 40 }, (_, i) => {
      const x = i === 20 ? 25 : 0;
      return `0 90 ${(i * i * (120 - 2 * i)) / 600} 0 0 0 ${x} 0 0`;
    });
    await shop.put("walk.bvh", bvh(rows));
    expect((await shop.run(["fix", "walk.bvh", "--out", "walk.bvh"])).code).toBe(2);
    const inPlace = await shop.run(["fix", "walk.bvh", "--write"]);
    expect(inPlace).toMatchObject({ code: 2, stdout: "" });
    expect(inPlace.stderr).toContain("--out FILE.curves.json");
    const fixed = await reportOf(["fix", "walk.bvh", "--only", "pop", "--out", "walk.curves.json"]);
    expect(fixed.fixes).not.toEqual([]);
    expect(fixed.written).toBe("walk.curves.json");
    const again = await reportOf(["fix", "walk.curves.json", "--only", "pop"]);
    expect(again.fixes.length + again.unfixed.length).toBe(fixed.unfixed.length);
  });

  test.each<[readonly string[], string]>([
    [["fix"], "missing required argument 'file'"],
    [["fix", "pop.curves.json", "--write", "--out", "a.curves.json"], "Either --write or --out"],
    [["fix", "pop.curves.json", "--force"], "--force goes with --out."],
    [["fix", "pop.curves.json", "--out", "a.json"], "name it *.curves.json"],
    [["fix", "pop.curves.json", "--out", "./pop.curves.json"], "--write changes the shot itself"],
    [["fix", "pop.curves.json", "--only", "popp"], 'There is no check "popp". Did you mean "pop"?'],
    [["fix", "pop.curves.json", "--node", "pots"], 'The shot has no node "pots". Did you mean "post"?'],
    [["fix", "pop.curves.json", "--frames", "9-2"], "Frames are one number, or two with a dash between"],
    [["fix", "pop.curves.json", "--rate", "film"], "A rate is a number above 0"],
  ])("2 for %j", async (argv, reason) => {
    const { code, stdout, stderr } = await shop.run(argv);
    expect(code).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toContain(reason);
    expect(stderr.trim().split("\n")).toHaveLength(1);
  });

  test("3 for a shot that cannot be read", async () => {
    await shop.put("other.curves.json", "frames and values");
    for (const name of ["other.curves.json", "none.curves.json"]) {
      const { code, stdout, stderr } = await shop.run(["fix", name]);
      expect(code).toBe(3);
      expect(stdout).toBe("");
      expect(stderr).toMatch(/^keyside: /);
      expect(stderr).not.toMatch(stackTrace);
    }
  });
});

test("a document that is torn is fixed as far as it goes, and still fails", async () => {
  await shop.put("torn.curves.json", text.slice(0, text.lastIndexOf("]")));
  const { code, stderr } = await shop.run(["fix", "torn.curves.json", "--write"]);
  expect(code).toBe(1);
  expect(stderr).toMatch(/^keyside: torn\.curves\.json:\d+:\d+: /);
  const after = await read("torn.curves.json");
  expect(changedLines(text.slice(0, text.lastIndexOf("]")), after).length).toBeGreaterThan(0);
});

test("a demo shot that is fixed in place has few notes left, and compares as fixed", async () => {
  const demo = new URL("../../../demo/shots/steps_0110_v1.curves.json", import.meta.url);
  await copyFile(fileURLToPath(demo), shop.path("before.curves.json"));
  await copyFile(fileURLToPath(demo), shop.path("steps.curves.json"));
  const { code } = await shop.run([
    ...["fix", "steps.curves.json", "--write"],
    ...["--sketch", "early-stop,block-move"],
  ]);
  expect(code).toBe(0);
  const { stdout } = await shop.run([
    "compare",
    "before.curves.json",
    "steps.curves.json",
    "--format",
    "json",
  ]);
  const compared = JSON.parse(stdout);
  // The crate and the body that carries it stand still at one moment: no change of either alone takes the jolt out.
  expect(compared.fixed.length).toBeGreaterThanOrEqual(5);
  expect(compared.new).toEqual([]);
});
