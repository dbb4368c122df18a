import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { jsonMembers, MembersError } from "../../../../packages/server/judge/archive/json-members.ts";

async function* cut(text: string, sizes: readonly number[]): AsyncGenerator<string> {
  let at = 0;
  for (let i = 0; at < text.length; i++) {
    const size = Math.max(1, sizes[i % Math.max(1, sizes.length)] ?? 5);
    yield text.slice(at, at + size);
    at += size;
  }
}

async function read(text: string, sizes: readonly number[] = [3]): Promise<[string, unknown][]> {
  const members: [string, unknown][] = [];
  for await (const { name, text: value } of jsonMembers(cut(text, sizes), new Set(["list"]))) {
    members.push([name, JSON.parse(value)]);
  }
  return members;
}

describe("members of a JSON document, piece by piece", () => {
  test("are those that JSON.parse gives, wherever the text is cut and however it is indented", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.jsonValue(), { maxLength: 6 }),
        fc.dictionary(fc.string(), fc.jsonValue(), { maxKeys: 5 }),
        fc.constantFrom(undefined, 2, "\t"),
        fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 1, maxLength: 5 }),
        async (list, others, indent, sizes) => {
          const { list: _, ...rest } = others;
          const document = { ...rest, list };
          const text = JSON.stringify(document, null, indent);
          const expected = Object.entries(JSON.parse(text) as object).flatMap(([name, value]) =>
            name === "list" ? list.map((one) => [name, JSON.parse(JSON.stringify(one))]) : [[name, value]],
          );
          expect(await read(text, sizes)).toEqual(expected);
        },
      ),
      { numRuns: 200 },
    );
  });

  test.each([
    "",
    "[1]",
    '{"a": 1',
    '{"list": [1, 2',
    '{"list": [1}',
    '{"a": 1} x',
    "{a: 1}",
    '{"a" 1}',
    '{"list": 3}',
  ])("%j is refused", async (text) => {
    await expect(read(text)).rejects.toThrow(MembersError);
  });
});
