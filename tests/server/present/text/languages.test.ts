import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { written } from "../../../../packages/adapters/csv/table.ts";
import { xmlText } from "../../../../packages/server/present/report/xml.ts";
import { markdownCode, markdownText } from "../../../../packages/server/present/text/markdown.ts";
import { plainText } from "../../../../packages/server/present/text/plain.ts";
import { escaped } from "../../../../packages/server/present/text/svg.ts";
import { uriReference } from "../../../../packages/server/present/text/uri.ts";

// One function for each language in which a name of others is written.

const hostile = fc.string({
  unit: fc.oneof(
    fc.constantFrom(..."<>&\"'`*_[](){}#|~!\\\n\r\t-+=@:/%? ", "\u001b", "\u202e", "\u2028", "\ud800"),
    fc.string({ minLength: 1, maxLength: 1, unit: "binary" }),
  ),
  maxLength: 60,
});
const acting = /[\p{Cc}\u2028\u2029\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069]/u;

describe("text of others is only text", () => {
  test("on a terminal: one line, nothing that acts", () => {
    fc.assert(
      fc.property(hostile, (text) => {
        expect(plainText(text)).not.toMatch(acting);
      }),
    );
    expect(plainText("x".repeat(200_000)).length).toBeLessThan(1100);
  });

  test("in HTML and SVG: no mark, no quote that ends an attribute", () => {
    fc.assert(
      fc.property(hostile, (text) => {
        expect(escaped(text)).not.toMatch(/[<>"']|&(?!(amp|lt|gt|quot|#39);)/);
        expect(escaped(text)).not.toMatch(/(?![\t\n])\p{Cc}/u);
      }),
    );
  });

  test("in XML: no mark, and only characters that XML can hold", () => {
    fc.assert(
      fc.property(hostile, (text) => {
        expect(xmlText(text)).not.toMatch(/[<>"'\t\n\r]|&(?!(amp|lt|gt|quot|#39|#9|#10|#13);)/);
        expect(xmlText(text)).not.toMatch(/[\p{Cc}\p{Cs}\ufffe\uffff]/u);
      }),
    );
  });

  test("in Markdown: one line, every mark escaped; code that nothing in it ends", () => {
    fc.assert(
      fc.property(hostile, (text) => {
        const line = markdownText(text);
        expect(line).not.toMatch(acting);
        // What is left without the escaped marks holds no other.
        expect(line.replace(/\\./gu, "").replace(/&(amp|lt|gt);/g, "")).not.toMatch(/[`*_{}[\]<>#|~&@$!^\\]/);
        expect(line).not.toMatch(/^(\d+[.)]|[-+])/);
        const code = markdownCode(text);
        const [fence = ""] = /^`+/.exec(code) ?? [];
        expect(code.endsWith(fence)).toBe(true);
        const inside = code.slice(fence.length, -fence.length);
        for (const [run] of inside.matchAll(/`+/g)) expect(run.length).toBeLessThan(fence.length);
        expect(code).not.toMatch(acting);
      }),
    );
    expect(markdownText("<script>*a*</script> [x](y)")).toBe(
      "&lt;script&gt;\\*a\\*&lt;/script&gt; \\[x\\](y)",
    );
    expect(markdownText("x".repeat(200_000)).length).toBeLessThan(1100);
  });

  test("in a URI: relative names stay relative, and name no other scheme or host", () => {
    fc.assert(
      fc.property(hostile, (text) => {
        const uri = uriReference(text);
        expect(uri).toMatch(/^[A-Za-z0-9\-_.!~*'()%:/]*$/);
        const base = "https://host.invalid/folder/";
        if (!/^([/\\]|[A-Za-z]:[/\\])/.test(text)) expect(new URL(uri, base).host).toBe("host.invalid");
        else expect(new URL(uri, base).protocol).toBe("file:");
      }),
    );
    expect(uriReference("javascript:alert(1)")).toBe("./javascript:alert(1)");
  });

  test("in CSV: read back as it was; safe cells are no formulas", () => {
    fc.assert(
      fc.property(hostile, (text) => {
        const cell = written(text);
        if (/^"/.test(cell)) expect(cell.slice(1, -1).replaceAll('""', '"')).toBe(text);
        else expect(cell).toBe(text);
        expect(cell).not.toMatch(/^[^"].*[,\n]/s);
        expect(written(text, { safeCells: true })).not.toMatch(/^"?[=+\-@\t\r]/);
      }),
    );
    expect(written("=1+2")).toBe("=1+2");
    expect(written("=1+2", { safeCells: true })).toBe("'=1+2");
    expect(written(-1.5, { safeCells: true })).toBe("-1.5");
  });
});
