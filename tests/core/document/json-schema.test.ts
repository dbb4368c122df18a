import { Ajv2020 } from "ajv/dist/2020.js";
import fc from "fast-check";
import { expect, test } from "vitest";
import { documentJsonSchema } from "../../../packages/core/document/json-schema.ts";
import { writeDocument } from "../../../packages/core/document/write.ts";
import { documents, sampleText } from "./samples.ts";

const schema = documentJsonSchema();
const valid = new Ajv2020({ strict: false }).compile(schema);

test("names its draft and itself", () => {
  expect(schema).toMatchObject({
    $schema: "https://json-schema.org/draft/2020-12/schema",
    $id: "urn:keyside:curves:1",
    type: "object",
  });
  expect(JSON.stringify(schema)).toContain("Frames per second");
});

test("an independent validator takes what is written", () => {
  expect(valid(JSON.parse(sampleText))).toBe(true);
  fc.assert(fc.property(documents, (document) => valid(JSON.parse(writeDocument(document)))));
});

test.each([
  ["no nodes", (document: Record<string, unknown>) => delete document["nodes"]],
  ["another format", (document: Record<string, unknown>) => Object.assign(document, { format: "other" })],
  [
    "a key of one number",
    (document: Record<string, unknown>) =>
      Object.assign(document, { curves: [{ node: "a", channel: "rotation.x", keys: [[1]] }] }),
  ],
  [
    "an unknown channel",
    (document: Record<string, unknown>) =>
      Object.assign(document, { curves: [{ node: "a", channel: "turn", keys: [] }] }),
  ],
])("an independent validator refuses %s", (_, damage) => {
  const document = JSON.parse(sampleText);
  damage(document);
  expect(valid(document)).toBe(false);
});
