import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type JsonPath,
  placeInJson,
  stringValue,
  walkJson,
} from "../../../../packages/server/serve/feed/json-walk.ts";

const at = (value: unknown, path: JsonPath) =>
  path.reduce<unknown>((part, key) => (part as Record<string | number, unknown>)[key], value);

describe("walking through JSON", () => {
  test("finds each text at the path where a parser has it", () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 4 }), fc.boolean(), (compact, isSpread) => {
        const text = isSpread ? JSON.stringify(JSON.parse(compact), null, 2) : compact;
        const value = JSON.parse(text);
        walkJson(text, text.length, (token) => {
          const { path, start, end, isString, isKey } = token;
          if (isKey) expect(Object.keys(at(value, path) as object)).toContain(stringValue(text, token));
          else if (isString) expect(at(value, path)).toBe(stringValue(text, token));
          else expect(at(value, path)).toBe(JSON.parse(text.slice(start, end)));
          return false;
        });
      }),
    );
  });

  test("tells where any offset of any text stands", () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[{}[\]:,"a1 \n\\]{0,30}$/), fc.nat(30), (text, offset) => {
        const place = placeInJson(text, Math.min(offset, text.length));
        if (place.token !== null) expect(place.token.end).toBeLessThanOrEqual(text.length);
      }),
    );
  });

  test.each([
    ['{ "a": { "b": "|" } }', ["a", "b"], false],
    ['{ "a": [1, 2, |] }', ["a", 2], false],
    ['{ "a": [1, { "|" } ] }', ["a", 1], true],
    ['{ "a": 1, |', [], true],
    ['{ "a": 1 "b|', [], true],
    ['{ "a": "half|\n "b": 1 }', ["a"], false],
    ['{ "a": "x" |}', [], true],
    ["|", [], false],
  ])("at the bar of %s", (marked, path, isKey) => {
    const place = placeInJson(marked.replace("|", ""), marked.indexOf("|"));
    expect([place.path, place.isKey]).toEqual([path, isKey]);
  });
});
