import { Ajv2020 } from "ajv/dist/2020.js";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { addRemark } from "../../../packages/core/review/change.ts";
import { printReview } from "../../../packages/core/review/print.ts";
import { readReview } from "../../../packages/core/review/read.ts";
import { emptyReview, reviewFileJsonSchema } from "../../../packages/core/review/schema.ts";
import { anyReview } from "./any-review.ts";

const remark = (id: string, text: string, more = "") =>
  `    { "kind": "remark", "id": "${id}", "weight": "must", "text": "${text}", "by": "Ada", "date": "2031-04-02"${more} },`;
const file = (...lines: readonly string[]) =>
  [
    '{\n  "format": "keyside.review",\n  "version": 1,\n  "shot": "quay_0070",\n  "entries": [',
    ...lines,
    "    null\n  ]\n}\n",
  ].join("\n");
const textsOf = (text: string) => readReview(text).review.remarks.map((one) => one.text);
const told = (text: string) =>
  readReview(text).problems.map(({ line, message }) => `${line ?? "-"}: ${message}`);

describe("a review file", () => {
  test("is read as it was printed, whatever stands in it, and fits its schema", () => {
    const validate = new Ajv2020({ strict: false }).compile(reviewFileJsonSchema());
    fc.assert(
      fc.property(anyReview, (review) => {
        const text = printReview(review);
        expect(readReview(text)).toEqual({ review, problems: [] });
        expect(printReview(readReview(text).review)).toBe(text);
        expect(validate(JSON.parse(text)), JSON.stringify(validate.errors)).toBe(true);
      }),
    );
  });

  test("has an entry a line, sorted, each ending with a comma", () => {
    const text = file(remark("b", "one"), remark("c", "two"));
    expect(printReview(readReview(text).review)).toBe(text);
  });

  test("keeps members that this version does not know, of the file and of entries", () => {
    const text = file(remark("b", "one", ', "mood": "dry"')).replace('"entries"', '"show": 7,\n  "entries"');
    const printed = printReview(readReview(text).review);
    expect(JSON.parse(printed)).toEqual(JSON.parse(text));
  });

  test("is empty where the text is", () => {
    expect(readReview(" \n")).toEqual({ review: emptyReview(), problems: [] });
  });
});

describe("of a review file that is broken", () => {
  test("what was cut short is kept, what stands before it is used", () => {
    const text = file(remark("b", "one"), remark("c", "two"));
    const cut = text.slice(0, text.indexOf('"two"') + 2);
    expect(textsOf(cut)).toEqual(["one"]);
    expect(told(cut)).toEqual([
      expect.stringMatching(/^-: Line 7, column \d+: .* What can be read is used\.$/),
      expect.stringMatching(/^7: .*cannot be read\. It is kept; put it right, or take its line out\.$/),
    ]);
    const printed = printReview(readReview(cut).review);
    const unread = JSON.parse(printed).entries.find((entry: { kind: string }) => entry?.kind === "unread");
    expect(unread.text).toBe(cut.slice(cut.lastIndexOf("\n")).trim());
    // It is said again until somebody puts it right, and stays as it is.
    expect(told(printed)).toHaveLength(1);
    expect(printReview(readReview(printed).review)).toBe(printed);
  });

  test("every cut loses nothing: what it gives, printed and read again, is the same", () => {
    const text = file(remark("b", "one"), remark("c", 'two \\\\ \\" three'));
    for (let end = 1; end < text.length; end++) {
      const { review, problems } = readReview(text.slice(0, end));
      const again = readReview(printReview(review)).review;
      expect(again.remarks).toEqual(review.remarks);
      expect(again.unread).toHaveLength(review.unread.length);
      if (end < text.trimEnd().length) expect(problems.length).toBeGreaterThan(0);
    }
  });

  test("an unfinished merge gives the lines of both sides", () => {
    const text = file(
      remark("b", "one"),
      "<<<<<<< HEAD",
      remark("c", "mine"),
      "=======",
      remark("d", "yours"),
      ">>>>>>> theirs",
    );
    expect(textsOf(text)).toEqual(["one", "mine", "yours"]);
    expect(told(text)).toEqual([expect.stringMatching(/^7: A merge was not finished here/)]);
  });

  test("two lines of one remark stand side by side, and it is said", () => {
    const text = file(remark("b", "slow the head"), remark("b", "hold the head"));
    expect(textsOf(text).sort()).toEqual(["hold the head", "slow the head"]);
    expect(told(text)).toEqual([
      expect.stringMatching(/Two people changed the remark b at once; both are kept/),
    ]);
  });

  test.each([
    [
      "a remark without a text",
      '    { "kind": "remark", "id": "b", "by": "Ada", "date": "2031-04-02" },',
      /^6: The remark b: "text" is missing; add it\. It is kept, and not used\.$/,
    ],
    ["an entry of no kind", '    { "id": "b" },', /^6: An entry has to be of the kind "remark"/],
    ["a text for an entry", '    "note to self",', /^6: "?note to self"? cannot be read\. It is kept/],
  ])("%s is kept and not used", (_, line, message) => {
    const text = file(line);
    expect(told(text)).toEqual([expect.stringMatching(message)]);
    expect(textsOf(text)).toEqual([]);
    expect(printReview(readReview(text).review)).toContain(
      line.includes("note") ? "note to self" : line.trim(),
    );
  });

  test("a remark is used without the member that does not fit, and the member is written back", () => {
    const text = file(remark("b", "one", ', "strokes": [{ "frame": 3, "points": [] }]'));
    expect(textsOf(text)).toEqual(["one"]);
    expect(told(text)).toEqual([expect.stringMatching(/^6: The remark b: .* It is used without strokes\.$/)]);
    expect(JSON.parse(printReview(readReview(text).review))).toEqual(JSON.parse(text));
  });

  test("what is no review file is kept whole", () => {
    const text = '{ "format": "keyside.waivers", "version": 1, "waivers": [] }';
    const { review, problems } = readReview(text);
    expect(problems).toEqual([
      {
        line: 1,
        id: null,
        message: expect.stringMatching(/^This is no review file, and none of it is used/),
      },
    ]);
    expect(printReview(addRemark(review, { text: "x", by: "Ada", date: "2031-04-02" }).review)).toContain(
      JSON.stringify(text),
    );
  });
});
