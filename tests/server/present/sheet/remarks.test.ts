import { describe, expect, test } from "vitest";
import { addRemark, decide, markRemark } from "../../../../packages/core/review/change.ts";
import { printReview } from "../../../../packages/core/review/print.ts";
import { emptyReview } from "../../../../packages/core/review/schema.ts";
import { makeSheet } from "../../../../packages/server/present/sheet/make.ts";
import { sheetPage } from "../../../../packages/server/present/sheet/page.ts";
import { letterAt, strokesOf } from "../../../../packages/server/present/sheet/remarks.ts";
import { judged, wavingDocument, withoutCode } from "./shots.ts";

/** What people say, on the sheet. */

const said = { by: "Ada", date: "2031-04-02" };
const options = { previous: null, fixes: false, lightest: "polish" } as const;

/** A sheet of a shot with a pop, of which somebody says three things and rewords the pop. */
async function reviewed() {
  const plain = await judged(wavingDocument());
  const pop = plain.notes.find(({ check }) => check === "pop");
  if (pop === undefined || pop.frames === null || pop.node === null) throw new Error("There is no pop.");
  let review = emptyReview("shot");
  review = addRemark(
    review,
    {
      ...said,
      ...{ text: "Let it <trail>.", node: "hand_l", frames: [10, 30], weight: "must", rank: 2 },
      strokes: [
        {
          frame: 20,
          plane: { origin: [0, 1, 0], normal: [0, 0, 1] },
          points: [
            [0.2, 1.2, 0],
            [0.5, 1, 0],
            [0.8, 1.2, 0],
          ],
          target: { node: "hand_l", frames: [10, 30] },
        },
      ],
    },
    "a",
  ).review;
  review = addRemark(review, { ...said, text: "More of this.", weight: "keep" }, "b").review;
  review = addRemark(review, { ...said, text: "Was slow.", weight: "should", frames: [1, 2] }, "c").review;
  review = markRemark(review, { ...said, of: "c", state: "done" }).review;
  review = decide(review, {
    ...{ check: "pop", node: pop.node, frames: [pop.frames[0], pop.frames[1]] },
    ...{ verdict: "kept", text: "The arm jumps.", weight: "could", rank: 1, ...said },
  }).review;
  const version = await judged(wavingDocument(), "shot.curves.json", printReview(review));
  return { version, page: withoutCode(sheetPage(makeSheet(version, options))) };
}

describe("what people say", () => {
  test("stands in one list with the notes, in the reviewer's order and words, praise included", async () => {
    const { page } = await reviewed();
    const order = [...page.matchAll(/<li class="(remark|note) [^"]*" id="([^"]+)"/g)].map(([, , id]) => id);
    expect(order[0]).toMatch(/^note-/);
    expect(order[1]).toBe("remark-A");
    expect(order.filter((id) => id.startsWith("remark"))).toHaveLength(3);
    expect(page).toContain("The arm jumps.");
    expect(page).toContain("could (");
    expect(page).toContain("Let it &lt;trail&gt;.");
    expect(page).not.toContain("<trail>");
    expect(page).toMatch(/Keep this[\s\S]*More of this\./);
    expect(page).toMatch(/class="remark should is-done"[\s\S]*?<span class="status">done<\/span>/);
    expect(page).toMatch(/Left hand runs [\d.]+ cm from its target path/);
  });

  test("draws lines as they were drawn, a target dashed, and gives them to the player", async () => {
    const { page, version } = await reviewed();
    expect(page.match(/class="drawn target"/g)).toHaveLength(1);
    const path = /class="drawn target" d="M([\d.-]+) ([\d.-]+)L([\d.-]+) ([\d.-]+)L([\d.-]+) ([\d.-]+)"/.exec(
      page,
    );
    const [x0, y0, x1, y1, x2, y2] = (path ?? []).slice(1).map(Number);
    // Seen along the normal, what lies to the right and below in the world does so in the picture.
    expect(x1 - x0).toBeCloseTo(x2 - x1, 0);
    expect(x1).toBeGreaterThan(x0);
    expect(y1).toBeGreaterThan(y0);
    expect(y2).toBeCloseTo(y0, 0);
    expect((y1 - y0) / (x1 - x0)).toBeCloseTo(0.2 / 0.3, 1);
    expect(strokesOf(version, new Map([["a", "A"]]))).toEqual([
      { label: "A", from: 9, to: 29, isTarget: true, line: [0.2, 1.2, 0, 0.5, 1, 0, 0.8, 1.2, 0] },
    ]);
    expect(page).toContain('"strokes":[');
  });

  test("is nowhere on a sheet without a review", async () => {
    const page = withoutCode(sheetPage(makeSheet(await judged(wavingDocument()), options)));
    expect(page).toContain("Notes, biggest first");
    expect(page).not.toContain('class="remark');
    expect(page).not.toContain('"strokes"');
  });

  test("has letters that go on behind Z", () => {
    expect([0, 25, 26, 27, 52].map(letterAt)).toEqual(["A", "Z", "AA", "AB", "BA"]);
  });
});
