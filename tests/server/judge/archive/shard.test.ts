import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Input } from "../../../../packages/server/judge/archive/inputs.ts";
import { inputsIn, ShardError, shardOf } from "../../../../packages/server/judge/archive/shard.ts";

describe("which shard is meant", () => {
  test("as it is written, counted from 1", () => {
    expect(shardOf("3/8", {})).toEqual({ index: 3, of: 8 });
  });

  test.each(["0/8", "9/8", "3", "3/0", "/8", "-1/8", "a/b", "auto/x", ""])("%j is refused", (text) => {
    expect(() => shardOf(text, {})).toThrow(ShardError);
  });

  // Variables as documented: sbatch(1), "OUTPUT ENVIRONMENT VARIABLES".
  test.each([
    ["1-4", { ID: "1", MIN: "1", COUNT: "4", STEP: "1" }, { index: 1, of: 4 }],
    ["0-3", { ID: "3", MIN: "0", COUNT: "4", STEP: "1" }, { index: 4, of: 4 }],
    ["10-16:2", { ID: "14", MIN: "10", COUNT: "4", STEP: "2" }, { index: 3, of: 4 }],
  ])("Slurm's array %s", (_, variables, shard) => {
    const env = Object.fromEntries(
      Object.entries(variables).map(([name, value]) => [`SLURM_ARRAY_TASK_${name}`, value]),
    );
    expect(shardOf("auto", env)).toEqual(shard);
    expect(shardOf("auto/4", env)).toEqual(shard);
    expect(() => shardOf("auto/5", env)).toThrow("The array has 4 tasks, not 5");
  });

  test("a Slurm array with gaps is refused: a lost task would go unseen", () => {
    const env = { SLURM_ARRAY_TASK_ID: "7", SLURM_ARRAY_TASK_MIN: "1", SLURM_ARRAY_TASK_COUNT: "3" };
    expect(() => shardOf("auto", env)).toThrow("--array=1-3");
  });

  // Kubernetes documentation, "Indexed Job": the index counts from 0 and the number of completions is not told.
  test("a Kubernetes indexed job, whose count has to be given", () => {
    const env = { JOB_COMPLETION_INDEX: "0" };
    expect(shardOf("auto/5", env)).toEqual({ index: 1, of: 5 });
    expect(() => shardOf("auto", env)).toThrow("auto/COMPLETIONS");
    expect(() => shardOf("auto/5", { JOB_COMPLETION_INDEX: "5" })).toThrow("no shard 6/5");
    expect(() => shardOf("auto/5", { JOB_COMPLETION_INDEX: "x" })).toThrow("no number");
  });

  test("outside an array job", () => {
    expect(() => shardOf("auto", {})).toThrow("auto is for array jobs");
  });
});

describe("sharing out", () => {
  let cwd: string;
  const inputs: readonly Input[] = Array.from({ length: 120 }, (_, i) => ({
    file: `shot_${i}.bvh`,
    problem: null,
  }));
  beforeAll(async () => {
    cwd = await mkdtemp(join(tmpdir(), "keyside-shard-"));
    // As many contents as three files each: the same shot under several names.
    for (const [i, { file }] of inputs.entries()) {
      const lines = Array.from({ length: 2000 }, (_, line) => `${(i % 40) * 7 + line}`);
      await writeFile(join(cwd, file), lines.join("\n"));
    }
  });
  afterAll(() => rm(cwd, { recursive: true, force: true }));

  test.each(["content", "path"] as const)(
    "by %s: every input is in exactly one shard, in order",
    async (key) => {
      for (const of of [1, 2, 7]) {
        const shards = await Promise.all(
          Array.from({ length: of }, (_, i) => inputsIn({ index: i + 1, of }, key, inputs, cwd)),
        );
        for (const shard of shards) {
          expect(shard).toEqual([...shard].sort((a, b) => inputs.indexOf(a) - inputs.indexOf(b)));
        }
        expect(
          shards
            .flat()
            .map(({ file }) => file)
            .sort(),
        ).toEqual(inputs.map(({ file }) => file).sort());
      }
    },
  );

  test("what else there is does not move an input", async () => {
    await fc.assert(
      fc.asyncProperty(fc.subarray([...inputs]), fc.constantFrom("content", "path"), async (some, key) => {
        const shard = { index: 2, of: 5 };
        const all = await inputsIn(shard, key, inputs, cwd);
        expect(await inputsIn(shard, key, some, cwd)).toEqual(all.filter((input) => some.includes(input)));
      }),
      { numRuns: 15 },
    );
  });

  test("by content, the same shot is in the same shard whatever it is called", async () => {
    const shards = await Promise.all(
      [1, 2, 3].map((index) => inputsIn({ index, of: 3 }, "content", inputs, cwd)),
    );
    const shardOfInput = (i: number) => shards.findIndex((shard) => shard.includes(inputs[i] as Input));
    for (let i = 0; i < 40; i++) {
      expect(shardOfInput(i + 40)).toBe(shardOfInput(i));
      expect(shardOfInput(i + 80)).toBe(shardOfInput(i));
    }
    for (const shard of shards) expect(shard.length).toBeGreaterThan(0);
  });

  test("a file that is not there, and a path with a problem, belong to one shard too", async () => {
    const odd = [
      { file: "gone.bvh", problem: null },
      { file: "empty/", problem: "The folder holds no shots." },
    ];
    const shards = await Promise.all(
      [1, 2, 3].map((index) => inputsIn({ index, of: 3 }, "content", odd, cwd)),
    );
    expect(shards.flat()).toHaveLength(2);
  });
});
