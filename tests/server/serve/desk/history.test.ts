import { array, assert, boolean, constantFrom, property, record, string } from "fast-check";
import { describe, expect, test } from "vitest";
import { addRemark, changeRemark, removeEntry } from "../../../../packages/core/review/change.ts";
import { emptyReview, type ReviewFile } from "../../../../packages/core/review/schema.ts";
import { History, type Standing } from "../../../../packages/server/serve/desk/history.ts";

const review = emptyReview("pier");
const texts = string({ unit: constantFrom("a", "b", "\n", "é", "👣"), maxLength: 12 });

describe("the history", () => {
  test("brings back every text that stood there, back and forth, whatever the edits were", () => {
    const edits = array(record({ text: texts, waivers: texts, isDrag: boolean() }), { maxLength: 12 });
    assert(
      property(texts, edits, (start, steps) => {
        const history = new History();
        const stood: Standing[] = [{ text: start, waivers: "", review }];
        let now = stood[0];
        let wasDrag = false;
        for (const { text, waivers, isDrag } of steps) {
          const next = { text, waivers, review };
          history.take(now, next, "edit", isDrag ? "drag" : null);
          // A drag that goes on is one step with what it began with.
          if (isDrag && wasDrag) stood.pop();
          stood.push(next);
          now = next;
          wasDrag = isDrag;
        }
        const last = stood[stood.length - 1];
        const steppedBack: Standing[] = [];
        for (let at = history.undo(now); at !== null; at = history.undo(now)) {
          steppedBack.push(at);
          now = at;
        }
        expect(now).toEqual(stood[0]);
        for (const one of steppedBack) expect(stood).toContainEqual(one);
        for (let at = history.redo(now); at !== null; at = history.redo(now)) now = at;
        expect(now).toEqual(last);
      }),
    );
  });

  test("forgets the oldest steps where they hold more than is kept, and never the newest", () => {
    const history = new History(10);
    const held = (text: string): Standing => ({ text, waivers: "", review });
    history.take(held(""), held("aaaa"), "one", null);
    history.take(held("aaaa"), held("aaaabbbb"), "two", null);
    history.take(held("aaaabbbb"), held("aaaabbbbcccccccccccc"), "three", null);
    expect(history.labels).toEqual({ undo: "three", redo: null });
    expect(history.undo(held("aaaabbbbcccccccccccc"))).toEqual(held("aaaabbbb"));
    expect(history.undo(held("aaaabbbb"))).toBe(null);
  });

  test("takes back of the review what a step did alone: what others wrote since stays", () => {
    const said = { text: "Slow it down.", by: "Ada", date: "2031-04-02T09:30:00Z" };
    const at = (one: ReviewFile): Standing => ({ text: "", waivers: "", review: one });
    const first = addRemark(review, said, "first").review;
    const both = addRemark(first, { ...said, text: "More of this.", by: "Bo" }, "theirs").review;
    const history = new History();
    history.take(at(review), at(first), "add a remark", null);
    const undone = history.undo(at(both));
    expect(undone?.review.remarks.map(({ id }) => id)).toEqual(["theirs"]);
    const redone = history.redo(undone as Standing);
    expect(redone?.review.remarks.map(({ id }) => id).sort()).toEqual(["first", "theirs"]);
  });

  test("a remark that somebody else has changed since is not lost where its adding is undone", () => {
    const said = { text: "Slow it down.", by: "Ada", date: "2031-04-02T09:30:00Z" };
    const at = (one: ReviewFile): Standing => ({ text: "", waivers: "", review: one });
    const first = addRemark(review, said, "first").review;
    const changed = changeRemark(
      first,
      "first",
      { text: "Slower." },
      { by: "Bo", date: "2031-04-02T09:31:00Z" },
    );
    const history = new History();
    history.take(at(review), at(first), "add a remark", null);
    expect(history.undo(at(changed))?.review.remarks).toMatchObject([{ id: "first", text: "Slower." }]);
    const other = new History();
    other.take(at(first), at(removeEntry(first, "first")), "take a remark out", null);
    expect(other.undo(at(review))?.review.remarks).toMatchObject([{ id: "first" }]);
  });
});
