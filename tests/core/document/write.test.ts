import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Curve, Shot } from "../../../packages/core/document/model.ts";
import { readShot, shotOf } from "../../../packages/core/document/read.ts";
import { writeDocument } from "../../../packages/core/document/write.ts";
import { documents, sampleText } from "./samples.ts";

/** What a document says, as plain values: the writer of the library is not asked. */
function plain(shot: Shot): unknown {
  const curves = shot.curves.map((curve) => ({ ...plainHead(curve), keys: plainKeys(curve) }));
  return { ...shot.header, curves };
}

const plainHead = ({ node, channel, interpolation, extra }: Curve) => ({
  node,
  channel,
  interpolation,
  ...extra?.curve,
});
const names = ["step", "linear", "smooth", "bezier", "cubic"];

function plainKeys(curve: Curve): unknown[] {
  return Array.from(curve.frames, (frame, key) => {
    const value = curve.width === 1 ? curve.values[key] : [...curve.values.slice(key * 4, key * 4 + 4)];
    const extras: Record<string, unknown> = {};
    const half = curve.width === 1 ? 2 : 4;
    for (const [side, name] of ["in", "out"].entries()) {
      const numbers = [...(curve.handles?.slice((key * 2 + side) * half, (key * 2 + side + 1) * half) ?? [])];
      if (numbers.length === 0 || Number.isNaN(numbers[half - 1])) continue;
      extras[name] = Number.isNaN(numbers[0]) ? numbers[1] : numbers;
    }
    if (curve.ownModes?.[key] === 1) extras["interpolation"] = names[curve.modes[key]];
    return Object.keys(extras).length === 0 ? [frame, value] : [frame, value, extras];
  });
}

/** A document with what the format says of members that are left out. */
function filled(document: object): unknown {
  const { space, curves, ...rest } = document as { space?: object; curves: object[] };
  return {
    ...rest,
    ...(space === undefined ? {} : { space: { up: "y", angle: "degrees", ...space } }),
    curves: curves.map((curve) => ({ interpolation: "linear", ...curve })),
  };
}

describe("writing", () => {
  test("reading what was written gives what was written", () => {
    fc.assert(
      fc.property(documents, (document) => {
        const { shot } = readShot(writeDocument(document));
        expect(plain(shot!)).toEqual(filled(document));
      }),
    );
  });

  test("writing what was read gives the same bytes", () => {
    fc.assert(
      fc.property(documents, (document) => {
        const text = writeDocument(document);
        expect(writeDocument(readShot(text).shot!)).toBe(text);
      }),
    );
    expect(writeDocument(readShot(sampleText).shot!)).toBe(sampleText);
  });

  test("what is written is JSON, and JSON.parse reads the same document", () => {
    fc.assert(
      fc.property(documents, (document) => {
        expect(JSON.parse(writeDocument(document))).toEqual(filled(document));
      }),
    );
  });

  test("a key has a line of its own", () => {
    const lines = sampleText.split("\n");
    expect(lines.filter((line) => /^ {6}\[.*\],?$/.test(line))).toHaveLength(5);
  });

  test("properties that are not known are kept", () => {
    const text = writeDocument({
      format: "keyside.curves",
      version: 1,
      shot: { frameRate: 24, tool: "x" },
      nodes: [{ id: "a", hue: [1, 2] }],
      curves: [
        {
          node: "a",
          channel: "rotation.x",
          layer: 2,
          keys: [
            [1, 2, { tag: "hit" }],
            [2, 3],
          ],
        },
      ],
      studio: { show: null },
    } as never);
    const { shot, problems } = readShot(text);
    expect(writeDocument(shot!)).toBe(text);
    expect(text).toContain('"tag": "hit"');
    expect(problems.map((problem) => problem.path)).toEqual([
      "shot/tool",
      "nodes/0/hue",
      "curves/0/layer",
      "curves/0/keys/0",
      "studio",
    ]);
  });

  test("a number that JSON cannot hold is refused", () => {
    const { shot } = readShot(sampleText);
    const curves = shot!.curves.map((curve) => ({ ...curve, values: curve.values.map(() => Number.NaN) }));
    expect(() => writeDocument({ ...shot!, curves })).toThrow(/"hips" at frame 1001 holds NaN/);
  });
});

describe("a document built in code", () => {
  test("is checked as one that is read", () => {
    const { shot, problems, places } = shotOf({
      format: "keyside.curves",
      version: 1,
      shot: { frameRate: 24 },
      nodes: [{ id: "a" }, { id: "a", parent: "b" }],
      curves: [
        {
          node: "a",
          channel: "rotation.x",
          keys: [
            [2, 1],
            [1, 1],
          ],
        },
      ],
    });
    expect(problems.map(({ code, path, start, end }) => ({ code, path, start, end }))).toEqual([
      { code: "duplicate-node", path: "nodes/1/id", start: 0, end: 0 },
      { code: "missing-parent", path: "nodes/1/parent", start: 0, end: 0 },
      { code: "key-order", path: "curves/0/keys/1", start: 0, end: 0 },
    ]);
    expect(places.size).toBe(0);
    expect(shot!.curves[0].place).toBeNull();
    expect([...shot!.curves[0].frames]).toEqual([1, 2]);
    expect(shot!.range).toEqual([1, 2]);
  });

  test("numbers that are not finite are reported, not thrown", () => {
    const { shot, problems } = shotOf({
      format: "keyside.curves",
      version: 1,
      shot: { frameRate: 24 },
      nodes: [{ id: "a" }],
      curves: [
        {
          node: "a",
          channel: "rotation.x",
          keys: [
            [1, Number.NaN],
            [2, 1],
            [3, Number.NEGATIVE_INFINITY],
          ],
        },
      ],
    });
    expect(problems.map((problem) => problem.code)).toEqual(["not-finite", "not-finite"]);
    expect([...shot!.curves[0].frames]).toEqual([2]);
  });
});
