import type { KeyEdit } from "@keyside/core/curves";
import fc from "fast-check";
import { beforeEach, describe, expect, test } from "vitest";
import { KeyDrag } from "../../packages/desk/curves/drag.ts";
import type { Answer } from "../../packages/desk/link.ts";
import { Sender, type Step } from "../../packages/desk/state/sender.ts";
import { curveOf, edited } from "./curves-of.ts";

const ok: Answer = { type: "answer", request: 1, revision: 1, ok: true };
const no: Answer = {
  type: "answer",
  request: 1,
  revision: 1,
  ok: false,
  reason: "bad-edit",
  message: "There is no such key.",
};

/** What was sent and not answered, and what waits for a picture. */
let sent: { edits: readonly KeyEdit[]; step: Step; answer(answer: Answer): Promise<void> }[];
let pictures: (() => void)[];
let refused: string[];
let sender: Sender;
const settled = () => new Promise((resolve) => setImmediate(resolve));
beforeEach(() => {
  [sent, pictures, refused] = [[], [], []];
  sender = new Sender(
    (edits, step) =>
      new Promise((resolve) => {
        sent.push({
          ...{ edits, step },
          answer: async (answer) => {
            resolve(answer);
            await settled();
          },
        });
      }),
    (act) => pictures.push(act),
    ({ message }) => refused.push(message),
  );
});
async function nextPicture(): Promise<void> {
  for (const act of pictures.splice(0)) act();
  await settled();
}

const curve = curveOf([
  [1, 0],
  [10, 5],
  [30, 2],
]);

describe("a drag", () => {
  test("is sent once a picture, the newest alone, one request after the other", async () => {
    const drag = new KeyDrag([{ curve, key: 1 }]);
    sender.begin(drag);
    for (let frames = 1; frames <= 5; frames++) {
      drag.to(frames, 0);
      sender.moved();
    }
    expect(sent).toEqual([]);
    await nextPicture();
    expect(sent.map(({ edits }) => edits)).toEqual([
      [{ kind: "move", node: "arm", channel: "rotation.x", frame: 10, toFrame: 15 }],
    ]);
    // While one is under way nothing more is sent, however many pictures pass.
    drag.to(7, 0);
    sender.moved();
    await nextPicture();
    drag.to(9, 0);
    sender.moved();
    await nextPicture();
    expect(sent.length).toBe(1);
    await sent[0].answer(ok);
    await nextPicture();
    expect(sent.length).toBe(2);
    expect(sent[1].edits).toEqual([
      { kind: "move", node: "arm", channel: "rotation.x", frame: 15, toFrame: 19 },
    ]);
    expect(sent[1].step).toEqual(sent[0].step);
  });

  test("ends when its last is answered, and that is where the hand let go", async () => {
    const drag = new KeyDrag([{ curve, key: 1 }]);
    sender.begin(drag);
    drag.to(3, 1);
    sender.moved();
    await nextPicture();
    drag.to(4, 2);
    let isOver = false;
    void sender.end().then(() => {
      isOver = true;
    });
    await settled();
    expect(sent.length).toBe(1);
    await sent[0].answer(ok);
    expect(sent.length).toBe(2);
    expect(isOver).toBe(false);
    await sent[1].answer(ok);
    expect(isOver).toBe(true);
    const after = sent.reduce((now, { edits }) => edited(now, edits), curve);
    expect([...after.frames]).toEqual([1, 14, 30]);
    expect(after.values[1]).toBe(7);
    expect(sender.isDragging).toBe(false);
  });

  test("that changes nothing sends nothing", async () => {
    sender.begin(new KeyDrag([{ curve, key: 1 }]));
    await sender.end();
    expect(sent).toEqual([]);
  });

  test("is over where the desk refuses it", async () => {
    const drag = new KeyDrag([{ curve, key: 1 }]);
    sender.begin(drag);
    drag.to(3, 0);
    sender.moved();
    await nextPicture();
    await sent[0].answer(no);
    expect(refused).toEqual(["There is no such key."]);
    expect(sender.isDragging).toBe(false);
    await sender.end();
    expect(sent.length).toBe(1);
  });

  test("property: whatever the hand, the pictures and the answers do, the shot ends where the hand let go", async () => {
    const event = fc.oneof(
      fc.record({ frames: fc.integer({ min: -20, max: 30 }), value: fc.integer({ min: -5, max: 5 }) }),
      fc.constantFrom("picture" as const, "answer" as const),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(event, { maxLength: 30 }), async (events) => {
        [sent, pictures] = [[], []];
        const drag = new KeyDrag([{ curve, key: 1 }]);
        let answered = 0;
        let now = curve;
        const answer = async () => {
          if (answered === sent.length) return;
          now = edited(now, sent[answered].edits);
          await sent[answered++].answer(ok);
        };
        sender.begin(drag);
        for (const what of events) {
          if (what === "picture") await nextPicture();
          else if (what === "answer") await answer();
          else {
            drag.to(what.frames, what.value);
            sender.moved();
          }
          expect(sent.length - answered).toBeLessThanOrEqual(1);
        }
        const over = sender.end();
        while (answered < sent.length) await answer();
        await over;
        const whole = edited(curve, drag.whole());
        expect([...now.frames]).toEqual([...whole.frames]);
        expect([...now.values]).toEqual([...whole.values]);
      }),
      { numRuns: 50 },
    );
  });
});

describe("single edits", () => {
  test("are made one after the other, each on what the one before left", async () => {
    let there = 10;
    const step = sender.step("move a key");
    const nudge = () =>
      sender.make(step, () => {
        const edit = {
          kind: "move",
          node: "arm",
          channel: "rotation.x",
          frame: there,
          toFrame: there + 1,
        } as const;
        there++;
        return [edit];
      });
    const both = [nudge(), nudge()];
    await settled();
    expect(sent.length).toBe(1);
    await sent[0].answer(ok);
    expect(sent[1].edits).toMatchObject([{ frame: 11, toFrame: 12 }]);
    await sent[1].answer(no);
    expect(await Promise.all(both)).toEqual([true, false]);
    expect(refused.length).toBe(1);
  });

  test("what comes to nothing is not sent, and what fails does not stop the next", async () => {
    expect(await sender.make(sender.step("nothing"), () => [])).toBe(false);
    await expect(
      sender.make(sender.step("fails"), () => {
        throw new Error("no");
      }),
    ).rejects.toThrow("no");
    const made = sender.make(sender.step("next"), () => [
      { kind: "remove", node: "arm", channel: "rotation.x", frame: 1 },
    ]);
    await settled();
    await sent[0].answer(ok);
    expect(await made).toBe(true);
    expect(sender.step("a").group).not.toBe(sender.step("a").group);
  });
});

describe("what comes behind edits", () => {
  test("waits until all that was asked for is answered", async () => {
    let isSettled = false;
    const drag = new KeyDrag([{ curve, key: 1 }]);
    sender.begin(drag);
    drag.to(2, 0);
    sender.moved();
    await nextPicture();
    drag.to(3, 0);
    void sender.end();
    void sender.make(sender.step("another"), () => drag.whole());
    void sender.settled().then(() => {
      isSettled = true;
    });
    // The drag's picture, what it had left, and the edit behind it.
    for (let answered = 0; answered < 3; answered++) {
      await settled();
      expect(isSettled).toBe(false);
      await sent[answered].answer(ok);
    }
    await settled();
    expect([sent.length, isSettled]).toEqual([3, true]);
  });

  test("a drag that begins before the last one is answered loses nothing of it", async () => {
    const first = new KeyDrag([{ curve, key: 1 }]);
    sender.begin(first);
    first.to(2, 0);
    sender.moved();
    await nextPicture();
    first.to(4, 0);
    let isDone = false;
    void sender.end().then(() => {
      isDone = true;
    });
    sender.begin(new KeyDrag([{ curve, key: 2 }]));
    await settled();
    expect(isDone).toBe(true);
    expect(sent.map(({ step }) => step.group)).toEqual(["1", "1"]);
    expect(sent[1].edits).not.toEqual(sent[0].edits);
  });
});
