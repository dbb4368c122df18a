import { array, assert, boolean, constantFrom, property, record, string } from "fast-check";
import { describe, expect, test } from "vitest";
import { type Held, History } from "../../../../packages/server/serve/desk/history.ts";

const texts = string({ unit: constantFrom("a", "b", "\n", "é", "👣"), maxLength: 12 });

describe("the history", () => {
  test("brings back every text that stood there, back and forth, whatever the edits were", () => {
    const edits = array(record({ text: texts, waivers: texts, isDrag: boolean() }), { maxLength: 12 });
    assert(
      property(texts, edits, (start, steps) => {
        const history = new History();
        const stood: Held[] = [{ text: start, waivers: "" }];
        let now = stood[0];
        let wasDrag = false;
        for (const { text, waivers, isDrag } of steps) {
          const next = { text, waivers };
          history.take(now, next, "edit", isDrag ? "drag" : null);
          // A drag that goes on is one step with what it began with.
          if (isDrag && wasDrag) stood.pop();
          stood.push(next);
          now = next;
          wasDrag = isDrag;
        }
        const last = stood[stood.length - 1];
        const steppedBack: Held[] = [];
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
    const held = (text: string): Held => ({ text, waivers: "" });
    history.take(held(""), held("aaaa"), "one", null);
    history.take(held("aaaa"), held("aaaabbbb"), "two", null);
    history.take(held("aaaabbbb"), held("aaaabbbbcccccccccccc"), "three", null);
    expect(history.labels).toEqual({ undo: "three", redo: null });
    expect(history.undo(held("aaaabbbbcccccccccccc"))).toEqual(held("aaaabbbb"));
    expect(history.undo(held("aaaabbbb"))).toBe(null);
  });
});
