import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { PiecedText } from "../../../../packages/server/serve/feed/pieces.ts";

describe("a text in pieces", () => {
  test("holds what a plain text holds after any edits", () => {
    const edit = fc.record({
      at: fc.nat(90_000),
      length: fc.nat(40_000),
      times: fc.nat(9000),
      text: fc.string(),
    });
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 8 }), (edits) => {
        let plain = "key, ".repeat(12_000);
        let pieced = PiecedText.of(plain);
        for (const { at, length, times, text } of edits) {
          const start = Math.min(at, plain.length);
          const end = Math.min(start + length, plain.length);
          const put = text.repeat(times % 50 === 0 ? times : 1);
          plain = plain.slice(0, start) + put + plain.slice(end);
          const before = pieced.toString();
          const next = pieced.replaced(start, end, put);
          expect(pieced.toString()).toBe(before);
          pieced = next;
          expect(pieced.length).toBe(plain.length);
          const [from, to] = [Math.min(start, plain.length), Math.min(start + 30_000, plain.length)];
          expect(pieced.slice(from, to) === plain.slice(from, to)).toBe(true);
          if (from < plain.length) expect(pieced.charCodeAt(from)).toBe(plain.charCodeAt(from));
        }
        expect(pieced.toString() === plain).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  test("may be empty", () => {
    const empty = PiecedText.of("");
    expect([empty.length, empty.slice(0, 0), empty.toString()]).toEqual([0, "", ""]);
    expect(empty.replaced(0, 0, "a").toString()).toBe("a");
    expect(PiecedText.of("abc").replaced(0, 3, "").toString()).toBe("");
  });
});
