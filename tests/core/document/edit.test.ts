import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  editShot,
  type KeyEdit,
  KeyEditError,
  keyEditSchema,
  tryEditShot,
} from "../../../packages/core/document/edit.ts";
import { applyKeyEdits } from "../../../packages/core/document/edit-text.ts";
import type { Curve, Shot } from "../../../packages/core/document/model.ts";
import { readShot } from "../../../packages/core/document/read.ts";
import { writeDocument } from "../../../packages/core/document/write.ts";
import { documents, sampleText } from "./samples.ts";

const sample = readShot(sampleText).shot!;
const hips = { node: "hips", channel: "translation.y" } as const;
const thigh = { node: "thigh_l", channel: "rotation" } as const;

/** Lines that are in one text and not in the other: "-old" and "+new", in order. */
function changedLines(before: string, after: string): string[] {
  const left = before.split("\n");
  const right = after.split("\n");
  let head = 0;
  while (head < left.length && left[head] === right[head]) head++;
  let tail = 0;
  while (tail < Math.min(left.length, right.length) - head && left.at(-1 - tail) === right.at(-1 - tail))
    tail++;
  const cut = (lines: string[], sign: string) =>
    lines.slice(head, lines.length - tail).map((line) => sign + line.trim());
  return [...cut(left, "-"), ...cut(right, "+")];
}

const edited = (...edits: KeyEdit[]) => changedLines(sampleText, applyKeyEdits(sampleText, sample, edits));

/** Curves without their places and without the members that only say where they are written. */
const bare = (shot: Shot) => shot.curves.map(({ place: _, ...curve }: Curve) => curve);

describe("editing the text", () => {
  test.each<[string, KeyEdit[], string[]]>([
    ["a value", [{ kind: "set", ...hips, frame: 1001, value: 94.5 }], ["-[1001, 95],", "+[1001, 94.5],"]],
    [
      "a value of a key with handles, which stay as written",
      [{ kind: "set", ...hips, frame: 1009, value: -0 }],
      [
        '-[1009, 88.5, { "in": [-2.5, 0.8], "out": [2.5, -1.1] }],',
        '+[1009, -0, { "in": [-2.5, 0.8], "out": [2.5, -1.1] }],',
      ],
    ],
    ["a new key between two", [{ kind: "set", ...hips, frame: 1012, value: 90 }], ["+[1012, 90],"]],
    ["a new key in front", [{ kind: "set", ...hips, frame: 990, value: 90 }], ["+[990, 90],"]],
    [
      "a new key at the end",
      [{ kind: "set", ...hips, frame: 1030, value: 90, interpolation: "linear" }],
      [
        '-[1020, 91, { "interpolation": "step" }]',
        '+[1020, 91, { "interpolation": "step" }],',
        '+[1030, 90, { "interpolation": "linear" }]',
      ],
    ],
    [
      "a move in time",
      [{ kind: "move", ...hips, frame: 1001, toFrame: 1000 }],
      ["-[1001, 95],", "+[1000, 95],"],
    ],
    [
      "a move past another key",
      [{ kind: "move", ...hips, frame: 1001, toFrame: 1012 }],
      [
        "-[1001, 95],",
        '-[1009, 88.5, { "in": [-2.5, 0.8], "out": [2.5, -1.1] }],',
        '+[1009, 88.5, { "in": [-2.5, 0.8], "out": [2.5, -1.1] }],',
        "+[1012, 95],",
      ],
    ],
    ["a key taken out", [{ kind: "remove", ...hips, frame: 1001 }], ["-[1001, 95],"]],
    [
      "the last key taken out, and with it the comma in front",
      [{ kind: "remove", ...hips, frame: 1020 }],
      [
        '-[1009, 88.5, { "in": [-2.5, 0.8], "out": [2.5, -1.1] }],',
        '-[1020, 91, { "interpolation": "step" }]',
        '+[1009, 88.5, { "in": [-2.5, 0.8], "out": [2.5, -1.1] }]',
      ],
    ],
    [
      "an interpolation",
      [{ kind: "set", ...hips, frame: 1001, value: 95, interpolation: "smooth" }],
      ["-[1001, 95],", '+[1001, 95, { "interpolation": "smooth" }],'],
    ],
    [
      "an interpolation given back to the curve",
      [{ kind: "set", ...hips, frame: 1020, value: 91, interpolation: null }],
      ['-[1020, 91, { "interpolation": "step" }]', "+[1020, 91]"],
    ],
    [
      "one handle of two",
      [{ kind: "set", ...hips, frame: 1009, value: 88.5, handles: { in: null } }],
      ['-[1009, 88.5, { "in": [-2.5, 0.8], "out": [2.5, -1.1] }],', '+[1009, 88.5, { "out": [2.5, -1.1] }],'],
    ],
    [
      "a quaternion",
      [{ kind: "set", ...thigh, frame: 1001, value: [0, 0, 1, 0] }],
      ["-[1001, [0, 0, 0, 1]],", "+[1001, [0, 0, 1, 0]],"],
    ],
    [
      "a channel without a curve",
      [{ kind: "set", node: "lamp", channel: "rotation.x", frame: 1001, value: 5 }],
      [
        "+] },",
        '+{ "node": "lamp", "channel": "rotation.x", "interpolation": "linear", "keys": [',
        "+[1001, 5]",
      ],
    ],
    [
      "all keys of a curve taken out, and the curve with them",
      [1001, 1009, 1020].map((frame) => ({ kind: "remove" as const, ...hips, frame })),
      [
        '-{ "node": "hips", "channel": "translation.y", "interpolation": "bezier", "keys": [',
        "-[1001, 95],",
        '-[1009, 88.5, { "in": [-2.5, 0.8], "out": [2.5, -1.1] }],',
        '-[1020, 91, { "interpolation": "step" }]',
        "-] },",
      ],
    ],
  ])("%s", (_, edits, lines) => {
    expect(edited(...edits)).toEqual(lines);
    const text = applyKeyEdits(sampleText, sample, edits);
    const read = readShot(text);
    expect(read.problems).toEqual([]);
    expect(bare(read.shot!)).toEqual(bare(editShot(sample, edits)));
  });

  test("a run of keys moves at once, in any order", () => {
    const edits = [1001, 1009].map((frame) => ({
      kind: "move" as const,
      ...hips,
      frame,
      toFrame: frame + 8,
    }));
    const keys = (list: KeyEdit[]) => [...editShot(sample, list).curves[0].frames];
    expect(keys(edits)).toEqual([1009, 1017, 1020]);
    expect(keys([...edits].reverse())).toEqual([1009, 1017, 1020]);
    expect(edited(...edits).filter((line) => line.startsWith("+"))).toHaveLength(2);
  });

  describe("two edits of one key", () => {
    const text = sampleText;
    const keyed = { node: "hips", channel: "translation.y" } as const;
    const curve = sample.curves.find(({ node, channel }) => node === "hips" && channel === "translation.y");
    const at = curve?.frames[0] ?? Number.NaN;
    const where = { ...keyed, frame: at };
    const free = at + 0.25;
    const set = (value: number, more: object = {}): KeyEdit => ({ kind: "set", ...where, value, ...more });
    const move = (toFrame: number): KeyEdit => ({ kind: "move", ...where, toFrame });
    const remove: KeyEdit = { kind: "remove", ...where };
    const outcome = (...edits: KeyEdit[]) => bare(editShot(sample, edits));

    // The table of docs/host-protocol.md.
    test.each<readonly [string, readonly KeyEdit[], readonly KeyEdit[]]>([
      ["set, set", [set(5, { interpolation: "step" }), set(7)], [set(7, { interpolation: "step" })]],
      ["move, move", [move(at + 0.125), move(free)], [move(free)]],
      ["set, move", [set(5), move(free)], [{ ...move(free), value: 5 } as KeyEdit]],
      ["move, set", [move(free), set(5)], [{ ...move(free), value: 5 } as KeyEdit]],
      ["set, remove", [set(5), remove], [remove]],
      ["move, remove", [move(free), remove], [remove]],
      ["remove, set", [remove, set(5)], [set(5)]],
      ["remove, remove", [remove, remove], [remove]],
    ])("%s", (_, both, one) => {
      expect(outcome(...both)).toEqual(outcome(...one));
      expect(outcome(...both)).not.toEqual(outcome());
      const { shot } = readShot(applyKeyEdits(text, sample, both));
      expect(shot && bare(shot)).toEqual(outcome(...both));
    });

    test.each<readonly [string, readonly KeyEdit[]]>([
      ["remove, move", [remove, move(free)]],
      [
        "a set that makes a key, move",
        [
          { ...set(5), frame: free },
          { ...move(at + 0.5), frame: free },
        ],
      ],
      [
        "a set that makes a key, remove",
        [
          { ...set(5), frame: free },
          { ...remove, frame: free },
        ],
      ],
    ])("%s: refused", (_, edits) => {
      expect(() => editShot(sample, edits)).toThrow(KeyEditError);
    });
  });

  test("keeps line ends, indentation and the way in which other numbers are written", () => {
    const text = sampleText
      .replaceAll("      [", "\t[")
      .replace("[1020, 91,", "[1.020e3, 91.00,")
      .replaceAll("\n", "\r\n");
    const { shot } = readShot(text);
    const after = applyKeyEdits(text, shot!, [
      { kind: "set", ...hips, frame: 1015, value: 1 },
      { kind: "set", ...hips, frame: 1020, value: 2 },
    ]);
    expect(after).toBe(text.replace("\t[1.020e3, 91.00,", "\t[1015, 1],\r\n\t[1.020e3, 2,"));
  });

  test("works in a document on one line", () => {
    const text = JSON.stringify(JSON.parse(sampleText));
    const after = applyKeyEdits(text, readShot(text).shot!, [
      { kind: "set", ...hips, frame: 1002, value: 7 },
      { kind: "remove", ...hips, frame: 1020 },
      { kind: "set", node: "lamp", channel: "scale.x", frame: 1, value: 2 },
    ]);
    const plain = JSON.parse(after);
    expect(plain.curves[0].keys.map((key: number[]) => key[0])).toEqual([1001, 1002, 1009]);
    expect(plain.curves[2].keys).toEqual([[1, 2]]);
  });

  test("starts the first curve of a document", () => {
    for (const curves of ['"curves": []', '"curves": [\n  ]']) {
      const text = `{ "format": "keyside.curves", "version": 1, "shot": { "frameRate": 24 }, "nodes": [{ "id": "a" }], ${curves} }`;
      const after = applyKeyEdits(text, readShot(text).shot!, [
        { kind: "set", node: "a", channel: "rotation.x", frame: 1, value: 2 },
      ]);
      expect(JSON.parse(after).curves).toEqual([
        { node: "a", channel: "rotation.x", interpolation: "linear", keys: [[1, 2]] },
      ]);
    }
  });
});

describe("editing a shot", () => {
  test("makes new objects for edited curves only", () => {
    const after = editShot(sample, [{ kind: "set", ...hips, frame: 1001, value: 1 }]);
    expect(after.curves[1]).toBe(sample.curves[1]);
    expect(after.header).toBe(sample.header);
    expect(after.curves[0]).not.toBe(sample.curves[0]);
    expect(after.curves[0].place).toBeNull();
    expect([...sample.curves[0].values]).toEqual([95, 88.5, 91]);
    expect(editShot(sample, [])).toBe(sample);
  });

  test.each<[string, KeyEdit, string]>([
    [
      "an unknown node",
      { kind: "set", node: "hip", channel: "rotation.x", frame: 1, value: 1 },
      "unknown-node",
    ],
    ["a key that is not there", { kind: "remove", ...hips, frame: 1002 }, "no-such-key"],
    [
      "a curve that is not there",
      { kind: "move", node: "lamp", channel: "rotation.x", frame: 1, toFrame: 2 },
      "no-such-key",
    ],
    ["a key moved onto another", { kind: "move", ...hips, frame: 1001, toFrame: 1009 }, "key-there"],
    ["a number for a quaternion", { kind: "set", ...thigh, frame: 1001, value: 1 }, "value-kind"],
    ["a quaternion for a number", { kind: "set", ...hips, frame: 1001, value: [0, 0, 0, 1] }, "value-kind"],
    ["a value that is not finite", { kind: "set", ...hips, frame: 1001, value: Number.NaN }, "not-finite"],
    [
      "a frame that is not finite",
      { kind: "move", ...hips, frame: 1001, toFrame: Number.POSITIVE_INFINITY },
      "not-finite",
    ],
    [
      "a quaternion of length zero",
      { kind: "set", ...thigh, frame: 1001, value: [0, 0, 0, 0] },
      "zero-quaternion",
    ],
    [
      "a bezier handle on a quaternion",
      { kind: "set", ...thigh, frame: 1001, value: [0, 0, 0, 1], handles: { in: [1, 2] } },
      "handle-form",
    ],
  ])("says what is wrong with %s, and makes none of the edits", (_, edit, code) => {
    const sound: KeyEdit = { kind: "set", ...hips, frame: 1020, value: 5 };
    const { shot, problems } = tryEditShot(sample, [sound, edit]);
    expect(problems.map((problem) => `${problem.code} ${problem.path}`)).toEqual([`${code} edits/1`]);
    expect(shot).toBe(sample);
    expect(() => editShot(sample, [edit])).toThrow(KeyEditError);
    expect(() => applyKeyEdits(sampleText, sample, [edit])).toThrow(KeyEditError);
  });

  test("a curve without a place cannot be edited in a text", () => {
    const shot = editShot(sample, [{ kind: "set", ...hips, frame: 1001, value: 1 }]);
    expect(() => applyKeyEdits(sampleText, shot, [{ kind: "set", ...hips, frame: 1001, value: 2 }])).toThrow(
      /read the text again/,
    );
  });

  test("the schema takes edits and refuses what is none", () => {
    expect(
      keyEditSchema.safeParse({ kind: "set", ...hips, frame: 1, value: 2, handles: { out: [1, 2] } }).success,
    ).toBe(true);
    expect(keyEditSchema.safeParse({ kind: "move", ...hips, frame: 1 }).success).toBe(false);
    expect(keyEditSchema.safeParse({ kind: "set", ...hips, frame: Number.NaN, value: 2 }).success).toBe(
      false,
    );
  });
});

describe("any document", () => {
  const withEdits = documents
    .map((document) => ({ text: writeDocument(document) }))
    .map(({ text }) => ({ text, shot: readShot(text).shot! }))
    .filter(({ shot }) => shot.curves.length > 0)
    .chain(({ text, shot }) => {
      const edit = fc
        .record({
          curve: fc.nat(shot.curves.length - 1),
          key: fc.nat(5),
          kind: fc.constantFrom("set" as const, "insert" as const, "move" as const, "remove" as const),
          to: fc.integer({ min: -500, max: 2000 }).map((n) => n / 8),
          value: fc.double({ min: -100, max: 100, noNaN: true }),
        })
        .map(({ curve, key, kind, to, value }): KeyEdit => {
          const { node, channel, frames, width } = shot.curves[curve];
          const frame = frames[Math.min(key, frames.length - 1)];
          const number = width === 1 ? value : ([value, 1, 0, 0] as const);
          if (kind === "move") return { kind, node, channel, frame, toFrame: to };
          if (kind === "remove") return { kind, node, channel, frame };
          return { kind: "set", node, channel, frame: kind === "insert" ? to : frame, value: number };
        });
      return fc.record({
        text: fc.constant(text),
        shot: fc.constant(shot),
        edits: fc.array(edit, { minLength: 1, maxLength: 5 }),
      });
    });

  test("reading the edited text gives the edited shot", () => {
    fc.assert(
      fc.property(withEdits, ({ text, shot, edits }) => {
        const { shot: after, problems } = tryEditShot(shot, edits);
        fc.pre(problems.length === 0);
        const read = readShot(applyKeyEdits(text, shot, edits)).shot!;
        expect(bare(read)).toEqual(bare(after));
        expect(writeDocument(read)).toBe(writeDocument(after));
      }),
      { numRuns: 250 },
    );
  });

  test("a new value changes exactly one line", () => {
    fc.assert(
      fc.property(withEdits, ({ text, shot, edits }) => {
        const { node, channel } = edits[0];
        const { frames, values, width } = shot.curves.find((c) => c.node === node && c.channel === channel)!;
        const key = text.length % frames.length;
        const other = values[key * width] + 1.5;
        const value = width === 1 ? other : ([other, 1, 0, 0] as const);
        const before = text.split("\n");
        const after = applyKeyEdits(text, shot, [
          { kind: "set", node, channel, frame: frames[key], value },
        ]).split("\n");
        expect(after).toHaveLength(before.length);
        expect(after.filter((line, index) => line !== before[index])).toHaveLength(1);
      }),
      { numRuns: 150 },
    );
  });
});
