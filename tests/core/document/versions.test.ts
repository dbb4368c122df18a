import { describe, expect, test } from "vitest";
import { applyKeyEdits } from "../../../packages/core/document/edit-text.ts";
import { readShot } from "../../../packages/core/document/read.ts";
import { writeDocument } from "../../../packages/core/document/write.ts";
import { extendedText } from "./extended.ts";

describe("versions", () => {
  const newer = () => {
    const document = JSON.parse(extendedText);
    Object.assign(document, { version: 2, weather: { wind: 3 } });
    document.nodes[0].mood = "grim";
    document.curves[0].layer = 2;
    document.curves[0].keys[0].push({ tag: "hit" });
    document.cameras[0].zoom.keys[0][2].tag = "in";
    return document;
  };

  test("a newer one is read, and told of once with what is done", () => {
    const text = JSON.stringify(newer(), null, 2);
    const { shot, problems } = readShot(text);
    expect(problems.map(({ code, path }) => `${code} ${path}`)).toEqual(["newer-version version"]);
    expect(problems[0].message).toMatch(
      /is of version 2.*reads version 1; use a newer program\. It is read as/,
    );
    expect(shot!.curves).toHaveLength(1);
  });

  test("what a newer one holds that is not known is told of in an older one, each at its place", () => {
    const text = JSON.stringify({ ...newer(), version: 1 });
    expect(readShot(text).problems.map(({ code, path }) => `${code} ${path}`)).toEqual([
      "unknown-property nodes/0/mood",
      "unknown-property curves/0/keys/0",
      "unknown-property curves/0/layer",
      "unknown-property cameras/0/zoom/keys/0",
      "unknown-property weather",
    ]);
  });

  test("both are written as they were read, with their version", () => {
    for (const version of [1, 2, 17]) {
      const text = writeDocument({ ...newer(), version });
      expect(writeDocument(readShot(text).shot!)).toBe(text);
      expect(text).toContain(`"version": ${version},`);
      const { shot } = readShot(text);
      const edit = { kind: "move", node: "hips", channel: "translation.y", frame: 24, toFrame: 25 } as const;
      expect(applyKeyEdits(text, shot!, [edit])).toBe(text.replace("[24, 91]", "[25, 91]"));
    }
  });

  test("one that is no version is read as this one", () => {
    for (const version of [0, -1, 1.5, 2.5, "2", null]) {
      const text = JSON.stringify({ ...JSON.parse(extendedText), version });
      const { shot, problems } = readShot(text);
      expect(problems.map(({ code, path }) => `${code} ${path}`)).toEqual(["bad-value version"]);
      expect(shot!.header.version).toBe(1);
    }
  });
});
