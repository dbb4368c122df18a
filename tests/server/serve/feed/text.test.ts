import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { TextDocument } from "vscode-languageserver-textdocument";
import { lineStartsOf } from "../../../../packages/core/document/place.ts";
import { LiveText } from "../../../../packages/server/serve/feed/text.ts";

const letters = fc.stringMatching(/^[ab\r\né😀]{0,8}$/u);
const change = fc.record({ at: fc.nat(60), length: fc.nat(9), text: letters });

describe("a live text", () => {
  test("has the lines of a fresh reading after any edits", () => {
    fc.assert(
      fc.property(letters, fc.array(change, { maxLength: 12 }), (first, changes) => {
        const live = new LiveText(first);
        for (const { at, length, text } of changes) {
          const start = Math.min(at, live.text.length);
          const before = live.text;
          const range = live.rangeOf(start, Math.min(start + length, before.length));
          const [{ change: made }] = live.apply([{ range, text }]);
          expect(live.text).toBe(before.slice(0, made.start) + text + before.slice(made.end));
          const starts = lineStartsOf(live.text);
          expect(live.lineCount).toBe(starts.length);
          starts.forEach((offset, line) => {
            expect(live.offsetAt({ line, character: 0 })).toBe(offset);
          });
        }
      }),
      { numRuns: 500 },
    );
  });

  test("agrees with a general text document about positions in UTF-16", () => {
    const document = (text: string) => TextDocument.create("file:///a", "json", 1, text);
    fc.assert(
      fc.property(letters, fc.nat(12), fc.nat(12), (text, line, character) => {
        const live = new LiveText(text);
        const other = document(text);
        expect(live.offsetAt({ line, character })).toBe(other.offsetAt({ line, character }));
        for (let offset = 0; offset <= text.length; offset++) {
          // Within a line break there is no position of its own.
          if (text[offset - 1] === "\r" && text[offset] === "\n") continue;
          expect(live.positionAt(offset)).toEqual(other.positionAt(offset));
        }
      }),
    );
  });

  test("counts bytes in UTF-8", () => {
    const live = new LiveText("aé😀b\nc", "utf-8");
    expect(live.positionAt(4)).toEqual({ line: 0, character: 7 });
    expect(live.offsetAt({ line: 0, character: 7 })).toBe(4);
    // In the middle of a character: its start.
    expect(live.offsetAt({ line: 0, character: 2 })).toBe(1);
    expect(live.offsetAt({ line: 0, character: 99 })).toBe(5);
    expect(live.offsetAt({ line: 9, character: 9 })).toBe(live.text.length);
  });

  test("counts bytes once a character beyond ASCII came in", () => {
    const live = new LiveText("abc", "utf-8");
    live.apply([{ range: live.rangeOf(0, 0), text: "é" }]);
    expect(live.positionAt(2)).toEqual({ line: 0, character: 3 });
  });

  test("takes a whole new text as the part that differs", () => {
    const live = new LiveText("one two three");
    const changes = (text: string) => live.apply([{ text }]).map(({ change }) => change);
    expect(changes("one 2 three")).toEqual([{ start: 4, end: 7, text: "2" }]);
    expect(changes("one 2 three")).toEqual([{ start: 11, end: 11, text: "" }]);
    expect(live.text).toBe("one 2 three");
  });
});
