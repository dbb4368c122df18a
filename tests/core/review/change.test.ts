import { describe, expect, test } from "vitest";
import {
  addRemark,
  arrangeReview,
  changeRemark,
  decide,
  markRemark,
  ReviewError,
  removeEntry,
} from "../../../packages/core/review/change.ts";
import { decisionAbout, stateOfRemark, waiversOfReview } from "../../../packages/core/review/drops.ts";
import { newReviewId } from "../../../packages/core/review/ids.ts";
import { mergeReviews } from "../../../packages/core/review/merge.ts";
import { emptyReview } from "../../../packages/core/review/schema.ts";

const ada = { by: "Ada", date: "2031-04-02T09:00:00Z" };
const ben = { by: "Ben", date: "2031-04-03T09:00:00Z" };
const note = { check: "pop", node: "hand_r", frames: [33, 33] as [number, number], fingerprint: "a1" };

describe("changes of a review", () => {
  test("add, change and take out a remark, and leave the review before as it was", () => {
    const before = emptyReview("quay_0070");
    const { review, remark } = addRemark(before, { text: "Slow the head.", ...ada });
    expect(remark).toMatchObject({ kind: "remark", weight: "should" });
    const changed = changeRemark(
      review,
      remark.id,
      { text: "Hold it.", weight: "must", frames: [3, 9] },
      ben,
    );
    expect(changed.remarks).toMatchObject([{ text: "Hold it.", weight: "must", by: "Ada", changed: ben }]);
    expect(changeRemark(changed, remark.id, { frames: undefined }, ben).remarks[0]).not.toHaveProperty(
      "frames",
    );
    expect(review.remarks).toMatchObject([{ text: "Slow the head." }]);
    expect(removeEntry(changed, remark.id).remarks).toEqual([]);
    expect(before.remarks).toEqual([]);
  });

  test("put remarks and decisions into an order", () => {
    const one = addRemark(emptyReview(), { text: "one", ...ada });
    const two = addRemark(one.review, { text: "two", ...ada });
    const { review, decision } = decide(two.review, { ...note, verdict: "kept", ...ada });
    const { remarks, decisions } = arrangeReview(review, [decision.id, two.remark.id], ben);
    expect(decisions[0]?.rank).toBe(1);
    expect(remarks.find(({ id }) => id === two.remark.id)?.rank).toBe(2);
    expect(remarks.find(({ id }) => id === one.remark.id)?.rank).toBeUndefined();
  });

  test("that make no sense are refused with a sentence", () => {
    const { review } = addRemark(emptyReview(), { text: "one", ...ada });
    expect(() => changeRemark(review, "none", { text: "two" }, ben)).toThrow(
      new ReviewError("There is no remark none."),
    );
    expect(() => removeEntry(review, "none")).toThrow("There is no entry none.");
    expect(() => arrangeReview(review, ["none"], ben)).toThrow(ReviewError);
    expect(() => addRemark(review, { text: "", ...ada })).toThrow(/^"text" does not fit/);
    expect(() => decide(review, { ...note, verdict: "dropped", ...ada })).toThrow(/needs a reason/);
  });

  test("ids are unlike each other", () => {
    const ids = new Set(Array.from({ length: 2000 }, () => newReviewId()));
    expect(ids.size).toBe(2000);
    expect([...ids][0]).toMatch(/^[bcdfghjkmnpqrstvwxz2-9]{14}$/);
  });
});

describe("decisions about notes", () => {
  test("are one for each note, and later ones keep what they do not say", () => {
    const first = decide(emptyReview(), { ...note, verdict: "kept", text: "Soften it.", ...ada }).review;
    const { review } = decide(first, { ...note, verdict: "dropped", reason: "meant", ...ben });
    expect(review.decisions).toMatchObject([{ verdict: "dropped", text: "Soften it.", changed: ben }]);
  });

  test("that drop a note are waivers, and answer notes as waivers do", () => {
    const { review } = decide(emptyReview(), { ...note, verdict: "dropped", reason: "a comic jolt", ...ada });
    expect(waiversOfReview(review)).toEqual([
      { check: "pop", node: "hand_r", frames: [33, 33], reason: "a comic jolt", by: "Ada" },
    ]);
    expect(decisionAbout(review, note)?.reason).toBe("a comic jolt");
    expect(decisionAbout(review, { ...note, frames: [60, 61] })).toBe(null);
    expect(decisionAbout(review, { ...note, node: "arm", seenAt: ["hand_r"] })).not.toBe(null);
  });

  test("on which people disagree waive nothing until one gives way", () => {
    const kept = decide(emptyReview(), { ...note, verdict: "kept", ...ada }).review;
    const dropped = decide(emptyReview(), { ...note, verdict: "dropped", reason: "meant", ...ben }).review;
    const { review, conflicts } = mergeReviews(emptyReview(), kept, dropped);
    expect(review.decisions.map(({ verdict }) => verdict).sort()).toEqual(["dropped", "kept"]);
    expect(conflicts).toHaveLength(1);
    expect(waiversOfReview(review)).toEqual([]);
    const other = review.decisions.find(({ verdict }) => verdict === "kept");
    expect(waiversOfReview(removeEntry(review, other?.id ?? ""))).toHaveLength(1);
  });
});

test("what became of a remark is what was said of it last, in whichever version", () => {
  const { review, remark } = addRemark(emptyReview(), { text: "one", ...ada });
  expect(stateOfRemark(remark, review.marks)).toEqual({ state: "open", mark: null });
  const second = markRemark(review, {
    of: remark.id,
    state: "still-open",
    ...ben,
    version: { revision: 2 },
  }).review;
  const third = markRemark(second, { of: remark.id, state: "done", by: "Ada", date: "2031-04-09" });
  expect(stateOfRemark(remark, third.review.marks)).toEqual({ state: "done", mark: third.mark });
});
