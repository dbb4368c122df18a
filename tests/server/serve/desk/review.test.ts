import { readdir, writeFile } from "node:fs/promises";
import { afterEach, describe, expect, test } from "vitest";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { addRemark, markRemark } from "../../../../packages/core/review/change.ts";
import { printReview } from "../../../../packages/core/review/print.ts";
import { readReview } from "../../../../packages/core/review/read.ts";
import { emptyReview, type ReviewFile } from "../../../../packages/core/review/schema.ts";
import type { DeskReview, DeskStroke, ReviewChange } from "../../../../packages/desk/link.ts";
import { poppingDocument } from "../../cli/shots-for-tests.ts";
import { type DeskClient, LaidDesk } from "./desk-for-tests.ts";

const name = "pier.curves.json";
const beside = "pier.review.json";
const text = writeDocument(poppingDocument());
const post = { node: "post", channel: "rotation.z" } as const;
const by = "Ada";
const said = { text: "Slow it down.", by: "Bo", date: "2031-04-02T09:30:00Z" };

let laid: LaidDesk;
afterEach(() => laid.close());
async function open(more: Record<string, string> = {}, previous: ReviewFile | null = null) {
  laid = await LaidDesk.open({ [name]: text, ...more }, name, undefined, null, previous);
  return laid.client();
}
const change = (page: DeskClient, what: ReviewChange) =>
  page.ask({ type: "review", label: "review", change: what });
const remark = (more: Partial<Extract<ReviewChange, { kind: "add" }>["remark"]> = {}): ReviewChange => ({
  kind: "add",
  remark: { text: "Let it hang.", weight: "must", by, frames: [12, 20], node: "post", strokes: [], ...more },
});
const onDisk = async () => readReview(await laid.read(beside)).review;
/** What the page was told last. */
function told(page: DeskClient): DeskReview {
  const last = page.told.findLast((one) => one.type === "review" || one.type === "shot");
  if (last?.type !== "review" && last?.type !== "shot") throw new Error("Nothing was told.");
  return last.review;
}
async function popOf(page: DeskClient) {
  const pop = (await page.notesAt(0)).find(({ check }) => check === "pop");
  if (pop === undefined) throw new Error("There is no pop.");
  return pop;
}
/** Waits for a review that fits, of those that come. */
const review = (page: DeskClient, fits: (one: DeskReview) => boolean) =>
  page.next("review", (message) => fits(message.review));

describe("a remark", () => {
  test("is written at once beside the shot, with who said it, when, and for which version", async () => {
    const page = await open();
    const answer = await change(page, remark());
    expect(answer).toMatchObject({ ok: true });
    const { remarks, shot } = await onDisk();
    expect(shot).toBe("pier_0010");
    expect(remarks).toMatchObject([
      { text: "Let it hang.", weight: "must", by, frames: [12, 20], node: "post", version: { file: name } },
    ]);
    expect(Number.isNaN(Date.parse(remarks[0].date))).toBe(false);
    expect(answer.ok && answer.remark).toBe(remarks[0].id);
    expect(await laid.read(name)).toBe(text);
    expect((await readdir(laid.folder)).sort()).toEqual([name, beside]);
  });

  test("that says nobody's name is the reviewer's", async () => {
    const page = await open();
    await change(page, remark({ by: "" }));
    expect((await onDisk()).remarks[0].by).toBe("Ada");
  });

  test("comes to all pages, is changed, marked as done, opened again and taken out", async () => {
    const page = await open();
    const other = await laid.client();
    const answer = await change(page, remark());
    const id = (answer.ok && answer.remark) || "";
    await review(other, ({ remarks }) => remarks.length === 1);
    await change(other, { kind: "change", id, to: { text: "Longer.", weight: "could" }, by: "Bo" });
    expect(told(page).remarks).toMatchObject([{ text: "Longer.", weight: "could", isDone: false }]);
    expect((await onDisk()).remarks[0].changed).toMatchObject({ by: "Bo" });
    await change(page, { kind: "change", id, to: { isDone: true }, by });
    expect(told(page).remarks[0].isDone).toBe(true);
    expect((await onDisk()).marks).toMatchObject([{ of: id, state: "done", by }]);
    await change(page, { kind: "change", id, to: { isDone: false }, by });
    expect(told(page).remarks[0].isDone).toBe(false);
    await change(page, { kind: "remove", id });
    expect(told(page).remarks).toEqual([]);
    expect(await change(page, { kind: "remove", id })).toMatchObject({ ok: false, reason: "unknown-remark" });
  });

  test("is a step of the desk's one history, between edits of keys", async () => {
    const page = await open();
    await page.edit([{ kind: "set", ...post, frame: 48, value: 4 }]);
    await change(page, remark());
    await page.edit([{ kind: "set", ...post, frame: 48, value: 5 }]);
    await page.ask({ type: "undo" });
    expect(told(page).remarks).toHaveLength(1);
    await page.ask({ type: "undo" });
    expect(told(page).remarks).toEqual([]);
    expect((await onDisk()).remarks).toEqual([]);
    expect(laid.desk.version.text).not.toBe(text);
    await page.ask({ type: "undo" });
    expect(laid.desk.version.text).toBe(text);
    await page.ask({ type: "redo" });
    await page.ask({ type: "redo" });
    expect(told(page).remarks).toMatchObject([{ text: "Let it hang." }]);
    expect((await onDisk()).remarks).toHaveLength(1);
  });

  test("of frames that are no more, of a part that was renamed, of one that is gone: a sentence, and it stays", async () => {
    let file = addRemark(emptyReview("pier_0010"), { ...said, frames: [900, 910] }, "late").review;
    file = addRemark(file, { ...said, node: "mast" }, "gone").review;
    file = addRemark(
      file,
      { ...said, strokes: [{ frame: 3, points: [[0, 1, 0]], camera: "east" }] },
      "free",
    ).review;
    const page = await open({ [beside]: printReview(file) });
    const by = new Map(told(page).remarks.map(({ id, trouble }) => [id, trouble]));
    expect(by.get("late")).toMatch(/speaks of frames 900 to 910; the shot has frames/);
    expect(by.get("gone")).toMatch(/speaks of "mast", which is not in the shot/);
    expect(by.get("free")).toMatch(/a stroke through the camera "east", which is not in the shot/);
    await change(page, remark());
    expect((await onDisk()).remarks).toHaveLength(4);
  });
});

describe("decisions about a computed note", () => {
  test("it is kept, reworded, and raised, each by itself and all at once", async () => {
    const page = await open();
    const { fingerprint } = await popOf(page);
    await change(page, { kind: "decide", fingerprint, to: { isKept: true }, by });
    expect(told(page).decisions).toEqual([{ fingerprint, isKept: true, text: null, weight: null, by }]);
    await change(page, { kind: "decide", fingerprint, to: { text: "The gust comes too early." }, by });
    await change(page, { kind: "decide", fingerprint, to: { weight: "must" }, by });
    expect(told(page).decisions).toMatchObject([
      { fingerprint, isKept: true, text: "The gust comes too early.", weight: "must" },
    ]);
    expect((await onDisk()).decisions).toHaveLength(1);
    await change(page, { kind: "decide", fingerprint, to: { text: null }, by });
    expect(told(page).decisions).toMatchObject([{ text: null, weight: "must" }]);
    await change(page, { kind: "decide", fingerprint, to: { isKept: false }, by });
    expect(told(page).decisions).toEqual([]);
  });

  test("one that is dropped goes as by a waiver; undo brings it back, and so does taking back", async () => {
    const page = await open();
    const pop = await popOf(page);
    const { fingerprint, frames } = pop;
    const drop: ReviewChange = { kind: "decide", fingerprint, to: { reason: "A gust takes it." }, by: "Ana" };
    const isGone = ({ order }: { order: readonly string[] }) => !order.includes(fingerprint);
    await change(page, drop);
    const gone = await page.next("notes", isGone);
    expect(gone.waived).toMatchObject([
      { check: "pop", node: "post", frames, reason: "A gust takes it.", by: "Ana" },
    ]);
    expect((await onDisk()).decisions).toMatchObject([{ verdict: "dropped", reason: "A gust takes it." }]);
    const since = page.told.length;
    await page.ask({ type: "undo" });
    await page.next("notes", (notes) => page.told.indexOf(notes) >= since && !isGone(notes));
    expect((await onDisk()).decisions).toEqual([]);
    const again = page.told.length;
    await change(page, drop);
    const { waived } = await page.next(
      "notes",
      (notes) => page.told.indexOf(notes) >= again && isGone(notes),
    );
    const id = waived[0].decision ?? "";
    const back = page.told.length;
    await change(page, { kind: "take-back", id });
    await page.next("notes", (notes) => page.told.indexOf(notes) >= back && !isGone(notes));
  });

  test("about a note that is no more is refused", async () => {
    const page = await open();
    await page.notesAt(0);
    expect(await change(page, { kind: "decide", fingerprint: "0", to: { isKept: true }, by })).toMatchObject({
      ok: false,
      reason: "unknown-note",
    });
  });

  test("remarks and notes are put into one order", async () => {
    const page = await open();
    const { fingerprint } = await popOf(page);
    const answer = await change(page, remark());
    const id = (answer.ok && answer.remark) || "";
    await change(page, { kind: "order", order: [fingerprint, id], by });
    expect(told(page).order).toEqual([fingerprint, id]);
    await change(page, { kind: "order", order: [id, fingerprint], by });
    expect(told(page).order).toEqual([id, fingerprint]);
    const { remarks, decisions } = await onDisk();
    expect([remarks[0].rank, decisions[0].rank]).toEqual([1, 2]);
  });
});

describe("a target path", () => {
  /** A line on the ground, a metre long. */
  const stroke = (target: string | null): DeskStroke => ({
    line: [0, 0, 0, 1, 0, 0],
    facing: [0, 0, -1],
    frames: [12, 20],
    target,
  });

  test("a line is drawn, and made the path that a part is to take, whose distance is told", async () => {
    const page = await open();
    const answer = await change(page, remark({ strokes: [stroke(null)] }));
    const id = (answer.ok && answer.remark) || "";
    expect(told(page).remarks[0].strokes).toEqual([stroke(null)]);
    expect((await onDisk()).remarks[0].strokes).toMatchObject([
      {
        frame: 12,
        frames: [12, 20],
        node: "post",
        plane: { origin: [0, 0, 0], normal: [0, 0, 1] },
        points: [
          [0, 0, 0],
          [1, 0, 0],
        ],
      },
    ]);
    await change(page, { kind: "change", id, to: { strokes: [stroke("post")] }, by });
    const { targets } = await page.next("targets", ({ targets }) => targets.length > 0);
    expect(targets).toMatchObject([{ remark: id, stroke: 0, node: "post" }]);
    expect(targets[0].largest).toBeGreaterThanOrEqual(targets[0].mean);
  });

  test("its distance follows the keys while they are edited: a part that goes to the line is nearer", async () => {
    const page = await open();
    await change(page, remark({ strokes: [stroke("post")] }));
    const before = (await page.next("targets", ({ targets }) => targets.length > 0)).targets[0];
    await page.edit([{ kind: "set", node: "post", channel: "translation.y", frame: 1, value: 0 }]);
    const after = (await page.next("targets", ({ revision }) => revision === 1)).targets[0];
    expect(after.mean).toBeLessThan(before.mean);
    expect(after.largest).toBeLessThan(before.largest);
  });
});

describe("a fix", () => {
  test("tells how far parts would be from their targets before it is made", async () => {
    const page = await open();
    const { fingerprint } = await popOf(page);
    const stroke: DeskStroke = {
      line: [0, 0, 0, 1, 0, 0],
      facing: [0, 0, -1],
      frames: [12, 20],
      target: "post",
    };
    const answer = await change(page, remark({ strokes: [stroke] }));
    const before = (await page.next("targets", ({ targets }) => targets.length > 0)).targets[0];
    const found = await page.ask({ type: "fix", fingerprint });
    const targets = found.ok ? found.fix?.targets : undefined;
    expect(targets).toMatchObject([{ remark: answer.ok && answer.remark, stroke: 0, node: "post" }]);
    // The fix turns the post, which stands where it stood.
    expect(targets?.[0].mean).toBeCloseTo(before.mean, 6);
  });
});

describe("the review file on disk", () => {
  test("changed by somebody else while it is open: both stand, and nothing is lost", async () => {
    const page = await open();
    await change(page, remark());
    const theirs = addRemark(await onDisk(), said, "theirs").review;
    await writeFile(laid.path(beside), printReview(theirs));
    await change(page, remark({ text: "And this." }));
    const texts = (await onDisk()).remarks.map((one) => one.text).sort();
    expect(texts).toEqual(["And this.", "Let it hang.", "Slow it down."]);
    const news = await page.next("review", ({ message }) => message.includes("somebody else"));
    expect(news.review.remarks).toHaveLength(3);
    // What the others wrote is not undone with a step of this desk.
    await page.ask({ type: "undo" });
    expect((await onDisk()).remarks.map((one) => one.text).sort()).toEqual(["Let it hang.", "Slow it down."]);
  });

  test("changed on disk alone is taken in by itself", async () => {
    const page = await open();
    await writeFile(
      laid.path(beside),
      printReview(addRemark(emptyReview("pier_0010"), said, "theirs").review),
    );
    const { review: now } = await review(page, ({ remarks }) => remarks.length === 1);
    expect(now.remarks).toMatchObject([{ id: "theirs", text: "Slow it down." }]);
  });

  test("half written: nothing is written over it, what it says is told, and nothing is lost", async () => {
    const page = await open();
    await change(page, remark());
    const whole = printReview(addRemark(await onDisk(), said, "theirs").review);
    const half = whole.slice(0, whole.lastIndexOf(`"theirs"`));
    await writeFile(laid.path(beside), half);
    await change(page, remark({ text: "And this." }));
    expect(await laid.read(beside)).toBe(half);
    const { review: now } = await review(page, ({ problems }) => problems.length > 0);
    expect(now.remarks.map((one) => one.text).sort()).toEqual(["And this.", "Let it hang."]);
    expect((await onDisk()).remarks).toHaveLength(2);
    expect(JSON.parse(await laid.read(beside)).format).toBe("keyside.review");
  });

  test("half written when the desk ends: what was said here and what can be read there is kept", async () => {
    const page = await open();
    await change(page, remark());
    const whole = printReview(addRemark(await onDisk(), said, "theirs").review);
    await writeFile(laid.path(beside), whole.slice(0, whole.lastIndexOf(`"theirs"`)));
    await change(page, remark({ text: "And this." }));
    await laid.stop();
    const texts = (await onDisk()).remarks.map((one) => one.text).sort();
    expect(texts).toEqual(["And this.", "Let it hang."]);
    expect(await laid.read(beside)).toContain("unread");
  });

  test("that is half written when the desk opens is used as far as it goes, and kept", async () => {
    const whole = printReview(
      addRemark(addRemark(emptyReview("pier_0010"), said, "a").review, said, "b").review,
    );
    const page = await open({ [beside]: whole.slice(0, whole.lastIndexOf(`"by"`)) });
    expect(told(page).remarks.map(({ id }) => id)).toEqual(["a"]);
    expect(told(page).problems.length).toBeGreaterThan(0);
    await change(page, remark());
    expect(await laid.read(beside)).toContain("unread");
  });

  test("that speaks of another shot is told", async () => {
    const page = await open({ [beside]: printReview(addRemark(emptyReview("jetty"), said, "a").review) });
    expect(told(page).problems[0]).toMatch(/is of the shot "jetty", and this is "pier_0010"/);
    expect(told(page).remarks).toHaveLength(1);
  });
});

describe("the version before", () => {
  test("its open remarks are shown, are marked here as done, and stay as they are there", async () => {
    let before = addRemark(emptyReview("pier_0010"), { ...said, frames: [5, 9] }, "open").review;
    before = addRemark(before, said, "closed").review;
    before = markRemark(before, { of: "closed", state: "done", by, date: said.date }).review;
    const page = await open({}, before);
    expect(told(page).remarks).toMatchObject([
      { id: "open", isOfBefore: true, isDone: false, frames: [5, 9] },
    ]);
    await change(page, { kind: "change", id: "open", to: { isDone: true }, by });
    expect(told(page).remarks).toMatchObject([{ id: "open", isDone: true }]);
    const { remarks, marks } = await onDisk();
    expect(remarks).toEqual([]);
    expect(marks).toMatchObject([{ of: "open", state: "done", version: { file: name } }]);
    const refused = await change(page, { kind: "change", id: "open", to: { text: "Else." }, by });
    expect(refused).toMatchObject({ ok: false, reason: "bad-edit" });
  });
});

test("what is no change of a review is refused, and changes nothing", async () => {
  const page = await open();
  for (const wrong of [
    { kind: "add", remark: { text: " ", weight: "must", by, frames: null, node: null, strokes: [] } },
    { kind: "change", id: "a", to: { weight: "shall" }, by },
    { kind: "paint" },
  ]) {
    expect(await change(page, wrong as never)).toMatchObject({ ok: false, reason: "misshapen" });
  }
  await expect(laid.read(beside)).rejects.toThrow();
});
