import { describe, expect, test } from "vitest";
import { guardOf, TimeIsOver, unguarded, WasStopped } from "../../../packages/server/base/guard.ts";

const forEver = (): never => {
  for (;;) Math.random();
};

describe("work that can be ended", () => {
  test("comes to its result, or its own error, as it would without", () => {
    for (const guard of [guardOf({ seconds: 60, catchesStop: false }), unguarded]) {
      expect(guard(() => 7)).toBe(7);
      expect(guard(() => guard(() => "inner"))).toBe("inner");
      expect(() =>
        guard(() => {
          throw new RangeError("own");
        }),
      ).toThrow(RangeError);
    }
  });

  test.each<[string, () => unknown]>([
    ["a loop", forEver],
    ["a search in a text", () => /^(a+)+$/.test(`${"a".repeat(60)}b`)],
    ["sorting", () => [3, 1, 2].sort(() => forEver())],
    [
      "what catches all errors",
      () => {
        for (;;) {
          try {
            forEver();
          } catch {
            // Tries again.
          }
        }
      },
    ],
  ])("%s that does not end is ended", (_, work) => {
    expect(() => guardOf({ seconds: 0.1, catchesStop: false })(work)).toThrow(TimeIsOver);
  });

  test("the time is that of all work together", () => {
    const guard = guardOf({ seconds: 0.2, catchesStop: false });
    const wait = () => {
      const start = performance.now();
      while (performance.now() - start < 70);
    };
    expect(() => {
      for (let i = 0; i < 10; i++) guard(wait);
    }).toThrow(TimeIsOver);
  });

  test.skipIf(process.platform === "win32")("Ctrl-C ends the work and not the program", async () => {
    const { isMainThread } = await import("node:worker_threads");
    // Signals are the main thread's; tests/server/cli/ending.test.ts sends them to the built command.
    if (!isMainThread) return;
    const guard = guardOf({ seconds: 60, catchesStop: true });
    const { spawn } = await import("node:child_process");
    spawn("sh", ["-c", `sleep 0.3; kill -INT ${process.pid}`]);
    expect(() => guard(forEver)).toThrow(WasStopped);
  });
});
