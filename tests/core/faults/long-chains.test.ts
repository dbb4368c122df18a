import { describe, expect, test } from "vitest";
import type { NodeSpec } from "../../../packages/core/document/schema.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { documentOf, studyOf } from "../../support/shots.ts";

/** How many values the memo has noted as asked for by others: a measure of the work that no busy machine changes. */
function asked(nodes: readonly NodeSpec[]): number {
  const study = studyOf(
    documentOf(nodes, {
      "n0 rotation.z": [
        [1, 0],
        [12, 20],
        [24, 0],
      ],
    }),
  );
  notesOf(study);
  const { tables } = study.memo as unknown as {
    tables: { cells(): Iterable<{ asked: readonly unknown[] }> };
  };
  return [...tables.cells()].reduce((sum, cell) => sum + cell.asked.length, 0);
}

const hanging = (count: number, parentOf: (index: number) => number): NodeSpec[] =>
  Array.from({ length: count }, (_, i) => ({
    id: `n${i}`,
    ...(i === 0 ? {} : { parent: `n${parentOf(i)}` }),
    translation: [0, 0.01, i % 2 === 0 ? 0 : 0.01],
  }));

describe("a hierarchy that is twice as large", () => {
  test.each<[string, (index: number) => number]>([
    ["one chain", (i) => i - 1],
    ["all on one node", () => 0],
    ["a spine with a leaf on each joint", (i) => (i % 2 === 0 ? i - 2 : i - 1)],
    ["a tree of two branches each", (i) => (i - 1) >> 1],
  ])("asks for twice as much: %s", (_, parentOf) => {
    const [small, large] = [600, 1200].map((count) => asked(hanging(count, parentOf)));
    expect(small).toBeGreaterThan(600);
    expect(large / small).toBeLessThan(2.2);
  });
});
