import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  escapedPath,
  isPattern,
  PatternError,
  pathPattern,
} from "../../../../packages/server/base/files/path-pattern.ts";

const usual = { dots: false, ignoresCase: false };

describe("patterns of paths", () => {
  test.each<[string, readonly string[], readonly string[]]>([
    ["*.bvh", ["a.bvh", "a.b.bvh"], ["a/b.bvh", ".a.bvh", "a.BVH", "bvh"]],
    ["**/*.bvh", ["a.bvh", "a/b.bvh", "a/b/c.bvh"], [".x/a.bvh", "a/.b.bvh"]],
    ["a/**", ["a/b", "a/b/c", "a/"], ["b", "ab", "a/.b"]],
    ["a/**/z", ["a/z", "a/b/z", "a/b/c/z"], ["az", "a/bz"]],
    ["a**z", ["az", "abz"], ["a/z"]],
    ["shot_????.csv", ["shot_0010.csv"], ["shot_010.csv", "shot_0/10.csv"]],
    ["[a-c]?[!0-9]", ["a1x", "c/x".replace("/", "1")], ["d1x", "a11", "a/x"]],
    ["[[:digit:]]x", ["1x"], ["ax"]],
    ["[]a]", ["]", "a"], ["b"]],
    ["{a,b/**,}.c", ["a.c", ".c"], ["c", "d.c"]],
    ["v{1..3}", ["v1", "v3"], ["v0", "v4"]],
    ["v{08..11}", ["v08", "v11"], ["v8"]],
    ["{a}", ["{a}"], ["a"]],
    ["+(ab|c)d", ["abd", "abcabd"], ["d"]],
    ["?(ab)c", ["c", "abc"], ["ababc"]],
    ["*(a)b", ["b", "aab"], ["cb"]],
    ["@(x|y)", ["x", "y"], ["xy"]],
    ["a\\*b", ["a*b"], ["axb"]],
    ["[a", ["[a"], ["a"]],
    ["(a)", ["(a)"], ["a"]],
    ["ö?", ["öä"], ["ö"]],
  ])("%s", (pattern, meant, others) => {
    const { matches } = pathPattern(pattern, usual);
    for (const path of meant) expect(matches(path), path).toBe(true);
    for (const path of others) expect(matches(path), path).toBe(false);
  });

  test("case and dots, where they are no matter", () => {
    const { matches } = pathPattern("**/Old[A-C]/*.bvh", { dots: true, ignoresCase: true });
    expect(["x/OLDb/.a.BVH", "olda/x.bvh", ".h/oldc/x.bvh"].every(matches)).toBe(true);
  });

  test("the same as a regular expression, for stars, question marks and names", () => {
    const letter = fc.constantFrom("a", "b", "/", "*", "?", "**/", "/**/");
    const path = fc.array(fc.constantFrom("a", "b", "c", "/"), { maxLength: 8 });
    fc.assert(
      fc.property(fc.array(letter, { maxLength: 7 }), path, (pieces, chars) => {
        const text = pieces
          .join("")
          .replace(/\*{2,}(?!\/)/g, "*")
          .replace(/\/{2,}/g, "/");
        fc.pre(!/[^/]\*\*|\*\*\*/.test(text) && !text.startsWith("/"));
        const source = text
          .split(/(\*\*\/)/)
          .map((part) =>
            part === "**/" ? "(?:[^/]+/)*" : part.replaceAll("*", "[^/]*").replaceAll("?", "[^/]"),
          )
          .join("");
        const name = chars.join("");
        expect(pathPattern(text, usual).matches(name)).toBe(new RegExp(`^${source}$`).test(name));
      }),
      { numRuns: 2000 },
    );
  });

  test("what a path begins with is told from what it cannot begin with", () => {
    const { mayBegin } = pathPattern("a/*/c/**/d", usual);
    for (const start of ["a/", "a/x/", "a/x/c/", "a/x/c/y/z/"]) expect(mayBegin(start)).toBe(true);
    for (const start of ["b/", "a/x/y/"]) expect(mayBegin(start)).toBe(false);
  });

  test("any name can be written so that it means itself alone", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (name) => {
        const path = name.replaceAll("\\", "/");
        expect(pathPattern(escapedPath(path), usual).matches(path)).toBe(true);
        expect(isPattern(escapedPath(path))).toBe(false);
      }),
    );
  });

  test("patterns that make regular expressions try for ever end", () => {
    const name = "a".repeat(3000);
    for (const pattern of [
      `${"*a".repeat(60)}b`,
      `${"*".repeat(500)}b`,
      `${"**/".repeat(60)}b`,
      "+(+(+(a)))b",
      "+(a|aa|aaa)+(a|aa)b",
      `${"{a,aa}".repeat(100)}b`,
      `[${"a-z".repeat(300)}]b`,
    ]) {
      expect(pathPattern(pattern, usual).matches(name), pattern).toBe(false);
      expect(pathPattern(`**/${pattern}`, { ...usual, isGit: true }).matches(name)).toBe(false);
    }
  });

  test("what is not read is said, and nothing else is thrown", () => {
    expect(() => pathPattern("!(a)", usual)).toThrow("name what is meant instead");
    expect(() => pathPattern("a".repeat(5000), usual)).toThrow("has 5000 characters, and at most 4096");
    expect(() => pathPattern("{a,".repeat(400) + "}".repeat(400), usual)).toThrow("nested too deep");
    expect(() => pathPattern("{1..999}".repeat(400), usual)).toThrow("too many things");
    const mark = fc.constantFrom(..."*?[]{}(),|!+@\\/.-:a^");
    fc.assert(
      fc.property(fc.string({ unit: mark, maxLength: 40 }), fc.boolean(), (pattern, isGit) => {
        try {
          pathPattern(pattern, { ...usual, isGit }).matches("a/b.c");
        } catch (error) {
          expect(error).toBeInstanceOf(PatternError);
        }
      }),
    );
  });
});
