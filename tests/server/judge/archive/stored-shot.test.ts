import fc from "fast-check";
import { expect, test } from "vitest";
import { unitNames } from "../../../../packages/core/base/quantity.ts";
import { reportSchema } from "../../../../packages/core/notes/report-schema.ts";
import { isStoredShot, storedUnits } from "../../../../packages/server/judge/archive/stored-shot.ts";

const note = {
  check: "pop",
  tier: "major",
  weight: 0.5,
  figure: null,
  node: "hand",
  part: "hand",
  frames: [1, 2],
  keys: [{ node: "hand", channel: "rotation.x", frame: 1, line: 3, column: null, endLine: 3, endColumn: 9 }],
  message: "m",
  measured: { quantity: "q", value: 1, unit: "m" },
  expected: { max: 2, unit: "m", source: "s" },
  why: "w",
  suggestion: "s",
  fingerprint: "f",
  place: { line: 1, column: 1, endLine: 1, endColumn: 2 },
  also: [
    {
      ...{ check: "hitch", tier: "minor", figure: null, node: "hand", part: "hand", frames: [1, 2] },
      ...{ message: "m", fingerprint: "g", place: { line: 1, column: 1 } },
    },
  ],
  fix: {
    title: "t",
    replacements: [{ line: 1, column: 1, endLine: 1, endColumn: 2, text: "[1, 2]" }],
    gone: ["f", "g"],
  },
};
const stored = {
  name: null,
  frameRate: "24000/1001",
  range: [1, 96],
  figures: ["a"],
  inferred: [],
  notes: [note],
  waived: [{ ...note, waiver: { reason: "r", by: "b", lastRevision: 2, inDocument: true } }],
  failures: [{ check: "pop", subject: null, others: 0, message: "m" }],
};

/** All places in a value, as lists of names. */
function placesIn(value: unknown, at: readonly string[] = []): (readonly string[])[] {
  if (typeof value !== "object" || value === null) return [at];
  return [at, ...Object.entries(value).flatMap(([name, one]) => placesIn(one, [...at, name]))];
}

function withOther(value: unknown, [name, ...rest]: readonly string[], other: unknown): unknown {
  if (name === undefined) return other;
  const copy = structuredClone(value) as Record<string, unknown>;
  if (rest.length === 0 && other === undefined) delete copy[name];
  else copy[name] = withOther(copy[name], rest, other);
  return copy;
}

test("units are those of notes", () => {
  expect(storedUnits).toEqual([...unitNames]);
});

test("a result that is one counts", () => {
  expect(isStoredShot(JSON.stringify(stored))).toBe(true);
});

test("what counts as a result is one by the schema of the report as well", () => {
  const shots = reportSchema.shape.shots.element;
  const places = placesIn(stored);
  const values = fc.oneof(fc.constant(undefined), fc.jsonValue({ maxDepth: 2 }));
  let refused = 0;
  fc.assert(
    fc.property(fc.constantFrom(...places), values, (place, value) => {
      const text = JSON.stringify(withOther(stored, place, value)) ?? "";
      if (!isStoredShot(text)) {
        refused++;
        return;
      }
      const { name, ...rest } = JSON.parse(text);
      const read = shots.safeParse({ file: "f", name: name ?? "n", failing: false, ...rest });
      expect(read.error?.issues ?? []).toEqual([]);
    }),
    { numRuns: 3000 },
  );
  expect(refused).toBeGreaterThan(500);
});
