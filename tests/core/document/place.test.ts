import { expect, test } from "vitest";
import { lineStartsOf, placeAt } from "../../../packages/core/document/place.ts";

test("lines end with a line feed, a carriage return, or both", () => {
  expect([...lineStartsOf("")]).toEqual([0]);
  expect([...lineStartsOf("a\nb\r\nc\rd\n")]).toEqual([0, 2, 5, 7, 9]);
  expect(lineStartsOf("\n".repeat(5000))).toHaveLength(5001);
});

test("lines and columns count from 1, columns in UTF-16 units", () => {
  const starts = lineStartsOf("ab\n🦴c\n");
  expect(placeAt(starts, 0)).toEqual({ line: 1, column: 1 });
  expect(placeAt(starts, 2)).toEqual({ line: 1, column: 3 });
  expect(placeAt(starts, 3)).toEqual({ line: 2, column: 1 });
  expect(placeAt(starts, 5)).toEqual({ line: 2, column: 3 });
  expect(placeAt(starts, 7)).toEqual({ line: 3, column: 1 });
  expect(placeAt(starts, 100)).toEqual({ line: 3, column: 94 });
  expect(placeAt(starts, -5)).toEqual({ line: 1, column: 1 });
});
