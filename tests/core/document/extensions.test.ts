import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { applyKeyEdits } from "../../../packages/core/document/edit-text.ts";
import { headerOf } from "../../../packages/core/document/inputs.ts";
import { readShot } from "../../../packages/core/document/read.ts";
import { eachAt, framePaths, references } from "../../../packages/core/document/references.ts";
import { reread } from "../../../packages/core/document/reread.ts";
import { writeDocument } from "../../../packages/core/document/write.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { defaultSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { extendedText } from "./extended.ts";
import { oddValues } from "./odd-values.ts";
import { documents } from "./samples.ts";

type Json = Record<string, unknown>;

/** The document with the value at a path replaced; undefined takes it out. */
function withValue(path: string, value: unknown): string {
  const document = JSON.parse(extendedText);
  const steps = path.split("/");
  const last = steps.pop() as string;
  const container = steps.reduce((inner: Json, step) => inner[step] as Json, document);
  container[last] = value;
  return JSON.stringify(document, null, 2);
}

/** Problems of a text as "code path: the text at its place". */
function told(text: string): string[] {
  return readShot(text).problems.map(
    ({ code, path, start, end }) => `${code} ${path}: ${text.slice(start, end).replace(/\s+/g, " ")}`,
  );
}

/** All paths at which a pattern stands in the document, with their values. */
function placesOf(pattern: string): [string, unknown][] {
  const found: [string, unknown][] = [];
  eachAt(JSON.parse(extendedText), pattern, (value, path) => found.push([path, value]));
  return found;
}

describe("a document that says all there is to say", () => {
  test("has no problems, and is given with its shot and to what is computed from it", () => {
    const { shot, problems } = readShot(extendedText);
    expect(problems).toEqual([]);
    const { curves, ...members } = JSON.parse(extendedText);
    expect(shot!.header).toEqual(members);
    expect(headerOf(studyOf(shot!, defaultSettings(registry)))).toBe(shot!.header);
    expect(curves).toHaveLength(shot!.curves.length);
  });

  test("is written as the same bytes", () => {
    expect(writeDocument(readShot(extendedText).shot!)).toBe(extendedText);
  });

  test("keeps every byte that an edit of a key does not touch", () => {
    const text = JSON.stringify({ ...JSON.parse(extendedText), later: { x: [1] } }, null, 3);
    const { shot } = readShot(text);
    expect(applyKeyEdits(text, shot!, [])).toBe(text);
    const edit = { kind: "set", node: "hips", channel: "translation.y", frame: 24, value: 90.5 } as const;
    expect(applyKeyEdits(text, shot!, [edit])).toBe(
      text.replace(/24,\s*91/, (key) => key.replace("91", "90.5")),
    );
  });

  test("is read anew after any change of a part as it is read at once", () => {
    const before = readShot(extendedText);
    const start = extendedText.indexOf('"hand_r", "frames": [30');
    const change = { start: start + 1, end: start + 7, text: "nobody" };
    const { text, result } = reread(extendedText, before, [change]);
    expect(result.problems).toEqual(readShot(text).problems);
    expect(result.problems.map(({ path }) => path)).toEqual(["props/0/heldBy/1/node"]);
  });

  test("any such document reads without a problem outside its curves, and is written as the same bytes", () => {
    fc.assert(
      fc.property(documents, (document) => {
        const { studio: _, ...known } = document as Json;
        const text = writeDocument(known as typeof document);
        const { shot, problems } = readShot(text);
        expect(problems.filter(({ path }) => !path.startsWith("curves"))).toEqual([]);
        expect(writeDocument(shot!)).toBe(text);
        expect(applyKeyEdits(text, shot!, [])).toBe(text);
      }),
    );
  });
});

describe("what is named and is not there", () => {
  test.each(Object.keys(references))("%s is told of once, at its place", (pattern) => {
    const places = placesOf(pattern).filter(([, value]) => typeof value === "string");
    expect(places).not.toEqual([]);
    for (const [path] of places) {
      const code =
        pattern === "nodes/*/parent"
          ? "missing-parent"
          : pattern === "curves/*/node"
            ? "unknown-node"
            : "unknown-reference";
      expect(told(withValue(path, "nobody"))).toEqual([`${code} ${path}: "nobody"`]);
    }
  });

  test("is told of with the name that was probably meant", () => {
    const message = (path: string, id: string) => readShot(withValue(path, id)).problems[0].message;
    expect(message("props/0/heldBy/0/node", "hand_k")).toBe(
      'There is no node with the id "hand_k"; did you mean "hand_l"? This is not used.',
    );
    expect(message("surroundings/1/below", "pol")).toContain(
      'no surface with the id "pol"; did you mean "pool"?',
    );
    expect(message("contacts/0/with", "flor")).toContain(
      'no surface or node with the id "flor"; did you mean "floor"?',
    );
  });
});

describe("frames", () => {
  test.each(framePaths)("%s that run back are told of once, at their place", (pattern) => {
    const places = placesOf(pattern);
    expect(places).not.toEqual([]);
    for (const [path, value] of places) {
      const [first, last] = value as [number, number];
      const [problem, ...others] = told(withValue(path, [last, first]));
      expect(problem).toBe(`frames-reversed ${path}: [ ${last}, ${first} ]`);
      expect(others).toEqual([]);
    }
  });

  test.each([
    ["nodes/6/visible/1", [39, 60]],
    ["nodes/6/visible/2", [1, 40]],
    ["props/0/heldBy/2/frames", [59, 70]],
    ["stages/1/frames", [60, 80]],
  ])("%s that run into others are told of once", (path, value) => {
    expect(told(withValue(path, value))).toEqual([
      `overlapping-frames ${path}: [ ${value[0]}, ${value[1]} ]`,
    ]);
  });

  test("may meet, and two hands may hold at once", () => {
    expect(told(withValue("props/0/heldBy/1/frames", [1, 96]))).toEqual([]);
    expect(told(withValue("props/0/heldBy/2/frames", [60, 61]))).toEqual([]);
  });
});

describe("what cannot be has an answer", () => {
  test.each(oddValues)("%s", (_, path, value, expected) => {
    const text = withValue(path, value);
    expect(readShot(text).problems.map(({ code, path: at }) => `${code} ${at}`)).toEqual(expected);
    // The place is in the entry that it is about.
    const { places, problems } = readShot(text);
    for (const { start, end, path: at } of problems) {
      const [list, index] = at.split("/");
      const [from, to] = readShot(extendedText).places.has(`${list}/${index}`)
        ? rangeIn(text, list, index)
        : places.get(list)!;
      expect(start).toBeGreaterThanOrEqual(from);
      expect(end).toBeLessThanOrEqual(to);
    }
  });

  test("messages say what to write, in sentences that are not too long", () => {
    const messages = oddValues.flatMap(([, path, value]) =>
      readShot(withValue(path, value)).problems.map(({ message }) => message),
    );
    for (const message of messages) {
      for (const sentence of message.split(/(?<=[.!?])\s+/)) {
        expect(sentence.split(/\s+/).length, sentence).toBeLessThanOrEqual(30);
      }
      expect(message).not.toContain("something else");
    }
    expect(messages).toContain(
      '"colour" has to be a colour of sRGB as "#rrggbb", and is the text "orange"; write six hexadecimal digits, such as "colour": "#d08040", or keys of them. It is left out.',
    );
    expect(messages).toContain(
      '"kind" has to be one of "sphere", "capsule", "box", and is the text "cone". "nodes/4/shapes/0" is left out.',
    );
    expect(messages).toContain('"mass" has to be at least 1e-9, and is -12. It is left out.');
  });
});

/** Where an entry of a list stands, whatever was left out when it was read. */
function rangeIn(text: string, list: string, index: string): readonly [number, number] {
  const whole = JSON.parse(text)[list][index];
  const spread = JSON.stringify(whole, null, 2).split("\n").join("\n    ");
  const at = text.indexOf(spread);
  expect(at).toBeGreaterThan(0);
  return [at, at + spread.length];
}

describe("an entry within an entry that cannot be used", () => {
  test("goes alone, and what stands behind it is told of at its own place", () => {
    const document = JSON.parse(extendedText);
    document.figures[0].limbs[0].kind = "paw";
    document.figures[0].limbs[1].nodes = [7, "nobody"];
    document.nodes[4].shapes[0].radius = 0;
    const text = JSON.stringify(document, null, 2);
    expect(told(text)).toEqual([
      "bad-value nodes/4/shapes/0/radius: 0",
      'bad-value figures/0/limbs/0/kind: "paw"',
      expect.stringMatching(/^bad-value figures\/0\/limbs\/1\/nodes\/0: /),
      'unknown-reference figures/0/limbs/1/nodes/1: "nobody"',
    ]);
    const { shot, places } = readShot(text);
    expect(shot!.header.figures![0].limbs!.map(({ id }) => id)).toEqual(["far leg"]);
    expect(shot!.header.nodes[4].shapes).toEqual([{ kind: "sphere", radius: 2, centre: [0, 6, 0] }]);
    const [start, end] = places.get("figures/0/limbs/0/id")!;
    expect(text.slice(start, end)).toBe('"far leg"');
  });
});
