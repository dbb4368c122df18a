import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { plainLine, plainText, plainTexts } from "../../../../packages/server/present/text/plain.ts";
import { Workshop } from "../../cli/run-in-process.ts";
import { poppingDocument } from "../../cli/shots-for-tests.ts";

/** What acts on a terminal, or begins a line (Unicode Standard Annex 9 for the marks of direction). */
const acting = /[\p{Cc}\u2028\u2029\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069]/u;

describe("text that is only text", () => {
  test("nothing in it acts, whatever it is, and what is plain stays", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        expect(plainText(text)).not.toMatch(acting);
        expect(plainLine(`${text}\n`).slice(0, -1)).not.toMatch(acting);
      }),
    );
    expect(plainText("hand_l, 24°, “quoted”, 手")).toBe("hand_l, 24°, “quoted”, 手");
    expect(plainText("a\u001b[31m\nb\u202e")).toBe("a\\u001b[31m\\u000ab\\u202e");
    expect(plainText("x".repeat(200_000)).length).toBeLessThan(1100);
    expect(plainTexts({ a: ["\n", { b: 1 }] })).toEqual({ a: ["\\u000a", { b: 1 }] });
  });

  test("names of a shot reach neither the report nor stderr as more than text", async () => {
    const shop = await Workshop.open();
    try {
      const name = "pier\u001b]0;title\u0007\n  major  1  faked\u202e";
      const shot = poppingDocument();
      const renamed = JSON.parse(
        JSON.stringify({ ...shot, shot: { ...shot.shot, name } }).replaceAll('"post"', JSON.stringify(name)),
      );
      await shop.put("a.curves.json", renamed);
      await shop.put("b.curves.json", renamed);
      for (const argv of [
        ["check", "a.curves.json", "--no-cache"],
        ["check", "a.curves.json", "--no-cache", "--long"],
        ["fix", "a.curves.json", "--only", "pop"],
        ["compare", "a.curves.json", "b.curves.json"],
        ["check", "a.curves.json", "--why-silent", `pop:${name}:3`],
        ["check", `no\u001b[2J\nsuch.curves.json`],
      ]) {
        const { stdout, stderr } = await shop.run(argv);
        for (const line of `${stdout}\n${stderr}`.split("\n")) {
          expect(line).not.toMatch(acting);
          expect(line).not.toMatch(/^ {2}major {2}1 {2}faked/);
        }
      }
    } finally {
      await shop.close();
    }
  });
});
