import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { addRemark } from "../../../packages/core/review/change.ts";
import {
  readReviewRows,
  reviewCsv,
  reviewJsonLines,
  reviewRows,
  takeReviewRows,
} from "../../../packages/core/review/exchange.ts";
import { emptyReview, type ReviewFile } from "../../../packages/core/review/schema.ts";
import { csvOf, csvRows } from "../../../packages/core/review/table.ts";
import { anyReview } from "./any-review.ts";

const ada = { by: "Ada", date: "2031-04-02" };
const csv = (text: string, review: ReviewFile = emptyReview()) =>
  takeReviewRows(review, readReviewRows(text, "csv"), ada);

describe("remarks as rows", () => {
  test.each(["csv", "jsonl"] as const)(
    "go out as %s and come back the same: nothing is added, changed or marked",
    (format) => {
      fc.assert(
        fc.property(anyReview, (review) => {
          const text = format === "csv" ? reviewCsv(reviewRows(review)) : reviewJsonLines(reviewRows(review));
          const taken = takeReviewRows(review, readReviewRows(text, format), ada);
          expect(taken.problems).toEqual([]);
          expect([taken.added, taken.changed, taken.marked]).toEqual([0, 0, 0]);
          expect(taken.review).toEqual(review);
          // Into a review that has nothing yet, all come in.
          const fresh = takeReviewRows(emptyReview(), readReviewRows(text, format), ada);
          expect(fresh.problems).toEqual([]);
          expect(reviewRows(fresh.review).map(({ id, verdict, text }) => [id, verdict, text])).toEqual(
            reviewRows(review).map(({ id, verdict, text }) => [id, verdict, text]),
          );
        }),
      );
    },
  );

  test("of a tracker add remarks, change them and say what became of them", () => {
    const { review, remark } = addRemark(emptyReview(), { text: "Slow.", frames: [3, 9], ...ada }, "hb7");
    const taken = csv(
      `state,id,text,first,last,by,mood\r\ndone,${remark.id},Slower.,4,,Ben,dry\r\n,,"New, with a ""quote""",12,,Cleo,\r\n`,
      review,
    );
    expect(taken).toMatchObject({ added: 1, changed: 1, marked: 1, problems: [] });
    expect(taken.review.remarks).toContainEqual(
      expect.objectContaining({ id: "hb7", text: "Slower.", frames: [4, 4], by: "Ada", changed: ada }),
    );
    expect(taken.review.remarks).toContainEqual(
      expect.objectContaining({ text: 'New, with a "quote"', frames: [12, 12], by: "Cleo" }),
    );
    expect(taken.review.marks).toMatchObject([{ of: "hb7", state: "done" }]);
  });

  test.each([
    [
      "a weight that there is not",
      "text,weight\nSlow.,heavy",
      /^Line 2: "weight" does not fit: .* The line is passed over\.$/,
    ],
    [
      "a frame that is no number",
      "text,first\nSlow.,soon",
      /^Line 2: "first" has to be a number, and is "soon"\./,
    ],
    [
      "a state that there is not",
      "text,state\nSlow.,gone",
      /^Line 2: "gone" is no state; write open, done, still-open\./,
    ],
    ["a remark without text", "by,first\nAda,3", /^Line 2: "text" does not fit/],
    ["a table without known columns", "a,b\n1,2", /^Line 1: no column is known; name columns such as id/],
  ])("%s is told with its line, and the rest is taken", (_, text, message) => {
    expect(csv(text).problems).toEqual([expect.stringMatching(message)]);
    const other = text.startsWith("text") ? "\nGood." : "";
    expect(csv(`${text}${other}`).added).toBe(other === "" ? 0 : 1);
  });

  test("a row with an id, a state and no text marks a remark of an earlier version", () => {
    const taken = csv("id,state,by\nhb7,still-open,Ben");
    expect(taken).toMatchObject({ added: 0, changed: 0, marked: 1, problems: [] });
    expect(taken.review.marks).toMatchObject([{ of: "hb7", state: "still-open", by: "Ben" }]);
  });

  test("lines that are no JSON are passed over", () => {
    const read = readReviewRows('{"text":"Slow."}\nnonsense\n\n{"text":"Go","first":3}\n', "jsonl");
    expect(read.problems).toEqual(["Line 2: this is no object in JSON; it is passed over."]);
    expect(takeReviewRows(emptyReview(), read, ada).added).toBe(2);
  });
});

test("cells of a table are read as they were written, whatever stands in them", () => {
  const cell = fc.string({ unit: fc.constantFrom("a", ",", '"', "\n", "\r\n", " ", ";", "\u00e9") });
  fc.assert(
    fc.property(
      fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 5 }),
      (rows) => {
        expect(
          csvRows(csvOf([["a", "b"], ...rows]))
            .slice(1)
            .map(({ cells }) => cells),
        ).toEqual(rows);
      },
    ),
  );
  expect(csvRows("a;b\n1;2,5").map(({ cells }) => cells)).toEqual([
    ["a", "b"],
    ["1", "2,5"],
  ]);
});
