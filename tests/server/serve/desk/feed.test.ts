import { afterEach, describe, expect, test } from "vitest";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { eased, everyFrame, pointDocument } from "../../../support/shots.ts";
import { LaidDesk } from "./desk-for-tests.ts";

const point = { node: "point", channel: "translation.x" } as const;
const smooth = eased(6, 30, 0, 1);
const wrong = (frame: number) => smooth(frame) + (frame === 18 ? 0.2 : 0);
const text = writeDocument(
  pointDocument(
    {
      "translation.x": everyFrame(1, 40, smooth),
      "translation.y": everyFrame(1, 40, (n) => (n === 18 ? 0.2 : 0)),
    },
    { range: [1, 40] },
  ),
);
const put = (value: number) => [{ kind: "set", ...point, frame: 24, value }] as const;

let laid: LaidDesk;
afterEach(() => laid.close());
const open = async () => {
  laid = await LaidDesk.open({ "a.curves.json": text });
  return laid.client();
};

test("a page hears of a judgement that takes long: how far it is, and what it has found on the edited part", async () => {
  const page = await open();
  await page.notesAt(0);
  laid.feeds.isSlow = true;
  await laid.feeds.kill();
  await page.next("feed", ({ state }) => state === "back");
  await page.edit(put(wrong(24) + 3));
  await page.notesAt(1);
  const early = page.all("soFar").filter(({ revision, found }) => revision === 1 && found.length > 0);
  expect(early.length).toBeGreaterThan(0);
  const last = early[early.length - 1];
  expect(last.share).toBeGreaterThan(0);
  expect(last.found.join("\n")).toMatch(/, point, frames? \d/);
  const order = page.told.flatMap((one) => (one.type === "soFar" || one.type === "notes" ? [one.type] : []));
  expect(order[order.length - 1]).toBe("notes");
});

describe("a feed that dies", () => {
  test("is started again; keys are edited meanwhile, and its notes are those of the shot as it is", async () => {
    const page = await open();
    const before = await page.notesAt(0);
    await laid.feeds.kill();
    expect((await page.next("feed")).state).toBe("gone");
    expect(await page.edit(put(wrong(24) + 3))).toMatchObject({ ok: true, revision: 1 });
    expect((await page.next("feed", ({ state }) => state === "back")).message).toBe("The feed is back.");
    const after = await page.notesAt(1);
    expect(after).not.toEqual(before);
    expect(laid.feeds.started).toBe(2);
    // Edits go on reaching it.
    await page.ask({ type: "undo" });
    expect(await page.notesAt(2)).toEqual(before);
    await page.edit(put(smooth(24) + 3));
    expect((await page.notesAt(3)).map(({ fingerprint }) => fingerprint)).toEqual(
      after.map(({ fingerprint }) => fingerprint),
    );
  });

  test("is given up where it cannot be started; the shot can be edited and saved all the same", async () => {
    const page = await open();
    await page.notesAt(0);
    laid.feeds.isBroken = true;
    await laid.feeds.kill();
    const { message } = await page.next("feed", ({ state }) => state === "given-up");
    expect(message).toContain("start the desk again");
    expect(await page.edit(put(2))).toMatchObject({ ok: true });
    const [{ fingerprint }] = await page.notesAt(0);
    expect(await page.ask({ type: "fix", fingerprint })).toMatchObject({ ok: false, reason: "no-feed" });
    expect(await page.ask({ type: "save" })).toMatchObject({ ok: true });
    // A page that comes later is told, too.
    expect((await (await laid.client()).next("feed")).state).toBe("given-up");
  });
});

describe("a fix", () => {
  test("is told with its keys and what it moves, and clears its note when it is made; undo takes it back", async () => {
    const page = await open();
    const notes = await page.notesAt(0);
    const [{ fingerprint }] = notes.filter(({ check }) => check === "pop");
    const answer = await page.ask({ type: "fix", fingerprint });
    const fix = answer.ok ? answer.fix : undefined;
    expect(fix?.gone).toContain(fingerprint);
    expect(fix?.keys).toEqual([
      expect.objectContaining({
        node: "point",
        channel: "translation.y",
        before: expect.objectContaining({ frame: 18 }),
      }),
    ]);
    expect(fix?.moves.length).toBeGreaterThan(0);
    expect(laid.desk.version.text).toBe(text);
    const second = await laid.client();
    expect(await page.ask({ type: "apply", fingerprint })).toMatchObject({ ok: true, revision: 1 });
    expect(await second.next("changed")).toMatchObject({ how: "fix", by: 1 });
    const left = (await second.notesAt(1)).map((note) => note.fingerprint);
    expect(left).not.toContain(fingerprint);
    await second.ask({ type: "undo" });
    expect(laid.desk.version.text).toBe(text);
    expect(await page.notesAt(2)).toEqual(notes);
  });

  test("belongs to the shot for which it was found", async () => {
    const page = await open();
    const [{ fingerprint }] = (await page.notesAt(0)).filter(({ check }) => check === "pop");
    expect(await page.ask({ type: "apply", fingerprint })).toMatchObject({ ok: false, reason: "no-fix" });
    expect(await page.ask({ type: "fix", fingerprint })).toMatchObject({ ok: true });
    await page.edit(put(smooth(24) + 0.001));
    expect(await page.ask({ type: "apply", fingerprint })).toMatchObject({ ok: false, reason: "changed" });
    expect(await page.ask({ type: "fix", fingerprint: "0" })).toMatchObject({
      ok: false,
      reason: "unknown-note",
    });
  });
});
