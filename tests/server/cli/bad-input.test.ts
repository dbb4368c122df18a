import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { reportSchema } from "../../../packages/core/notes/report-schema.ts";
import { diskFiles } from "../../../packages/server/base/files/read.ts";
import { stackTrace, Workshop } from "./run-in-process.ts";
import { bvh, cleanDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("good.curves.json", cleanDocument());
});
afterAll(() => shop.close());

const still = "0 90 0 0 0 0 0 0 0";
const text = JSON.stringify(cleanDocument());
/** A hundred chains of a hundred nodes. */
const manyNodes = Array.from({ length: 10_000 }, (_, i) =>
  i % 100 === 0 ? { id: `n${i}` } : { id: `n${i}`, parent: `n${i - 1}`, translation: [0, 1, 0] },
);

/** Inputs of which nothing can be judged: exit code 3, and what the error must name. */
const unreadable: readonly [string, string, string | Uint8Array | object, RegExp][] = [
  ["an empty file", "empty.curves.json", "", /empty\.curves\.json: The file is empty/],
  ["an empty BVH", "empty.bvh", "", /empty\.bvh: The file is empty/],
  ["no JSON", "prose.curves.json", "Dear animator,", /prose\.curves\.json: Line 1, column 1: /],
  [
    "JSON of another kind",
    "other.curves.json",
    { name: "x", version: "1.0.0" },
    /other\.curves\.json: Line 1, column /,
  ],
  ["a JSON list", "list.curves.json", "[1, 2, 3]", /list\.curves\.json: Line 1, column 1: /],
  ["a binary file", "model.curves.json", new Uint8Array([0x67, 0x6c, 0x54, 0x46, 2, 0, 0, 0]), /binary/],
  ["no BVH", "prose.bvh", "Dear animator,", /prose\.bvh: Line 1, column 1: /],
  ["another kind of file", "notes.docx", "x", /notes\.docx: Files of this kind are not read/],
];

describe("an input of which nothing can be judged", () => {
  test.each(unreadable)("%s", async (_, name, content, message) => {
    await shop.put(name, content);
    const { code, stdout, stderr } = await shop.run(["check", name, "good.curves.json"]);
    expect(stderr).toMatch(message);
    expect(stderr + stdout).not.toMatch(stackTrace);
    expect(stderr.trim().split("\n")).toHaveLength(1);
    expect(code).toBe(3);
    // The others are still reported.
    expect(stdout).toContain("pier_0010");
  });

  test("a half-written document: the place where it ends comes first, whether or not it can be judged", async () => {
    const half = async (length: number) => {
      await shop.put("half.curves.json", text.slice(0, length));
      return shop.run(["check", "half.curves.json", "--format", "json"]);
    };
    const early = await half(60);
    expect(early.code).toBe(3);
    expect(early.stderr).toBe(
      "keyside: half.curves.json: Line 1, column 60: The document ends in the middle of a string; what comes before is used. Add the rest, or save the file again.\n",
    );
    const late = await half(text.length - 40);
    expect(late.code).toBe(1);
    expect(JSON.parse(late.stdout).shots[0].notes[0]).toMatchObject({ check: "cut-off", tier: "broken" });
  });

  test("nothing at that path", async () => {
    const { code, stderr } = await shop.run(["check", "nothing.curves.json"]);
    expect(stderr).toContain("keyside: nothing.curves.json: There is no such file or folder.");
    expect(code).toBe(3);
  });

  test("no right to read it", async () => {
    const files = {
      ...diskFiles,
      async read(path: string) {
        if (path.endsWith("good.curves.json")) return diskFiles.read(path);
        throw Object.assign(new Error(`EACCES: permission denied, open '${path}'`), { code: "EACCES" });
      },
    };
    await shop.put("locked.curves.json", text);
    const { code, stdout, stderr } = await shop.run(["check", "locked.curves.json", "good.curves.json"], {
      files,
    });
    expect(stderr).toMatch(/^keyside: locked\.curves\.json: No permission/);
    expect(code).toBe(3);
    expect(stdout).toContain("1 shot");
  });

  test("an error that nobody foresaw is one line, and the others go on", async () => {
    const files = {
      ...diskFiles,
      async read(path: string) {
        if (path.endsWith("good.curves.json")) return diskFiles.read(path);
        throw { toString: null };
      },
    };
    const { code, stdout, stderr } = await shop.run(["check", "locked.curves.json", "good.curves.json"], {
      files,
    });
    expect(stderr).not.toMatch(stackTrace);
    expect(stderr).toContain("locked.curves.json: ");
    expect(code).toBe(3);
    expect(stdout).toContain("1 shot");
  });

  test("the report lists it with its reason", async () => {
    await shop.put("empty.curves.json", "");
    const { stdout } = await shop.run(["check", "empty.curves.json", "--format", "json"]);
    const report = reportSchema.parse(JSON.parse(stdout));
    expect(report).toMatchObject({
      shots: [],
      errors: [{ file: "empty.curves.json", message: expect.stringContaining("The file is empty.") }],
    });
  });
});

const document = cleanDocument();
const raw = (change: (text: string) => string) => change(JSON.stringify(document));

/** Inputs that are wrong somewhere: a clear answer at the place, whatever can be judged is. */
const wrong: readonly [string, string, string | object, RegExp][] = [
  ["cut off", "cut.curves.json", text.slice(0, text.length >> 1), /line 1, column \d+/i],
  ["a NaN", "nan.curves.json", raw((t) => t.replace("[2,", "[2,NaN],[2.5,")), /line 1, column \d+/i],
  ["1e999", "huge.curves.json", raw((t) => t.replace("[3,", "[3,1e999],[3.5,")), /line 1, column \d+/i],
  [
    "a parent cycle",
    "cycle.curves.json",
    {
      ...document,
      nodes: [
        { id: "post", parent: "rim" },
        { id: "sign", parent: "post" },
        { id: "rim", parent: "sign" },
      ],
    },
    /line 1, column \d+/i,
  ],
  [
    "two nodes of one name",
    "twice.curves.json",
    { ...document, nodes: [...document.nodes, { id: "sign", parent: "post" }] },
    /line 1, column \d+/i,
  ],
  ["letters for numbers", "letters.bvh", bvh([still, "0 ninety 0 0 0 0 0 0 0", still]), /line 20, column 3/i],
  ["a BVH cut off", "cut.bvh", bvh([still, still], 40), /line \d+, column \d+/i],
  ["a BVH without frames", "none.bvh", bvh([], 0), /line \d+, column \d+/i],
];

describe("an input that is wrong somewhere", () => {
  test.each(wrong)("%s", async (_, name, content, place) => {
    await shop.put(name, content);
    const { code, stdout, stderr } = await shop.run(["check", name, "good.curves.json"]);
    expect(stdout + stderr).toMatch(place);
    expect(stdout + stderr).toContain(name);
    expect(stdout + stderr).not.toMatch(stackTrace);
    // 1 where the rest of the shot was judged, 3 where nothing could be.
    expect(code).toBe(stderr === "" ? 1 : 3);
    if (stderr === "") expect(stdout).toMatch(/broken/);

    const json = await shop.run(["check", name, "--format", "json"]);
    const report = reportSchema.parse(JSON.parse(json.stdout));
    const broken = report.shots.flatMap((shot) => shot.notes).filter((note) => note.tier === "broken");
    expect(broken.length + report.errors.length).toBeGreaterThan(0);
    for (const note of broken) expect(note.place?.line).toBeGreaterThan(0);
  });
});

/** Inputs that are unusual and right. */
const unusual: readonly [string, string, string | object][] = [
  ["no keys at all", "nothing-moves.curves.json", { ...document, curves: [] }],
  [
    "a single frame",
    "single.curves.json",
    {
      ...document,
      shot: { frameRate: 24, range: [7, 7] },
      curves: [{ node: "post", channel: "rotation.z", keys: [[7, 10]] }],
    },
  ],
  ["a BVH of a single frame", "single.bvh", bvh([still])],
  [
    "values near the largest number",
    "large.curves.json",
    {
      ...document,
      curves: [
        {
          node: "post",
          channel: "translation.x",
          keys: [
            [1, 0],
            [40, 1e308],
            [41, -1e308],
            [96, 0],
          ],
        },
      ],
    },
  ],
  [
    "ten thousand nodes",
    "nodes.curves.json",
    {
      ...document,
      nodes: manyNodes,
      curves: [
        {
          node: "n0",
          channel: "rotation.z",
          keys: [
            [1, 0],
            [96, 40],
          ],
        },
      ],
    },
  ],
];

describe("an input that is unusual", () => {
  test.each(unusual)("%s", async (_, name, content) => {
    await shop.put(name, content);
    const { code, stdout, stderr } = await shop.run(["check", name, "--format", "json", "--no-progress"]);
    expect(stderr).toBe("");
    expect([0, 1]).toContain(code);
    const report = reportSchema.parse(JSON.parse(stdout));
    expect(report.shots).toHaveLength(1);
    expect(report.errors).toEqual([]);
  });
});
