import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Column, columnWidths, lineOf } from "../../../../packages/server/present/text/columns.ts";

const columns: readonly Column[] = [
  { head: "what", least: 4 },
  { head: "where", least: 3, rank: 2, cut: "start" },
  { head: "size", least: 4, rank: 1 },
];
const at = (width: number) => ({ width, colour: false });

describe("columns", () => {
  test("are as wide as what stands in them, where there is room", () => {
    const rows = [["a", "left hand", "12"]];
    expect(columnWidths(at(80), columns, rows, 2)).toEqual([4, 9, 4]);
    expect(lineOf(rows[0] as string[], columns, [4, 9, 4], 2)).toBe("  a     left hand  12");
  });

  test("are narrowed from the widest on, and what can be spared goes first", () => {
    const rows = [["a sentence", "left hand", "12 cm"]];
    const narrow = columnWidths(at(24), columns, rows, 0);
    expect(narrow).toEqual([7, 8, 5]);
    expect(lineOf(rows[0] as string[], columns, narrow, 0)).toBe("a sent…  …ft hand  12 cm");
    expect(columnWidths(at(14), columns, rows, 0)).toEqual([6, 6, 0]);
    expect(columnWidths(at(8), columns, rows, 0)).toEqual([8, 0, 0]);
    expect(columnWidths(at(3), columns, rows, 0)).toEqual([3, 0, 0]);
  });

  test("no line passes the width, and every line begins its cells at the same places", () => {
    const cell = fc.stringMatching(/^[a-z]{0,30}$/);
    const table = fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(table, fc.integer({ min: 4, max: 120 }), (rows, width) => {
        const widths = columnWidths(at(width), columns, rows, 2);
        for (const cells of rows) {
          const line = lineOf(cells, columns, widths, 2);
          expect(line.length).toBeLessThanOrEqual(width);
          let start = 2;
          for (const [index, column] of widths.entries()) {
            if (column === 0) continue;
            expect(line.slice(start, start + column).trimEnd().length).toBe(
              Math.min(cells[index]?.length ?? 0, column),
            );
            start += column + 2;
          }
        }
      }),
    );
  });
});
