import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { channels } from "../../../packages/core/document/model.ts";
import { readShot } from "../../../packages/core/document/read.ts";
import { contradictions, damages } from "./bad-documents.ts";
import { problemsOf, sampleText, sampleWith } from "./samples.ts";

const framesOf = (text: string, curve = 0) => [...(readShot(text).shot?.curves[curve]?.frames ?? [])];

describe("a sound document", () => {
  const { shot, problems, places } = readShot(sampleText);

  test("has no problems", () => {
    expect(problems).toEqual([]);
  });

  test("gives curves in typed arrays", () => {
    const [height, turn] = shot!.curves;
    expect(height).toMatchObject({
      node: "hips",
      channel: "translation.y",
      interpolation: "bezier",
      width: 1,
    });
    expect([...height.frames]).toEqual([1001, 1009, 1020]);
    expect([...height.values]).toEqual([95, 88.5, 91]);
    expect([...height.modes]).toEqual([3, 3, 0]);
    expect([...height.ownModes!]).toEqual([0, 0, 1]);
    const none = Number.NaN;
    expect([...height.handles!]).toEqual([
      none,
      none,
      none,
      none,
      -2.5,
      0.8,
      2.5,
      -1.1,
      none,
      none,
      none,
      none,
    ]);
    expect(turn.width).toBe(4);
    expect([...turn.values]).toEqual([0, 0, 0, 1, 0, 0.6, 0, 0.8]);
    expect([...turn.handles!.slice(8)]).toEqual([0, 0.1, 0, 0, 0, 0, 0, 0]);
  });

  test("says where each key stands", () => {
    for (const curve of shot!.curves) {
      const { start, end, keyStart, keyEnd } = curve.place!;
      expect(JSON.parse(sampleText.slice(start, end)).node).toBe(curve.node);
      curve.frames.forEach((frame, key) => {
        expect(JSON.parse(sampleText.slice(start + keyStart[key], start + keyEnd[key]))[0]).toBe(frame);
      });
    }
  });

  test("says where each part of the header stands", () => {
    const at = (path: string) => sampleText.slice(...places.get(path)!);
    expect(at("nodes/1/parent")).toBe('"hips"');
    expect(JSON.parse(at("waivers/0"))).toEqual(shot!.header.waivers![0]);
    expect(at("shot/frameRate")).toBe('"24000/1001"');
    expect([...places.keys()]).toContain("nodes/2/id");
    expect([...places].every(([path, range]) => places.get(path)![0] === range[0])).toBe(true);
    expect(places.get("nodes/9")).toBeUndefined();
  });

  test("gives the rate as a fraction and the range as written", () => {
    expect(shot!.frameRate).toEqual({ numerator: 24000, denominator: 1001 });
    expect(shot!.range).toEqual([1001, 1096]);
  });

  test("reads the same behind a byte order mark, in one line, with Windows line ends and without ASCII", () => {
    const values = (text: string) => readShot(text).shot!.curves.map((curve) => [...curve.values]);
    const usual = values(sampleText);
    const inOneLine = JSON.stringify(JSON.parse(sampleText));
    const spread = JSON.stringify(JSON.parse(sampleText), null, 2);
    const foreign = sampleText.replaceAll("hips", "Hüften 🦴");
    for (const text of [
      `\uFEFF${sampleText}`,
      inOneLine,
      spread,
      sampleText.replaceAll("\n", "\r\n"),
      foreign,
    ]) {
      expect(problemsOf(text)).toEqual([]);
      expect(values(text)).toEqual(usual);
    }
    const { place } = readShot(foreign).shot!.curves[1];
    expect(foreign.slice(place!.start, place!.end)).toMatch(/^\{ "node": "thigh_l".*\}$/s);
  });

  test("a range that is left out is inferred from the keys", () => {
    const { shot: other, problems: found } = readShot(sampleWith(', "range": [1001, 1096]', ""));
    expect(other!.range).toEqual([1001, 1020]);
    expect(found).toEqual([]);
  });
});

describe("a text that is no curve document", () => {
  test.each([
    ["", ["empty-document 1:1 "]],
    [" \n\t\n", ["empty-document 1:1 "]],
    ["[1, 2]", ["not-a-curve-document 1:1 "]],
    ["42", ["not-a-curve-document 1:1 "]],
    ["# notes", ["not-a-curve-document 1:1 "]],
    ['{ "name": "package", "scripts": {} }', ["not-a-curve-document 1:1 "]],
    ['{\n  "format": "other.curves", "version": 1 }', ["not-a-curve-document 2:13 format"]],
    ['{ "format": "keyside.curves", "version": 2, "nodes": [] }', ["newer-version 1:42 version"]],
    [
      '{ "format": "keyside.curves", "version": 1, "shot": { "frameRate": 24 }, "nodes": [], "curves": [] }',
      ["no-nodes 1:83 nodes"],
    ],
    [
      '{ "format": "keyside.curves", "version": 1, "shot": { "frameRate": 24 }, "curves": [] }',
      ["no-nodes 1:1 nodes"],
    ],
    [
      '{ "format": "keyside.curves", "version": 1, "shot": { "frameRate": 24 }, "nodes": 3, "curves": [] }',
      ["no-nodes 1:83 nodes"],
    ],
  ])("%j", (text, expected) => {
    expect(problemsOf(text)).toEqual(expected);
    expect(readShot(text).shot).toBeNull();
  });
});

describe("damaged text", () => {
  test.each(damages)("%s", (_, piece, by, expected, frames) => {
    const text = sampleWith(piece, by);
    expect(problemsOf(text)).toEqual(expected);
    expect(framesOf(text)).toEqual(frames);
    expect(framesOf(text, 1)).toEqual([1001, 1010.5]);
  });

  test("a document that is cut off keeps what comes before", () => {
    const text = sampleText.slice(0, sampleText.indexOf("91, {"));
    expect(problemsOf(text)).toEqual(["cut-off 14:13 curves/0/keys/2"]);
    expect(framesOf(text)).toEqual([1001, 1009]);
  });

  test("of a document that is cut off anywhere, the first that is said is where it ends", () => {
    const whole = sampleText.trimEnd();
    for (let length = 1; length < whole.length; length++) {
      const text = whole.slice(0, length);
      const [first, ...others] = readShot(text).problems;
      expect([first?.code, first?.end], text).toEqual(["cut-off", length]);
      // The document itself is whole: what is missing stood behind the cut.
      expect(
        others.map(({ code, path }) => `${code} ${path}`).filter((one) => /missing-property|no-/.test(one)),
        text,
      ).toEqual([]);
    }
  });

  test("what is missing in something that was closed before the cut is still said", () => {
    const text =
      '{ "format": "keyside.curves", "version": 1, "shot": {}, "nodes": [{ "id": "a" }, { }, { "id": "b"';
    expect(problemsOf(text)).toEqual([
      "cut-off 1:97 nodes/2",
      "frame-rate 1:53 shot/frameRate",
      "missing-property 1:82 nodes/1/id",
    ]);
  });

  test("a document that is closed too early is read on", () => {
    const text = sampleWith('"courier", "parts"', '"courier" } } ], "x": 1 }\n { "parts"');
    expect(readShot(text).shot!.curves).toHaveLength(2);
    expect(problemsOf(text).some((problem) => problem.startsWith("stray-text"))).toBe(true);
  });

  test("a broken curve costs that curve only", () => {
    const text = sampleWith(
      '"node": "hips", "channel": "translation.y"',
      '"node": , "channel" "translation.y"',
    );
    expect(problemsOf(text)).toEqual(["missing-value 11:15 curves/0/node", "missing-colon 11:17 curves/0"]);
    expect(readShot(text).shot!.curves.map((curve) => curve.node)).toEqual(["thigh_l"]);
  });

  test("brackets without end do not overflow", () => {
    expect(problemsOf('{ "format": '.repeat(2) + "[".repeat(200_000))).not.toEqual([]);
    expect(problemsOf(sampleWith("[0, 95, 0]", "[".repeat(100_000) + "]".repeat(100_000)))).toEqual([
      `too-deep 6:98 nodes/0/translation${"/0".repeat(62)}`,
    ]);
    expect(
      problemsOf(sampleWith("[1001, 95],", `${"[".repeat(100_000)}${"]".repeat(100_000)},`)),
    ).toHaveLength(1);
  });

  test("a flood of problems is cut short, and says so", () => {
    const text = sampleWith("[1001, 95],", "@,".repeat(5000));
    const { problems } = readShot(text);
    expect(problems.length).toBeLessThan(1100);
    expect(framesOf(text)).toEqual([1009, 1020]);
  });
});

describe("a text where a number is due", () => {
  const messages = (piece: string, by: string) =>
    readShot(sampleWith(piece, by)).problems.map(({ message }) => message);

  test("is told of once, with what to write", () => {
    expect(messages('[1009, 88.5, { "in"', '[1009, "88.5", { "in"')).toEqual([
      'The value "88.5" is text; write 88.5, without the quotes. The key is left out.',
    ]);
    expect(messages("[1001, 95],", '["1001", "95"],')).toEqual([
      'The frame "1001" is text; write 1001, without the quotes. The key is left out.',
    ]);
    expect(messages("[1001, 95],", '[1001, "high"],')).toEqual([
      'The value "high" is text; write a number. The key is left out.',
    ]);
  });

  test("that leaves a shot without keys, and so without frames, says no more than that", () => {
    const text = `{ "format": "keyside.curves", "version": 1, "shot": { "frameRate": 24 },
      "nodes": [{ "id": "a" }],
      "curves": [{ "node": "a", "channel": "translation.x", "keys": [[1, "12"]] }] }`;
    expect(problemsOf(text)).toEqual(["bad-key 3:70 curves/0/keys/0"]);
  });
});

describe("a document that contradicts itself", () => {
  test.each(contradictions)("%s", (name, piece, by, expected) => {
    const drop = name === "curves that are no list" ? ', "range": [1001, 1096]' : "";
    const text = sampleWith(piece, by).replace(drop, "");
    expect(problemsOf(text).filter((problem) => !problem.includes(" studio"))).toEqual(expected);
    expect(readShot(text).shot).not.toBeNull();
  });

  test("unsorted keys are sorted, and the last of two at a frame counts", () => {
    const { shot } = readShot(sampleWith("[1001, 95],", "[1020, 1], [1012, 95], [1012, 96],"));
    const [curve] = shot!.curves;
    expect([...curve.frames]).toEqual([1009, 1012, 1020]);
    expect([...curve.values]).toEqual([88.5, 96, 91]);
    expect([...curve.modes]).toEqual([3, 3, 0]);
    expect([...curve.handles!.slice(0, 4)]).toEqual([-2.5, 0.8, 2.5, -1.1]);
    expect([...curve.ownModes!]).toEqual([0, 0, 1]);
  });

  test("keys outside the range are fine", () => {
    expect(problemsOf(sampleWith("[1001, 95],", "[-40, 95],"))).toEqual([]);
  });

  test("an entry that cannot be used goes alone, and places stay true", () => {
    const text = sampleWith('{ "id": "thigh_l", "parent"', '{ "id": "" }, { "id": "thigh_l", "parent"');
    const { shot, places } = readShot(text);
    expect(problemsOf(text)).toEqual(["bad-value 7:13 nodes/1/id"]);
    expect(shot!.header.nodes.map((node) => node.id)).toEqual(["hips", "thigh_l", "lamp"]);
    expect(text.slice(...places.get("nodes/2/id")!)).toBe('"lamp"');
  });

  test("paths of problems count entries that were left out", () => {
    const text = sampleWith(
      '{ "id": "thigh_l", "parent": "hips"',
      '{ "id": "" }, { "id": "thigh_l", "parent": "no"',
    );
    expect(problemsOf(text)).toEqual(["bad-value 7:13 nodes/1/id", "missing-parent 7:48 nodes/2/parent"]);
  });

  test("messages name what was probably meant", () => {
    const message = (piece: string, by: string) => readShot(sampleWith(piece, by)).problems[0].message;
    expect(message('"translation.y"', '"translation.Y "')).toContain('did you mean "translation.y"?');
    expect(message('"height": 0', '"hight": 0, "height": 1')).toContain('did you mean "height"?');
    expect(message('"parent": "hips"', '"parent": "hip"')).toContain('did you mean "hips"?');
  });
});

describe("values with a toString of their own", () => {
  test("are told of as they are written", () => {
    const text = JSON.stringify({
      format: "keyside.curves",
      version: 1,
      shot: { frameRate: 24 },
      nodes: [{ id: "hips" }],
      curves: [
        { node: "hips", channel: "translation.x", interpolation: { toString: 0 }, keys: [[1, 2]] },
        {
          node: "hips",
          channel: "translation.y",
          keys: [
            [1, 2, { interpolation: { toString: 0 } }],
            [5, 3],
          ],
        },
      ],
    });
    const messages = readShot(text).problems.map(({ message }) => message);
    expect(messages).toHaveLength(2);
    for (const message of messages) expect(message).toMatch(/^"\{"toString":0\}" is no interpolation/);
  });
});

describe("whatever the text is", () => {
  const mutations = fc.array(
    fc.record({
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      length: fc.integer({ min: 0, max: 12 }),
      by: fc.oneof(
        fc.string({ maxLength: 4 }),
        fc.constantFrom("[", "]", "{", "}", '"', ",", ":", "/*", "//", "-", "1e", "\n", "NaN"),
      ),
    }),
    { maxLength: 6 },
  );

  test("reading never throws, and every place lies in the text", () => {
    fc.assert(
      fc.property(mutations, (list) => {
        let text = sampleText;
        for (const { at, length, by } of list) {
          const start = Math.floor(at * text.length);
          text = text.slice(0, start) + by + text.slice(start + length);
        }
        const { shot, problems } = readShot(text);
        for (const { start, end, message } of problems) {
          expect(start).toBeGreaterThanOrEqual(0);
          expect(end).toBeGreaterThanOrEqual(start);
          expect(end).toBeLessThanOrEqual(text.length);
          expect(message).toMatch(/\S/);
        }
        let isJson = true;
        try {
          JSON.parse(text);
        } catch {
          isJson = false;
        }
        // What JSON.parse refuses is never taken without a word.
        if (!isJson) expect(problems).not.toEqual([]);
        for (const curve of shot?.curves ?? []) {
          expect(channels).toContain(curve.channel);
          for (let key = 1; key < curve.frames.length; key++)
            expect(curve.frames[key]).toBeGreaterThan(curve.frames[key - 1]);
          expect(curve.values.every(Number.isFinite)).toBe(true);
        }
      }),
      { numRuns: 1500 },
    );
  });

  test("any string at all", () => {
    fc.assert(fc.property(fc.string({ maxLength: 40, unit: "binary" }), (text) => readShot(text) !== null));
  });
});
