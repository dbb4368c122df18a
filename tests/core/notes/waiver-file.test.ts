import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { readWaiverFile, waiverFileJsonSchema } from "../../../packages/core/notes/waiver-file.ts";

const sound = {
  format: "keyside.waivers",
  version: 1,
  waivers: [
    { check: "hard-stop", node: "hips", frames: [40, 42], reason: "comic stop", by: "lead", lastRevision: 7 },
    { check: "twinning", reason: "a mechanical figure" },
  ],
};

describe("a file of waivers", () => {
  test("gives its waivers", () => {
    expect(readWaiverFile(JSON.stringify(sound, null, 2))).toEqual(sound.waivers);
  });

  test.each<[string, string, RegExp]>([
    ["no JSON", "waivers", /^Line 1, column 1: This is no JSON object\. A file of waivers is /],
    ["a list", "[]", /^Line 1, column 1: This is no JSON object\. A file of waivers is /],
    ["cut off", '{ "format": "keyside.waivers", ', /Line 1/],
    [
      "another format",
      '{\n  "format": "keyside.curves",\n  "version": 1, "waivers": [] }',
      /Line 2.*"format"/,
    ],
    [
      "a waiver without a reason",
      '{ "format": "keyside.waivers", "version": 1, "waivers": [\n  { "check": "pop" }\n] }',
      /^Line 2, column 3: "reason" is missing in "waivers\/0"; add why this is meant, such as "reason": "a comic stop/,
    ],
    [
      "a waiver with an empty reason",
      '{ "format": "keyside.waivers", "version": 1, "waivers": [\n  { "check": "pop", "reason": "" }\n] }',
      /^Line 2, column 31: "reason" has to be a text that is not empty, and is the text ""; write why this is meant/,
    ],
    [
      "a waiver without a check",
      '{ "format": "keyside.waivers", "version": 1, "waivers": [\n  { "reason": "x" }\n] }',
      /^Line 2, column 3: "check" is missing in "waivers\/0"; add the name of the check whose notes are meant/,
    ],
    [
      "frames that are one number",
      '{ "format": "keyside.waivers", "version": 1, "waivers": [\n  { "check": "pop", "reason": "x", "frames": 12 }\n] }',
      /^Line 2.*"frames" has to be a list, and is 12; write the first and the last frame, such as "frames": \[40, 62\]\.$/,
    ],
    [
      "another version",
      '{ "format": "keyside.waivers",\n  "version": 2, "waivers": [] }',
      /^Line 2, column 14: "version" has to be one of "1", and is 2\. A file of waivers is /,
    ],
    [
      "a misspelt member",
      '{ "format": "keyside.waivers", "version": 1, "waivers": [\n  { "check": "pop", "reason": "x", "frame": [1, 2] }\n] }',
      /^Line 2, column 3: A waiver has no property "frame"; did you mean "frames"\?$/,
    ],
  ])("%s is refused with its place", (_, text, message) => {
    expect(() => readWaiverFile(text)).toThrow(message);
  });

  // JSON Schema draft 2020-12, by a validator that is not ours.
  test("has a schema that takes and refuses the same", () => {
    const validate = new Ajv2020({ strict: false }).compile(waiverFileJsonSchema());
    expect(validate(sound)).toBe(true);
    expect(validate({ ...sound, waivers: [{ check: "pop" }] })).toBe(false);
    expect(validate({ ...sound, version: 2 })).toBe(false);
  });
});
