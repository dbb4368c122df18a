import { inflateRawSync } from "node:zlib";
import { afterEach, describe, expect, test } from "vitest";
import { applyKeyEdits } from "../../../../packages/core/document/edit-text.ts";
import { readShot } from "../../../../packages/core/document/read.ts";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import type { ChannelChange, DeskKey } from "../../../../packages/desk/link.ts";
import { fromBytes } from "../../../../packages/player/packed.ts";
import { posesOf } from "../../../../packages/player/unpack.ts";
import { eased, everyFrame, pointDocument } from "../../../support/shots.ts";
import { cleanDocument, poppingDocument } from "../../cli/shots-for-tests.ts";
import { LaidDesk } from "./desk-for-tests.ts";

const channel = "rotation.z" as const;
const post = { node: "post", channel };
const text = writeDocument(poppingDocument());
/** The frame at which the popping document leaves its path, and what it has there on its path. */
const popAt = 48;
const onPath = 30 * Math.sin((popAt - 1) / 12);

let laid: LaidDesk;
afterEach(() => laid.close());
const open = async (content = text) => {
  laid = await LaidDesk.open({ "pier.curves.json": content });
  return laid.client();
};

/** Keys with a change made in them, as a page makes it. */
function spliced(keys: readonly DeskKey[], { at, removed, keys: come }: ChannelChange): DeskKey[] {
  return [...keys.slice(0, at), ...come, ...keys.slice(at + removed)];
}

describe("a page that comes", () => {
  test("is told the shot, its channels, how it moves, and then its notes", async () => {
    const page = await open();
    const { shot, motion, revision, history, disk } = await page.next("shot");
    expect(revision).toBe(0);
    expect(shot).toMatchObject({
      name: "pier_0010",
      file: "pier.curves.json",
      savedTo: "pier.curves.json",
      isCopy: false,
      frameRate: 24,
      range: [1, 96],
      metresPerUnit: 0.01,
      angleUnit: "degrees",
      channels: [{ ...post, count: 96 }],
    });
    expect(shot.nodes.map(({ id, parent }) => [id, parent])).toEqual([
      ["post", null],
      ["sign", "post"],
      ["rim", "sign"],
    ]);
    expect(motion).toMatchObject({ format: "keyside.motion", count: 96, firstFrame: 1, notes: [] });
    expect(history).toEqual({ undo: null, redo: null });
    expect(disk).toEqual({ isUnsaved: false, hasChanged: false });
    const notes = await page.notesAt(0);
    const pop = notes.find(({ check }) => check === "pop");
    expect(pop).toMatchObject({ tier: "major", frames: [popAt, popAt] });
    expect(pop?.keys[0]).toMatchObject({ ...post, frame: popAt });
    expect(pop?.shown?.from).toBe(popAt - 1);
    const answer = await page.ask({ type: "keys", of: [post] });
    expect(answer).toMatchObject({ ok: true });
    const [{ keys }] = (answer.ok && answer.keys) || [];
    expect(keys.length).toBe(96);
    expect(keys[popAt - 1]).toMatchObject({ frame: popAt, value: onPath + 25 });
  });
});

describe("an edit", () => {
  test("is answered with its revision; its note goes, the figure moves, and the change is told as keys", async () => {
    const page = await open();
    const asked = await page.ask({ type: "keys", of: [post] });
    const [{ keys }] = (asked.ok && asked.keys) || [];
    await page.notesAt(0);
    const { motion } = await page.next("shot");
    const answer = await page.edit([{ kind: "set", ...post, frame: popAt, value: onPath }]);
    expect(answer).toMatchObject({ ok: true, revision: 1 });
    const { channels, by, how, disk, history } = await page.next("changed");
    expect({ by, how }).toEqual({ by: 1, how: "edit" });
    expect(disk.isUnsaved).toBe(true);
    expect(history).toEqual({ undo: "move key", redo: null });
    expect(channels).toEqual([
      {
        ...post,
        interpolation: expect.any(String),
        at: popAt - 1,
        removed: 1,
        keys: [expect.objectContaining({ frame: popAt, value: onPath })],
        count: 96,
      },
    ]);
    // What the page makes of it is what a page that comes later is told.
    const later = await (await laid.client()).ask({ type: "keys", of: [post] });
    expect(spliced(keys, channels[0])).toEqual(later.ok && later.keys?.[0].keys);
    expect((await page.notesAt(1)).map(({ check }) => check)).not.toContain("pop");
    // Where the points are now is where a fresh motion of the edited shot has them.
    const moved = await page.next("moved");
    expect(moved.revision).toBe(1);
    const { points, from, to, places } = moved.motion;
    const fresh = (await (await laid.client()).next("shot")).motion;
    const { at: poses } = await posesOf(fresh);
    const bytes = inflateRawSync(Buffer.from(places, "base64"));
    const count = to - from + 1;
    const told = fromBytes(bytes, 3 * count * points.length, count, motion.grain);
    points.forEach((point, n) => {
      for (let axis = 0; axis < 3; axis++) {
        for (let i = 0; i < count; i++) {
          const now = poses[(3 * point + axis) * motion.count + from + i];
          expect(Math.abs(told[(3 * n + axis) * count + i] - now)).toBeLessThan(motion.grain);
        }
      }
    });
    expect([from, to]).toEqual([popAt - 1, popAt - 1]);
  });

  test("may set, move and take out keys, with handles and interpolations, all or none", async () => {
    const page = await open();
    const edits = [
      {
        kind: "set",
        ...post,
        frame: 10,
        value: 5,
        interpolation: "bezier",
        handles: { in: [-1, 2], out: [2, -1] },
      },
      { kind: "move", ...post, frame: 20, toFrame: 20.5, value: 3 },
      { kind: "remove", ...post, frame: 30 },
    ] as const;
    expect(await page.edit(edits)).toMatchObject({ ok: true, revision: 1 });
    const answer = await page.ask({ type: "keys", of: [post] });
    const [{ keys }] = (answer.ok && answer.keys) || [];
    expect(keys.find(({ frame }) => frame === 10)).toEqual({
      frame: 10,
      value: 5,
      in: [-1, 2],
      out: [2, -1],
      interpolation: "bezier",
      isOwn: true,
    });
    expect(keys.find(({ frame }) => frame === 20.5)?.value).toBe(3);
    expect(keys.some(({ frame }) => frame === 30 || frame === 20)).toBe(false);
    const refused = await page.edit([
      { kind: "remove", ...post, frame: 40 },
      { kind: "remove", ...post, frame: 40.5 },
    ]);
    expect(refused).toMatchObject({ ok: false, reason: "bad-edit", revision: 1 });
    expect(!refused.ok && refused.message).toContain("There is no key");
    const after = await page.ask({ type: "keys", of: [post] });
    expect(after.ok && after.keys?.[0].keys).toEqual(keys);
  });

  test("that asks for more frames than are judged is refused, and nothing is made of it", async () => {
    const { range: _, ...shot } = cleanDocument().shot;
    const page = await open(writeDocument({ ...cleanDocument(), shot }));
    const refused = await page.edit([{ kind: "move", ...post, frame: 96, toFrame: 90_000_000 }]);
    expect(refused).toMatchObject({ ok: false, reason: "bad-edit", revision: 0 });
  });

  test("that gives the shot another last frame brings the motion anew, and notes with its frames", async () => {
    const { range: _, ...shot } = poppingDocument().shot;
    const page = await open(writeDocument({ ...poppingDocument(), shot }));
    await page.notesAt(0);
    expect(await page.edit([{ kind: "move", ...post, frame: 96, toFrame: 120 }])).toMatchObject({ ok: true });
    const { motion, range, revision } = await page.next("motion");
    expect({ range, revision, count: motion.count }).toEqual({ range: [1, 120], revision: 1, count: 120 });
    const checks = (await page.notesAt(1)).map(({ check }) => check);
    expect(checks).toContain("pop");
  });
});

describe("a key beyond all measure", () => {
  test("is drawn as far off as can be drawn, and undo brings the motion back", async () => {
    const page = await open();
    await page.notesAt(0);
    const beyond = [{ kind: "set", node: "post", channel: "translation.x", frame: 5, value: 1e11 }] as const;
    expect(await page.edit(beyond)).toMatchObject({ ok: true, revision: 1 });
    await page.next("moved", ({ revision }) => revision === 1);
    await page.notesAt(1);
    await page.ask({ type: "undo" });
    await page.next("moved", ({ revision }) => revision === 2);
    const [first, again] = [await page.next("shot"), await (await laid.client()).next("shot")];
    expect(again.motion).toEqual(first.motion);
    expect(page.all("trouble")).toEqual([]);
  });
});

describe("two pages on one shot", () => {
  test("see each other's edits, in one order, and share one history", async () => {
    const one = await open();
    const other = await laid.client();
    const both = await Promise.all([
      one.edit([{ kind: "set", ...post, frame: 10, value: 1 }]),
      other.edit([{ kind: "set", ...post, frame: 20, value: 2 }]),
    ]);
    expect(both.map(({ ok }) => ok)).toEqual([true, true]);
    for (const page of [one, other]) await page.next("changed", ({ revision }) => revision === 2);
    expect(other.all("changed")).toEqual(one.all("changed"));
    expect(
      one
        .all("changed")
        .map(({ by }) => by)
        .sort(),
    ).toEqual([1, 2]);
    // What one has done the other takes back.
    const by = one.all("changed")[1].by;
    expect(await (by === 1 ? other : one).ask({ type: "undo" })).toMatchObject({ ok: true, revision: 3 });
    expect((await one.next("changed", ({ how }) => how === "undo")).channels[0].keys).toHaveLength(1);
    expect(await other.notesAt(3)).toEqual(await one.notesAt(3));
  });

  test("the later edit of one key stands; one that names a key that is gone is refused", async () => {
    const one = await open();
    const other = await laid.client();
    await one.edit([{ kind: "set", ...post, frame: 10, value: 1 }]);
    await other.edit([{ kind: "set", ...post, frame: 10, value: 2 }]);
    await one.edit([{ kind: "remove", ...post, frame: 20 }]);
    expect(await other.edit([{ kind: "move", ...post, frame: 20, toFrame: 20.5 }])).toMatchObject({
      ok: false,
      reason: "bad-edit",
    });
    const answer = await other.ask({ type: "keys", of: [post] });
    const keys = (answer.ok && answer.keys?.[0].keys) || [];
    expect(keys.find(({ frame }) => frame === 10)?.value).toBe(2);
    expect(keys.some(({ frame }) => frame === 20)).toBe(false);
  });
});

describe("undo", () => {
  test("takes a drag back whole, brings back every byte, and can be done again", async () => {
    // A text that nobody's writer would write: numbers, blanks and line ends of its own.
    const odd = text.replace("[48, ", "[ 48.000,\t").replaceAll("\n", "\r\n");
    const page = await open(odd);
    for (let n = 1; n <= 20; n++) {
      const edits = [{ kind: "set", ...post, frame: popAt, value: onPath + 25 - n }] as const;
      expect(await page.edit(edits, { group: "drag" })).toMatchObject({ ok: true, revision: n });
    }
    await page.edit([{ kind: "remove", ...post, frame: 60 }], { group: "delete" });
    const edited = laid.desk.version.text;
    expect(await page.ask({ type: "undo" })).toMatchObject({ ok: true, revision: 22 });
    expect(await page.ask({ type: "undo" })).toMatchObject({ ok: true, revision: 23 });
    expect(laid.desk.version.text).toBe(odd);
    const { history, disk } = await page.next("changed", ({ revision }) => revision === 23);
    expect(history).toEqual({ undo: null, redo: "move key" });
    expect(disk.isUnsaved).toBe(false);
    expect(await page.ask({ type: "undo" })).toMatchObject({ ok: false, reason: "nothing-to-undo" });
    await page.ask({ type: "redo" });
    await page.ask({ type: "redo" });
    expect(laid.desk.version.text).toBe(edited);
    expect(await page.ask({ type: "redo" })).toMatchObject({ ok: false, reason: "nothing-to-undo" });
  });

  test("leaves the notes of the text that it brings back", async () => {
    const page = await open();
    const before = await page.notesAt(0);
    await page.edit([{ kind: "set", ...post, frame: popAt, value: onPath }]);
    await page.notesAt(1);
    await page.ask({ type: "undo" });
    expect(await page.notesAt(2)).toEqual(before);
  });
});

describe("a drag", () => {
  test("ends with the notes of a fresh check, however its edits were folded on their way", async () => {
    const smooth = eased(6, 30, 0, 1);
    const page = await open(
      writeDocument(pointDocument({ "translation.x": everyFrame(1, 40, smooth) }, { range: [1, 40] })),
    );
    const point = { node: "point", channel: "translation.x" } as const;
    const answers = [];
    for (let n = 1; n <= 60; n++) {
      answers.push(
        page.edit([{ kind: "set", ...point, frame: 18, value: smooth(18) + n / 20 }], { group: "a" }),
      );
    }
    await Promise.all(answers);
    const dragged = await page.notesAt(60);
    expect(dragged.map(({ check }) => check)).toContain("pop");
    const edits = [{ kind: "set", ...point, frame: 18, value: smooth(18) + 3 }] as const;
    const { text: start, shot } = laid.laid.version;
    expect(laid.desk.version.text).toBe(applyKeyEdits(start, shot, edits));
    const fresh = await LaidDesk.open({ "a.curves.json": laid.desk.version.text });
    try {
      expect(await (await fresh.client()).notesAt(0)).toEqual(dragged);
    } finally {
      await fresh.close();
    }
    expect(readShot(laid.desk.version.text).problems).toEqual([]);
  });
});
