import { describe, expect, test } from "vitest";
import type { Judgement } from "../../../../packages/server/judge/archive/judges.ts";
import { threadJudges } from "../../../../packages/server/judge/archive/thread-judges.ts";

const worker = new URL("./hostile-worker.mjs", import.meta.url);

/** Judges files several at a time, each when a thread is free, and gives what came of each. */
async function judged(files: readonly string[], count: number, timeLimit: number): Promise<Judgement[]> {
  const judges = threadJudges({ count, timeLimit, cache: null }, worker);
  const results: Judgement[] = [];
  let next = 0;
  const lane = async () => {
    for (let i = next++; i < files.length; i = next++) {
      const file = files[i] as string;
      results[i] = await judges.judge({ file, path: file, waivers: "", kind: "", settings: "" });
    }
  };
  await Promise.all(Array.from({ length: count }, lane));
  await judges.close();
  return results;
}

const fine = (file: string): Judgement => ({ kind: "shot", stored: file, isCached: false, unkept: null });

describe("shots in worker threads", () => {
  test.each([
    ["hang", "longer than 0.5 s and was given up; --time-limit gives it more"],
    ["sleep", "longer than 0.5 s and was given up"],
    ["exit", "longer than 0.5 s and was given up"],
    ["throw", "broke its worker thread (thrown)"],
    ["later", "broke its worker thread (thrown later)"],
  ])("one that does %s is an error, and all others go on", async (bad, message) => {
    const files = ["a", bad, "b", bad, "c", "d", "e"];
    const results = await judged(files, 2, 0.5);
    for (const [i, file] of files.entries()) {
      if (file !== bad) expect(results[i]).toEqual(fine(file));
      else expect(results[i]).toEqual({ kind: "error", message: expect.stringContaining(message) });
    }
  });

  test("the time limit does not count what a thread takes to begin", async () => {
    expect(await judged(["no-start", "a"], 1, 0.25)).toEqual([fine("no-start"), fine("a")]);
  });

  test("a worker that cannot be loaded is said of every shot, at once", async () => {
    const judges = threadJudges({ count: 1, timeLimit: 5, cache: null }, new URL("./nowhere.mjs", worker));
    const start = performance.now();
    for (const file of ["a", "b"]) {
      const judgement = await judges.judge({ file, path: file, waivers: "", kind: "", settings: "" });
      expect(judgement).toEqual({
        kind: "error",
        message: expect.stringContaining("broke its worker thread"),
      });
    }
    expect(performance.now() - start).toBeLessThan(20_000);
    await judges.close();
  });

  test("one that fills the memory is found by judging alone, and all others go on", async () => {
    const memoryLimit = process.memoryUsage.rss() + 350_000_000;
    const judges = threadJudges({ count: 2, timeLimit: 60, memoryLimit, cache: null }, worker);
    const files = ["a", "fill", "b", "c", "fill", "d"];
    const results = await Promise.all(
      files.map((file) => judges.judge({ file, path: file, waivers: "", kind: "", settings: "" })),
    );
    await judges.close();
    for (const [i, file] of files.entries()) {
      if (file !== "fill") expect(results[i]).toEqual(fine(file));
      else expect(results[i]).toEqual({ kind: "error", message: expect.stringContaining("of memory") });
    }
  });

  test("closing gives up what is still being judged", async () => {
    const judges = threadJudges({ count: 1, timeLimit: 60, cache: null }, worker);
    const hanging = judges.judge({ file: "hang", path: "hang", waivers: "", kind: "", settings: "" });
    await judges.close();
    expect((await hanging).kind).toBe("error");
  });
});
