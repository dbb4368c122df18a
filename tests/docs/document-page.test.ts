import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readShot } from "../../packages/core/document/read.ts";
import { bodyParts, headerSchema } from "../../packages/core/document/schema.ts";
import { channels, interpolations } from "../../packages/core/document/terms.ts";
import { Workshop } from "../server/cli/run-in-process.ts";

const page = readFileSync(new URL("../../docs/document.md", import.meta.url), "utf8");

/** An example: its document, the file that its command names, and lines that the command says. */
interface Example {
  readonly text: string;
  readonly file: string;
  readonly options: readonly string[];
  readonly said: readonly string[];
}

/** The examples in their order. One without a format holds members that go into the document before it. */
function examples(): Example[] {
  const found: Example[] = [];
  let last: Record<string, unknown> = {};
  for (const [, json = "", file = "", options = "", said = ""] of page.matchAll(
    /```json\n([\s\S]*?)```\n\n```\n\$ keyside check (\S+)(.*)\n([\s\S]*?)```/g,
  )) {
    const written = JSON.parse(json);
    const isWhole = written.format !== undefined;
    last = isWhole ? written : { ...last, ...written };
    const text = isWhole ? json : JSON.stringify(last, null, 2);
    found.push({
      text,
      file,
      options: options.split(" ").filter(Boolean),
      said: said.split("\n").filter((line) => line.trim() !== ""),
    });
  }
  return found;
}

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
});
afterAll(() => shop.close());

describe("the page of the curve document", () => {
  test("has no JSON that is not run", () => {
    expect(examples()).toHaveLength(page.split("```json").length - 1);
    expect(new Set(examples().map(({ file }) => file)).size).toBe(examples().length);
  });

  test.each(examples().map((example) => [example.file, example] as const))(
    "%s says what the page shows",
    async (_, example) => {
      await shop.put(example.file, example.text);
      const { stdout, stderr, code } = await shop.run([
        "check",
        example.file,
        ...example.options,
        "--no-cache",
      ]);
      expect(stderr).toBe("");
      for (const line of example.said) expect(stdout).toContain(line);
      const isClean = example.said.some((line) => /^ *(?:No notes\.|0 notes)/.test(line));
      expect(code).toBe(isClean ? 0 : 1);
      if (!example.file.includes("broken")) expect(readShot(example.text).problems).toEqual([]);
    },
  );

  test("names every member of a document, every interpolation, and no channel or part that there is not", () => {
    for (const name of Object.keys(headerSchema.shape)) expect(page).toContain(`"${name}"`);
    for (const name of interpolations) expect(page).toContain(`| \`${name}\``);
    for (const [, channel = ""] of page.matchAll(/[`"]((?:translation|rotation|scale)(?:\.\w+)?)[`"]/g)) {
      // Without an axis these two are what a node has at rest.
      if (channel !== "scale" && channel !== "translation") expect(channels).toContain(channel);
    }
    for (const [, part = ""] of page.matchAll(/"((?:left|right)[A-Z]\w+)"/g))
      expect(bodyParts).toContain(part);
  });
});
