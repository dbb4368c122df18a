import { describe, expect, test } from "vitest";
import { lasting, progressOf } from "../../../../packages/server/judge/archive/progress.ts";

function watched(isTTY: boolean, columns = 100) {
  let now = 0;
  let written = "";
  const write = (text: string) => {
    written += text;
  };
  const place = { write, isTTY, columns, now: () => now };
  const progress = progressOf(1000, place);
  return {
    progress,
    stepAfter(milliseconds: number, notes: number) {
      now += milliseconds;
      progress.step(notes);
    },
    taken() {
      const text = written;
      written = "";
      return text;
    },
  };
}

describe("progress", () => {
  test("is a line every ten seconds where there is no terminal, and none before", () => {
    const { stepAfter, taken } = watched(false);
    for (let i = 0; i < 99; i++) stepAfter(100, 2);
    expect(taken()).toBe("");
    stepAfter(100, 2);
    expect(taken()).toBe("keyside: 100 of 1000 shots, 200 notes, about 1 min 30 s left\n");
    stepAfter(9_000, 0);
    expect(taken()).toBe("");
  });

  test("is a bar on a terminal that is taken away again and fits its width", () => {
    const { progress, stepAfter, taken } = watched(true, 50);
    stepAfter(100, 1);
    expect(taken()).toBe("");
    for (let i = 1; i < 500; i++) stepAfter(1, 1);
    stepAfter(200, 1);
    const bar = taken();
    expect(bar).toContain("[############------------]");
    for (const line of bar.split("\r\u001b[2K")) expect(line.length).toBeLessThan(50);
    progress.clear();
    expect(taken()).toBe("\r\u001b[2K");
    progress.clear();
    expect(taken()).toBe("");
  });

  test.each([
    [400, "0 s"],
    [59_400, "59 s"],
    [60_000, "1 min"],
    [61_000, "1 min 1 s"],
    [3_600_000, "1 h"],
    [3_660_000, "1 h 1 min"],
  ])("%i ms last %s", (milliseconds, text) => {
    expect(lasting(milliseconds)).toBe(text);
  });
});
