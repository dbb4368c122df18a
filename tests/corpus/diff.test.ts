import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { corpusModule, type Row, row } from "./load.ts";

const { differenceOf, isNone } = await corpusModule("diff.mjs");
const { sourceLines, summaryLines } = await corpusModule("report.mjs");

const linesOf = (before: Row[], after: Row[]): string[] => sourceLines("pier", differenceOf(before, after));

describe("a difference", () => {
  test("of a table with itself is none", () => {
    const rows = [row(), row({ node: "foot" }), row({ frames: null })];
    expect(isNone(differenceOf(rows, rows))).toBe(true);
    expect(differenceOf(rows, rows).same).toEqual(rows);
  });

  test("names a note that is gone and one that is new, under their checks", () => {
    const lines = linesOf([row()], [row({ check: "hitch", frames: [7, 7], keys: "-" })]);
    expect(lines).toEqual([
      "pier",
      "  hitch",
      "    + minor hand, frame 7: deviation from the path 0.01234 m; no keys",
      "  pop",
      "    - minor hand, frames 40 to 41: deviation from the path 0.01234 m; keys hand rotation.x 40",
    ]);
  });

  test.each([
    ["tier", { tier: "major" }, "tier minor → major"],
    ["frames", { frames: [41, 43] }, "frames 40 to 41 → 41 to 43"],
    ["keys", { keys: "arm rotation.z 41" }, "keys hand rotation.x 40 → arm rotation.z 41"],
    ["value", { value: "0.02 m" }, "value 0.01234 m → 0.02 m"],
    ["quantity", { quantity: "deviation in angle" }, "deviation from the path → deviation in angle"],
    ["figure", { figure: "rope" }, "figure dancer → rope"],
    ["waived", { waived: true }, "now waived"],
  ] as const)("names a changed %s, and nothing else", (field, more, words) => {
    const after = row(more);
    expect(differenceOf([row()], [after])).toEqual({
      gone: [],
      added: [],
      changed: [{ before: row(), after, fields: [field], common: expect.any(Number) }],
      same: [],
    });
    const [, , line] = linesOf([row()], [after]);
    expect(line).toMatch(/^ {4}~ /);
    expect(line.endsWith(words)).toBe(true);
  });

  test("keeps apart what is on another node, at other frames, or has frames where the other has none", () => {
    for (const other of [row({ node: "foot" }), row({ frames: [42, 43] }), row({ frames: null })]) {
      expect(differenceOf([row()], [other])).toMatchObject({ gone: [row()], added: [other], changed: [] });
    }
  });

  test("takes for the same note the one that shares most of its frames", () => {
    const long = row({ frames: [10, 60] });
    const near = row({ frames: [39, 41], tier: "major" });
    const { changed, added } = differenceOf([row()], [long, near]);
    expect(changed.map(({ after }: { after: Row }) => after)).toEqual([near]);
    expect(added).toEqual([long]);
  });

  test("of two notes at the same frames leaves alone the one that is the same", () => {
    const [a, b] = [row({ keys: "arm rotation.x 40" }), row({ keys: "arm rotation.y 40" })];
    expect(differenceOf([a, b], [b])).toMatchObject({ gone: [a], changed: [], same: [b] });
  });

  test("accounts for every note once", () => {
    const some = fc.array(
      fc
        .record({
          node: fc.constantFrom("hand", "foot"),
          tier: fc.constantFrom("minor", "major"),
          from: fc.integer({ min: 0, max: 20 }),
          length: fc.integer({ min: 0, max: 8 }),
        })
        .map(({ node, tier, from, length }) => row({ node, tier, frames: [from, from + length] })),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(some, some, (before, after) => {
        const { gone, added, changed, same } = differenceOf(before, after);
        expect(gone.length + changed.length + same.length).toBe(before.length);
        expect(added.length + changed.length + same.length).toBe(after.length);
        expect(new Set([...added, ...same, ...changed.map((pair: { after: Row }) => pair.after)])).toEqual(
          new Set(after),
        );
      }),
    );
  });
});

test("a summary counts by check over all sources", () => {
  const differences = [
    differenceOf([row(), row({ node: "foot" })], [row({ tier: "major" }), row({ check: "hitch" })]),
    differenceOf([row()], [row()]),
  ];
  const cells = summaryLines(differences).map((line: string) => line.trim().split(/ +/));
  expect(cells).toEqual([
    ["check", "gone", "new", "changed", "same"],
    ["hitch", "0", "1", "0", "0"],
    ["pop", "1", "0", "1", "1"],
    ["all", "1", "1", "1", "1"],
  ]);
});
