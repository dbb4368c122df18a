import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { checkedEdits } from "../../../packages/adapters/clients/typescript/edits.ts";
import { KeyQueue } from "../../../packages/adapters/clients/typescript/key-queue.ts";
import { editShot, type KeyEdit, tryEditShot } from "../../../packages/core/document/edit.ts";
import type { Curve, Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { groupsOfEdits, keyedDocument } from "./edit-sequences.ts";

const bare = (shot: Shot) => shot.curves.map(({ place: _, ...curve }: Curve) => curve);
const { shot: opened } = shotOf(keyedDocument);
if (opened === null) throw new Error("the document cannot be used");

const x = { node: "point", channel: "translation.x" } as const;
const set = (frame: number, value: number): KeyEdit => ({ kind: "set", ...x, frame, value });
const move = (frame: number, toFrame: number): KeyEdit => ({ kind: "move", ...x, frame, toFrame });
const remove = (frame: number): KeyEdit => ({ kind: "remove", ...x, frame });

/** The requests that a queue makes of edits that come while nothing is sent. */
function requestsOf(...groups: KeyEdit[][]): (readonly KeyEdit[])[] {
  const queue = new KeyQueue(1000);
  for (const group of groups) expect(queue.add(group)).toBe(true);
  const requests: (readonly KeyEdit[])[] = [];
  for (let step = queue.next(); step !== null; step = queue.next()) {
    if ("edits" in step) requests.push(step.edits);
  }
  return requests;
}

describe("the queue of edits", () => {
  test("folded edits lead to the same document as the unfolded, wherever the feed takes some", () => {
    let folded = 0;
    let made = 0;
    fc.assert(
      fc.property(
        groupsOfEdits,
        fc.array(fc.boolean(), { minLength: 24, maxLength: 24 }),
        (groups, takes) => {
          let unfolded = opened;
          let sent = opened;
          const queue = new KeyQueue(1000);
          const send = () => {
            const step = queue.next();
            if (step === null || !("edits" in step)) return false;
            folded++;
            sent = editShot(sent, step.edits);
            return true;
          };
          groups.forEach((group, index) => {
            const { shot, problems } = tryEditShot(unfolded, group);
            // What the feed would refuse by itself is no part of the claim.
            if (problems.length > 0) return;
            unfolded = shot;
            made++;
            queue.add(checkedEdits(group, null));
            if (takes[index]) send();
          });
          while (send());
          expect(bare(sent)).toEqual(bare(unfolded));
        },
      ),
      { numRuns: 600 },
    );
    expect(folded).toBeLessThan(made);
  });

  test("a drag of a key is one edit, however long it is", () => {
    const values = Array.from({ length: 500 }, (_, step) => [set(3, step)]);
    expect(requestsOf(...values)).toEqual([[set(3, 499)]]);
    const times = Array.from({ length: 50 }, (_, step) => [move(3 + step, 4 + step), set(4 + step, step)]);
    expect(requestsOf(...times.flatMap((pair) => pair.map((edit) => [edit])))).toEqual([
      [{ ...move(3, 53), value: 49 }],
    ]);
  });

  test("keeps apart what cannot be made at once", () => {
    expect(requestsOf([set(3, 1)], [remove(3)], [set(3, 2)])).toEqual([
      [set(3, 1)],
      [remove(3)],
      [set(3, 2)],
    ]);
    expect(requestsOf([move(3, 4)], [set(3, 2)])).toEqual([[move(3, 4)], [set(3, 2)]]);
    expect(requestsOf([move(3, 4)], [remove(4)])).toEqual([[remove(3)]]);
  });

  test("takes no more keys than its limit, and nothing of a call that does not fit", () => {
    const queue = new KeyQueue(2);
    expect(queue.add([set(1, 0)])).toBe(true);
    expect(queue.add([set(2, 0), set(3, 0)])).toBe(false);
    expect(queue.size).toBe(1);
    expect(queue.add([set(2, 0)])).toBe(true);
    expect(queue.next()).toEqual({ edits: [set(1, 0), set(2, 0)] });
    expect(queue.next()).toBe(null);
  });

  test("keeps calls in their place among the edits", () => {
    const queue = new KeyQueue<string>(10);
    queue.add([set(1, 0)]);
    queue.call("judge otherwise");
    queue.add([set(1, 1)]);
    expect([queue.next(), queue.next(), queue.next()]).toEqual([
      { edits: [set(1, 0)] },
      { call: "judge otherwise" },
      { edits: [set(1, 1)] },
    ]);
  });
});
