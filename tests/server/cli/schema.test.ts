import { Ajv2020 } from "ajv/dist/2020.js";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { schemaFiles } from "../../../packages/server/cli/schema.ts";
import { schemaNames } from "../../../packages/server/cli/schema-names.ts";
import { Workshop } from "./run-in-process.ts";
import { cleanDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
});
afterAll(() => shop.close());

const names = Object.keys(schemaNames);
const printed = async (name: string) => JSON.parse((await shop.run(["schema", name])).stdout);
const compiled = (schema: object) => new Ajv2020({ strict: false, validateFormats: false }).compile(schema);

describe("keyside schema", () => {
  test.each(names)("%s is a JSON Schema under a name of its own, which is no address", async (name) => {
    const schema = await printed(name);
    expect(schema.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
    expect(schema.$id).toMatch(/^urn:keyside:[a-z-]+:1$/);
    expect(schema.title).toEqual(expect.any(String));
    expect(() => compiled(schema)).not.toThrow();
  });

  test("lists all of them without a name, and refuses a name that there is not with the nearest", async () => {
    const { code, stdout } = await shop.run(["schema"]);
    expect(code).toBe(0);
    expect(stdout.match(/^ {2}(\S+)/gm)?.map((line) => line.trim())).toEqual(names);
    const wrong = await shop.run(["schema", "documents"]);
    expect(wrong.code).toBe(2);
    expect(wrong.stderr).toContain('Did you mean "document"?');
  });

  test("the files of the package are what is printed, each with an $id that no other has", async () => {
    const files = schemaFiles();
    expect([...files.keys()]).toEqual(names.map((name) => `${name}.schema.json`));
    const ids = new Set<string>();
    for (const name of names) {
      const text = files.get(`${name}.schema.json`);
      expect((await shop.run(["schema", name])).stdout).toBe(text);
      ids.add(JSON.parse(text ?? "").$id);
    }
    expect(ids.size).toBe(names.length);
  });

  test("the document's accepts a document and refuses another thing", async () => {
    const validate = compiled(await printed("document"));
    expect(validate(cleanDocument())).toBe(true);
    expect(validate({ format: "keyside.curves" })).toBe(false);
  });

  test("the configuration's knows the checks and their settings", async () => {
    const validate = compiled(await printed("config"));
    expect(validate({ checks: { pop: { floor: "5 mm" }, hitch: false } })).toBe(true);
    expect(validate({ checks: { pops: false } })).toBe(false);
  });
});
