import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { addRemark, changeRemark, removeEntry } from "../../../packages/core/review/change.ts";
import { mergeReviews } from "../../../packages/core/review/merge.ts";
import { printReview } from "../../../packages/core/review/print.ts";
import { readReview } from "../../../packages/core/review/read.ts";
import { emptyReview, type Remark, type ReviewFile } from "../../../packages/core/review/schema.ts";
import { anyRemark, anyReview } from "./any-review.ts";

/** What somebody does to a review: changes some remarks, takes some out, adds others. */
const anyWork = fc.array(
  fc.record({
    what: fc.constantFrom("add", "change", "remove"),
    which: fc.nat({ max: 9 }),
    remark: anyRemark,
    id: fc.string({ minLength: 8, maxLength: 8, unit: fc.constantFrom(..."pqrstvw") }),
  }),
  { maxLength: 6 },
);
type Work = typeof anyWork extends fc.Arbitrary<infer W> ? W : never;

function worked(review: ReviewFile, work: Work): ReviewFile {
  return work.reduce((after, { what, which, remark, id }) => {
    const { kind: _, id: __, by, date, ...fields } = remark;
    if (what === "add") return addRemark(after, { ...fields, by, date }, id).review;
    const known = after.remarks[which % Math.max(1, after.remarks.length)];
    if (known === undefined) return after;
    return what === "remove"
      ? removeEntry(after, known.id)
      : changeRemark(after, known.id, { text: fields.text, frames: fields.frames }, { by, date });
  }, review);
}

const textsOf = ({ remarks }: ReviewFile) => remarks.map(({ text }) => text);
const isSame = (a: Remark | undefined, b: Remark) => JSON.stringify(a) === JSON.stringify(b);

describe("merging two reviews made from one state", () => {
  test("loses no remark: what either of them says stands, and only what one took out and the other left alone is gone", () => {
    fc.assert(
      fc.property(anyReview, anyWork, anyWork, (base, mine, yours) => {
        const [ours, theirs] = [worked(base, mine), worked(base, yours)];
        const { review } = mergeReviews(base, ours, theirs);
        for (const [side, other] of [
          [ours, theirs],
          [theirs, ours],
        ] as const) {
          for (const remark of side.remarks) {
            const was = base.remarks.find(({ id }) => id === remark.id);
            const isUntouched = was !== undefined && isSame(was, remark);
            const counterpart = other.remarks.find(({ id }) => id === remark.id);
            if (isUntouched && (counterpart === undefined || !isSame(counterpart, remark))) continue;
            expect(review.remarks.map(({ id }) => id)).toContain(remark.id);
            if (was?.text !== remark.text) expect(textsOf(review)).toContain(remark.text);
          }
        }
      }),
    );
  });

  test("gives the same entries whichever is called ours, and again when it is merged once more", () => {
    fc.assert(
      fc.property(anyReview, anyWork, anyWork, (base, mine, yours) => {
        const [ours, theirs] = [worked(base, mine), worked(base, yours)];
        const { review } = mergeReviews(base, ours, theirs);
        expect(mergeReviews(base, theirs, ours).review).toEqual(review);
        expect(mergeReviews(base, review, review).review).toEqual(review);
        expect(readReview(printReview(review)).review).toEqual(review);
      }),
    );
  });

  test("without a common state keeps all of both", () => {
    fc.assert(
      fc.property(anyReview, anyReview, (ours, theirs) => {
        const { review } = mergeReviews(null, ours, theirs);
        const texts = textsOf(review);
        for (const text of [...textsOf(ours), ...textsOf(theirs)]) expect(texts).toContain(text);
      }),
    );
  });
});

const changer = (by: string, minute: number) => ({ by, date: `2031-04-02T09:${10 + minute}:00Z` });
const start = addRemark(
  emptyReview("quay_0070"),
  { text: "Slow the head.", ...changer("Ada", 0) },
  "hb7",
).review;

describe("edits of one remark", () => {
  test("in different members become one remark", () => {
    const ours = changeRemark(start, "hb7", { frames: [3, 9] }, changer("Ada", 1));
    const theirs = changeRemark(start, "hb7", { weight: "must" }, changer("Ben", 2));
    const { review, conflicts } = mergeReviews(start, ours, theirs);
    expect(conflicts).toEqual([]);
    expect(review.remarks).toMatchObject([{ text: "Slow the head.", frames: [3, 9], weight: "must" }]);
  });

  test("in the same member keep both texts, the later one under the remark's id", () => {
    const ours = changeRemark(start, "hb7", { text: "Hold the head." }, changer("Ada", 3));
    const theirs = changeRemark(start, "hb7", { text: "Drop the head." }, changer("Ben", 2));
    const { review, conflicts } = mergeReviews(start, ours, theirs);
    expect(review.remarks).toMatchObject([
      { id: "hb7", text: "Hold the head." },
      { text: "Drop the head.", conflicts: "hb7" },
    ]);
    expect(conflicts).toEqual([["hb7", review.remarks[1]?.id]]);
  });

  test("one that was taken out by one and changed by the other stays", () => {
    const ours = removeEntry(start, "hb7");
    const theirs = changeRemark(start, "hb7", { text: "Drop the head." }, changer("Ben", 2));
    expect(textsOf(mergeReviews(start, ours, theirs).review)).toEqual(["Drop the head."]);
    expect(textsOf(mergeReviews(start, ours, start).review)).toEqual([]);
  });
});

describe("Git", () => {
  let folder = "";
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "review-"));
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  test("merges two reviews line by line with its own union of lines, and no remark is lost", () => {
    fc.assert(
      fc.property(anyReview, anyWork, anyWork, (base, mine, yours) => {
        const additions = (work: Work) => work.filter(({ what }) => what !== "remove");
        const sides = [base, worked(base, additions(mine)), worked(base, additions(yours))];
        const files = sides.map((side, index) => {
          const path = join(folder, `${index}.json`);
          writeFileSync(path, printReview(side));
          return path;
        });
        const [was, ours, theirs] = files as [string, string, string];
        execFileSync("git", ["merge-file", "--union", ours, was, theirs]);
        const { review } = readReview(readFileSync(ours, "utf8"));
        expect(() => JSON.parse(readFileSync(ours, "utf8"))).not.toThrow();
        for (const side of sides.slice(1)) {
          for (const { id, text } of side.remarks) {
            const was = base.remarks.find((one) => one.id === id);
            if (was?.text !== text) expect(textsOf(review)).toContain(text);
          }
        }
      }),
      { numRuns: 30 },
    );
  });
});
