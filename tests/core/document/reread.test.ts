import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { ReadResult } from "../../../packages/core/document/model.ts";
import { readShot } from "../../../packages/core/document/read.ts";
import { reread, sameCurveData, type TextChange } from "../../../packages/core/document/reread.ts";
import { writeDocument } from "../../../packages/core/document/write.ts";
import { documents, sampleText } from "./samples.ts";

const whole = ({ shot, problems, places }: ReadResult) => ({ shot, problems, places: [...places] });

function replaced(text: string, piece: string, by: string): TextChange {
  const start = text.indexOf(piece);
  if (start < 0) throw new Error(`"${piece}" is not there.`);
  return { start, end: start + piece.length, text: by };
}

describe("a change inside one curve", () => {
  const before = readShot(sampleText);

  test("leaves the header and the curves in front the same objects, and shares the arrays of those behind", () => {
    const { text, result } = reread(sampleText, before, [
      replaced(sampleText, "[1001, 95]", "[1001, 95.25]"),
    ]);
    expect(whole(result)).toEqual(whole(readShot(text)));
    expect(result.shot!.header).toBe(before.shot!.header);
    expect(result.shot!.curves[1]).not.toBe(before.shot!.curves[1]);
    expect(result.shot!.curves[1].frames).toBe(before.shot!.curves[1].frames);
    expect(sameCurveData(result.shot!.curves[1], before.shot!.curves[1])).toBe(true);
    expect(sameCurveData(result.shot!.curves[0], before.shot!.curves[0])).toBe(false);

    const last = reread(sampleText, before, [replaced(sampleText, "0.6, 0, 0.8", "0.8, 0, 0.6")]);
    expect(last.result.shot!.curves[0]).toBe(before.shot!.curves[0]);
    expect(whole(last.result)).toEqual(whole(readShot(last.text)));
  });

  test("moves problems and places behind it", () => {
    const text = sampleText
      .replace('"with": "floor"', '"with": "flor"')
      .replace('"out": [0, 0, 0, 0]', '"out": 3');
    const { text: now, result } = reread(text, readShot(text), [replaced(text, "95]", "95.123]")]);
    expect(result.problems.map((problem) => problem.code)).toEqual(["handle-form", "unknown-reference"]);
    expect(whole(result)).toEqual(whole(readShot(now)));
    expect(now.slice(...result.places.get("waivers/0/reason")!)).toBe('"comic stop"');
  });

  test("no change gives the same result", () => {
    expect(reread(sampleText, before, [])).toEqual({ text: sampleText, result: before });
  });

  test.each([
    ["a brace that closes the curve early", "[1001, 95],", "[1001, 95] ] }, {"],
    ["a brace that opens", '"bezier", "keys"', '"bezier", "more": { "keys"'],
    ["a quote", '"bezier", "keys"', '"bezier", "keys'],
    ["a comment that is not closed", "[1001, 95],", "[1001, 95], /*"],
    ["the whole curve gone", '{ "node": "hips", "channel": "translation.y"', ""],
    ["another node", '"node": "hips"', '"node": "lamp"'],
    [
      "the channel of another curve",
      '"node": "thigh_l", "channel": "rotation"',
      '"node": "hips", "channel": "translation.y"',
    ],
    ["a change in the header", '"id": "lamp"', '"id": "lantern"'],
  ])("%s is read as in full", (_, piece, by) => {
    const { text, result } = reread(sampleText, before, [replaced(sampleText, piece, by)]);
    expect(text).toBe(sampleText.replace(piece, by));
    expect(whole(result)).toEqual(whole(readShot(text)));
  });
});

describe("any changes, fixing and damaging", () => {
  const piece = fc.oneof(
    fc.constantFrom(
      "[",
      "]",
      "{",
      "}",
      '"',
      ",",
      ":",
      "\n",
      "//",
      "/*",
      "*/",
      "NaN",
      "-",
      "e",
      "1",
      "[3, 4],",
      '"keys"',
      "é",
    ),
    fc.string({ maxLength: 3 }),
    fc.integer({ min: -20, max: 20 }).map(String),
  );
  const change = fc.record({
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    length: fc.nat(8),
    text: fc.oneof(piece, fc.constant("")),
  });

  function sequenceEqualsFull(
    start: string,
    steps: readonly (readonly { at: number; length: number; text: string }[])[],
  ): void {
    let text = start;
    let result = readShot(text);
    for (const step of steps) {
      let length = text.length;
      const changes = step.map((raw) => {
        const from = Math.floor(raw.at * length);
        const to = Math.min(length, from + raw.length);
        length += raw.text.length - (to - from);
        return { start: from, end: to, text: raw.text };
      });
      const next = reread(text, result, changes);
      const expected = changes.reduce(
        (now, { start: from, end, text: by }) => now.slice(0, from) + by + now.slice(end),
        text,
      );
      expect(next.text).toBe(expected);
      expect(whole(next.result)).toEqual(whole(readShot(next.text)));
      text = next.text;
      result = next.result;
    }
  }

  test("to the sample, one after the other", () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(change, { minLength: 1, maxLength: 2 }), { minLength: 1, maxLength: 6 }),
        (steps) => {
          sequenceEqualsFull(sampleText, steps);
        },
      ),
      { numRuns: 500 },
    );
  });

  test("to any document", () => {
    fc.assert(
      fc.property(
        documents,
        fc.array(fc.array(change, { minLength: 1, maxLength: 1 }), { minLength: 1, maxLength: 4 }),
        (document, steps) => {
          sequenceEqualsFull(writeDocument(document), steps);
        },
      ),
      { numRuns: 300 },
    );
  });
});
