import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readShot } from "../../../packages/core/document/read.ts";
import { extendedText } from "./extended.ts";

const keysOf = (text: string) =>
  readShot(text).shot?.curves.reduce((sum, { frames }) => sum + frames.length, 0) ?? 0;

const without = (piece: string, by: string) => {
  expect(extendedText.split(piece)).toHaveLength(2);
  return extendedText.replace(piece, () => by);
};

describe("a document with entries in entries from which one mark is missing", () => {
  test("is told of where it is, and no curve is lost", () => {
    for (let at = 0; at < extendedText.length; at++) {
      if (!'[]{}",:'.includes(extendedText[at])) continue;
      // Without a comma and blanks two numbers become one, which is no slip that shows.
      if (/^\d,[-\d]/.test(extendedText.slice(at - 1, at + 2))) continue;
      const text = extendedText.slice(0, at) + extendedText.slice(at + 1);
      const place = `${extendedText.slice(Math.max(0, at - 30), at)}▸${extendedText[at]}◂`;
      const { problems } = readShot(text);
      // As near as a word and a bracket or two.
      expect(Math.min(...problems.map(({ start }) => Math.abs(start - at))), place).toBeLessThanOrEqual(25);
    }
  });

  test.each([
    [
      "a list of shapes",
      '"shapes": [{ "kind": "capsule"',
      '"shapes": { "kind": "capsule"',
      "missing-bracket",
    ],
    ["a shape", '[{ "kind": "capsule"', '[ "kind": "capsule"', "missing-brace"],
    ["a list of limbs", '"limbs": [{', '"limbs": {', "missing-bracket"],
    ["a limb", '{ "id": "near leg"', '"id": "near leg"', "missing-brace"],
    ["a sole", '"sole": { "heel": { "node"', '"sole": "heel": { "node"', "missing-brace"],
    ["a point of a sole", '"toe": { "node"', '"toe": "node"', "missing-brace"],
    ["a list of corners", '"edges": [[-60', '"edges": [-60', "missing-bracket"],
    ["a corner", "[60, 90]", "60, 90]", "missing-bracket"],
    ["a hold", '{ "node": "hand_r", "frames": [30', '"node": "hand_r", "frames": [30', "missing-brace"],
    ["the keys of a zoom", '"keys": [[50', '"keys": [50', "missing-bracket"],
    ["a key of a zoom", "[96, 250]", "96, 250]", "missing-bracket"],
  ])("%s: its opening mark is told of once, and all is read as it is meant", (_, piece, by, code) => {
    const { shot, problems } = readShot(without(piece, by));
    expect(problems.map((problem) => problem.code)).toEqual([code]);
    expect(shot!.header).toEqual(readShot(extendedText).shot!.header);
  });

  test.each([
    ["a corner", "[60, 90]]", "[60, 90]"],
    ["a stretch", "[1, 40], [40, 60]", "[1, 40, [40, 60]"],
    ["a limb", '"thickness": 2 } }', '"thickness": 2 }'],
    ["a sole", '"ball_l" } }], "animators"', '"ball_l" }], "animators"'],
  ])("%s: its closing mark is told of once", (_, piece, by) => {
    expect(readShot(without(piece, by)).problems).toHaveLength(1);
  });

  test("whatever is done to the text, reading does not throw, and every place lies in it", () => {
    const change = fc.record({
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      length: fc.nat({ max: 12 }),
      by: fc.oneof(
        fc.string({ maxLength: 4 }),
        fc.constantFrom("[", "]", "{", "}", '"', ",", ":", "-", "1e", "\n", "null", "[[", '{ "id": 7 }'),
      ),
    });
    fc.assert(
      fc.property(fc.array(change, { maxLength: 6 }), (list) => {
        let text = extendedText;
        for (const { at, length, by } of list) {
          const start = Math.floor(at * text.length);
          text = text.slice(0, start) + by + text.slice(start + length);
        }
        const { problems, places } = readShot(text);
        const ranges = [...problems.map(({ start, end }) => [start, end]), ...places.values()];
        for (const [start, end] of ranges) {
          expect(start).toBeGreaterThanOrEqual(0);
          expect(end).toBeGreaterThanOrEqual(start);
          expect(end).toBeLessThanOrEqual(text.length);
        }
      }),
      { numRuns: 300 },
    );
  });

  test("keeps the keys of the curves in front of it and behind", () => {
    expect(keysOf(without('"limbs": [{', '"limbs": {'))).toBe(2);
    expect(keysOf(without('"shapes": [{ "kind": "capsule"', '"shapes": "kind": "capsule"'))).toBe(2);
  });
});
