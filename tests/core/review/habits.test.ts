import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type HabitGroup,
  HabitTally,
  leastGone,
  leastShots,
  versionOfName,
  wilson,
} from "../../../packages/core/review/habits.ts";

/** Shots as lists of versions, each with the checks that speak in it; times go up from shot to shot. */
function tallied(shots: readonly (readonly (readonly string[])[])[], isTimed = true): HabitGroup | undefined {
  const tally = new HabitTally();
  shots.forEach((versions, n) => {
    versions.forEach((checks, v) => {
      const file = `show/shot_${String(n).padStart(4, "0")}_v${v + 1}.curves.json`;
      tally.add({ file, checks: new Set(checks), groups: ["show"], time: isTimed ? n : null });
    });
  });
  return tally.result()[0];
}
const many = (count: number, versions: readonly (readonly string[])[]) =>
  Array.from({ length: count }, () => versions);

describe("habits over many shots", () => {
  test("are counted by shots, however many versions each has", () => {
    const group = tallied([...many(3, [["pop"], ["pop"], []]), ...many(2, [["hitch"]])]);
    expect(group).toMatchObject({ name: "show", shots: 5, versions: 11 });
    expect(group?.habits.map(({ check, shots, gone, stayed }) => [check, shots, gone, stayed])).toEqual([
      ["pop", 3, 3, 0],
      ["hitch", 2, 0, 0],
    ]);
  });

  test("are not told below the stated counts, and from them on", () => {
    const pop = (count: number) => tallied(many(count, [["pop"], ["pop"], []]))?.habits[0];
    expect(pop(leastShots - 1)?.share).toBe(null);
    expect(pop(leastShots)?.share?.value).toBe(1);
    expect(pop(leastGone - 1)?.versions).toBe(null);
    expect(pop(leastGone)?.versions).toBe(2);
    expect(pop(2 * leastShots - 1)?.trend).toBe(null);
    expect(pop(2 * leastShots)?.trend).toMatchObject({
      earlier: 1,
      later: 1,
      verdict: "no difference to tell",
    });
    expect(tallied(many(40, [["pop"]]), false)?.habits[0]?.trend).toBe(null);
  });

  test("became better or worse only where it is more than chance", () => {
    const trend = (before: number, after: number) => {
      const half = (count: number) => [...many(count, [["pop"]]), ...many(12 - count, [[]])];
      return tallied([...half(before), ...half(after)])?.habits[0]?.trend?.verdict;
    };
    expect(trend(11, 2)).toBe("better");
    expect(trend(2, 11)).toBe("worse");
    expect(trend(6, 5)).toBe("no difference to tell");
  });

  test("stay where the last version still has them", () => {
    expect(tallied([[["pop"], [], ["pop"]]])?.habits[0]).toMatchObject({ gone: 0, stayed: 1 });
  });

  test("stand in groups by their names, never by their counts", () => {
    const tally = new HabitTally();
    for (const [file, group] of [
      ["z_v1.bvh", "Zoe"],
      ["a_v1.bvh", "Abe"],
      ["b_v1.bvh", "Zoe"],
    ] as const) {
      tally.add({ file, checks: new Set(["pop"]), groups: [group], time: null });
    }
    expect(tally.result().map(({ name }) => name)).toEqual(["Abe", "Zoe"]);
  });
});

test("versions of a shot are those whose files differ in the number of the version alone", () => {
  expect(versionOfName("a/quay_0070_v12.curves.json")).toEqual({ shot: "a/quay_0070", version: 12 });
  expect(versionOfName("a/quay_0070.bvh")).toEqual({ shot: "a/quay_0070", version: 0 });
  expect(versionOfName("a/walk rev 3.glb")).toEqual({ shot: "a/walk", version: 3 });
});

describe("the interval of a share", () => {
  // Newcombe 1998, "Two-sided confidence intervals for the single proportion", table I, method 3; from memory.
  test.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])("of %i in %i is the published one", (count, of, from, to) => {
    expect(wilson(count, of).from).toBeCloseTo(from, 4);
    expect(wilson(count, of).to).toBeCloseTo(to, 4);
  });

  test("holds the share, and is the mirror image of that of the others", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500 }), fc.nat(500), (of, some) => {
        const count = Math.min(of, some);
        const { from, to } = wilson(count, of);
        expect(from).toBeLessThanOrEqual(count / of + 1e-12);
        expect(to).toBeGreaterThanOrEqual(count / of - 1e-12);
        expect(wilson(of - count, of).to).toBeCloseTo(1 - from, 12);
      }),
    );
  });
});
