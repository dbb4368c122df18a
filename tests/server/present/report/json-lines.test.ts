import { Ajv2020 } from "ajv/dist/2020.js";
import { expect, test } from "vitest";
import { jsonLinesWriter } from "../../../../packages/server/present/report/json-lines.ts";
import {
  reportLineJsonSchema,
  reportLineSchema,
} from "../../../../packages/server/present/report/json-lines-schema.ts";
import { brokenNote, nasty, reportedNote, reportedShot, written } from "./reported.ts";

const valid = new Ajv2020({ strict: false }).compile(reportLineJsonSchema());

test("each line is an object of its schema", () => {
  const shots = [
    reportedShot({ notes: [reportedNote({ message: nasty }), brokenNote] }),
    reportedShot({ file: "b.bvh", known: 2 }),
  ];
  const text = written(jsonLinesWriter({ lightest: "polish" }), shots, {
    errorFiles: ["gone.bvh"],
    stopped: { done: 3, of: 9 },
  });
  expect(text.endsWith("\n")).toBe(true);
  const lines = text
    .trimEnd()
    .split("\n")
    .map((line) => JSON.parse(line));
  expect(lines.map(({ kind }) => kind)).toEqual(["run", "shot", "note", "note", "shot", "error", "end"]);
  for (const line of lines) {
    expect(reportLineSchema.safeParse(line).success).toBe(true);
    expect(valid(line)).toBe(true);
  }
  expect(lines[2]).toMatchObject({ file: "show/jetty_0040.curves.json", shot: "jetty_0040", message: nasty });
  expect(lines.at(-1)).toEqual({ kind: "end", shots: 2, notes: 2, errors: 1, stopped: { done: 3, of: 9 } });
});

test("lighter notes than are wanted are left out and still counted", () => {
  const notes = [reportedNote(), reportedNote({ tier: "polish" })];
  const text = written(jsonLinesWriter({ lightest: "minor" }), [reportedShot({ notes })]);
  const lines = text
    .trimEnd()
    .split("\n")
    .map((line) => JSON.parse(line));
  expect(lines.filter(({ kind }) => kind === "note")).toHaveLength(1);
  expect(lines[1].notes).toBe(1);
  expect(lines.at(-1).notes).toBe(2);
});

test("the schema refuses a line of another kind", () => {
  expect(valid({ kind: "other" })).toBe(false);
});
