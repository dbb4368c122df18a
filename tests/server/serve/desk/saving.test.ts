import { chmod, link, readdir, readFile, stat, symlink, writeFile } from "node:fs/promises";
import { afterEach, describe, expect, test } from "vitest";
import { applyKeyEdits } from "../../../../packages/core/document/edit-text.ts";
import { readShot } from "../../../../packages/core/document/read.ts";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { bvh, poppingDocument } from "../../cli/shots-for-tests.ts";
import { LaidDesk } from "./desk-for-tests.ts";

const post = { node: "post", channel: "rotation.z" } as const;
/** As no writer of ours writes it: tabs, line ends, numbers and a property that nobody knows. */
const text = writeDocument(poppingDocument())
  .replace("[10, ", "[ 10.0,\t")
  .replace('"frameRate": 24', '"frameRate":24, "mood": "calm"')
  .replaceAll("\n", "\r\n");
const name = "pier.curves.json";
const edits = [{ kind: "set", ...post, frame: 48, value: 4 }] as const;
const saved = applyKeyEdits(text, readShot(text).shot as never, edits);

let laid: LaidDesk;
afterEach(() => laid.close());
const open = async (files: Record<string, string> = { [name]: text }) => {
  laid = await LaidDesk.open(files);
  return laid.client();
};

describe("saving", () => {
  test("writes the edited keys, and every other byte stays", async () => {
    const page = await open();
    await page.edit(edits);
    expect(await laid.read(name)).toBe(text);
    expect(await page.ask({ type: "save" })).toMatchObject({ ok: true });
    expect(await laid.read(name)).toBe(saved);
    expect(saved).not.toBe(text);
    expect(saved.length - text.length).toBeLessThan(20);
    const { event, disk } = await page.next("disk");
    expect({ event, disk }).toEqual({ event: "saved", disk: { isUnsaved: false, hasChanged: false } });
  });

  test("keeps the file's mode and the links that lead to it", async () => {
    const page = await open();
    await chmod(laid.path(name), 0o640);
    await link(laid.path(name), laid.path("second.curves.json"));
    await symlink(laid.path(name), laid.path("soft.curves.json"));
    await page.edit(edits);
    await page.ask({ type: "save" });
    expect((await stat(laid.path(name))).mode & 0o777).toBe(0o640);
    expect(await laid.read("second.curves.json")).toBe(saved);
    expect(await laid.read("soft.curves.json")).toBe(saved);
  });

  test("that the disk refuses is told in a sentence, and nothing is lost", async () => {
    const page = await open();
    await page.edit(edits);
    const { write } = laid.desk.saving.document;
    laid.desk.saving.document.write = async () => {
      const { UnreadableError } = await import("../../../../packages/server/base/errors.ts");
      throw new UnreadableError(name, "The disk is full.");
    };
    expect(await page.ask({ type: "save" })).toMatchObject({
      ok: false,
      reason: "not-saved",
      message: `${name}: The disk is full.`,
    });
    laid.desk.saving.document.write = write;
    expect(await page.ask({ type: "save" })).toMatchObject({ ok: true });
    expect(await laid.read(name)).toBe(saved);
  });
});

describe("a file that has changed on disk", () => {
  const other = text.replace("pier_0010", "pier_0011");

  test("is noticed before it is written to, and only written over where that is asked for", async () => {
    const page = await open();
    await page.edit(edits);
    await writeFile(laid.path(name), other);
    expect(await page.ask({ type: "save" })).toMatchObject({ ok: false, reason: "changed-on-disk" });
    expect(await laid.read(name)).toBe(other);
    expect(await page.next("disk", ({ event }) => event === "changed")).toMatchObject({
      message: `${name} has changed on disk.`,
      disk: { isUnsaved: true, hasChanged: true },
    });
    expect(await page.ask({ type: "save", over: true })).toMatchObject({ ok: true });
    expect(await laid.read(name)).toBe(saved);
  });

  test("is noticed while nobody saves", async () => {
    const page = await open();
    await writeFile(laid.path(name), other);
    const { message } = await page.next("disk", ({ event }) => event === "changed");
    expect(message).toBe(`${name} has changed on disk.`);
  });

  test("is kept out by those who say so; the next saving writes over it", async () => {
    const page = await open();
    await page.edit(edits);
    await writeFile(laid.path(name), other);
    expect(await page.ask({ type: "keep" })).toMatchObject({ ok: true });
    expect((await page.next("disk", ({ event }) => event === "kept")).disk.hasChanged).toBe(false);
    expect(await page.ask({ type: "save" })).toMatchObject({ ok: true });
    expect(await laid.read(name)).toBe(saved);
  });

  test("takes the place of the shot where that is asked for, on every page; undo brings the edits back", async () => {
    const page = await open();
    const second = await laid.client();
    await page.edit(edits);
    await writeFile(laid.path(name), other.replace('"rim"', '"brim"'));
    expect(await page.ask({ type: "reload" })).toMatchObject({ ok: true, revision: 2 });
    for (const one of [page, second]) {
      const { shot, disk } = await one.next("shot", ({ revision }) => revision === 2);
      expect(shot.nodes.map(({ id }) => id)).toContain("brim");
      expect(disk).toEqual({ isUnsaved: false, hasChanged: false });
    }
    await second.notesAt(2);
    // What was edited on the document of before cannot be meant for this one.
    expect(await second.edit(edits, { base: 1 })).toMatchObject({ ok: false, reason: "changed" });
    await page.ask({ type: "undo" });
    expect(laid.desk.version.text).toBe(saved);
    expect((await page.next("shot", ({ revision }) => revision === 3)).disk.isUnsaved).toBe(true);
  });

  test("that cannot be read leaves the desk as it is, and says why", async () => {
    const page = await open();
    await page.edit(edits);
    await writeFile(laid.path(name), "{");
    expect(await page.ask({ type: "reload" })).toMatchObject({ ok: false, revision: 1 });
    expect(laid.desk.version.text).toBe(saved);
  });
});

describe("a file of another kind", () => {
  const rows = Array.from({ length: 30 }, (_, n) => `0 90 ${n} 0 ${n} 0 0 ${n === 12 ? 30 : 0} 0`);
  const capture = bvh(rows);

  test("is a copy, saved as a curve document beside it; the file itself stays", async () => {
    const page = await open({ "walk.bvh": capture });
    const { shot } = await page.next("shot");
    expect(shot).toMatchObject({ isCopy: true, file: "walk.bvh", savedTo: "walk.curves.json", kind: "BVH" });
    await page.edit([{ kind: "set", node: "hips", channel: "translation.y", frame: 3, value: 91 }]);
    expect(await page.ask({ type: "save" })).toMatchObject({ ok: true });
    expect(await laid.read("walk.bvh")).toBe(capture);
    expect(await laid.read("walk.curves.json")).toBe(laid.desk.version.text);
    expect(readShot(await laid.read("walk.curves.json")).problems).toEqual([]);
  });

  test("does not write over a document that stands there, unless that is asked for", async () => {
    const page = await open({ "walk.bvh": capture, "walk.curves.json": text });
    expect((await page.next("shot")).disk.hasChanged).toBe(true);
    const refused = await page.ask({ type: "save" });
    expect(refused).toMatchObject({ ok: false, reason: "changed-on-disk" });
    expect(!refused.ok && refused.message).toContain("walk.curves.json is there already");
    expect(await laid.read("walk.curves.json")).toBe(text);
    expect(await page.ask({ type: "save", over: true })).toMatchObject({ ok: true });
    expect(await laid.read("walk.curves.json")).toBe(laid.desk.version.text);
  });
});

describe("edits that are not saved", () => {
  const unsaved = "pier.unsaved.json";

  test("are kept beside the shot when the desk ends, offered by the next one, and taken over as one step", async () => {
    const page = await open();
    await page.edit(edits);
    expect(await laid.stop()).toBe(unsaved);
    expect(await laid.read(name)).toBe(text);
    laid = await LaidDesk.open({}, name, laid.folder);
    const next = await laid.client();
    const { recoveries, revision } = await next.next("shot");
    expect(recoveries).toEqual([{ id: unsaved, when: expect.any(String), message: expect.any(String) }]);
    expect(recoveries[0].message).toBe(`${unsaved} holds edits that were not saved.`);
    expect({ revision, text: laid.desk.version.text }).toEqual({ revision: 0, text });
    expect(await next.ask({ type: "recover", id: unsaved })).toMatchObject({ ok: true, revision: 1 });
    expect(laid.desk.version.text).toBe(saved);
    expect((await next.next("shot", (shot) => shot.revision === 1)).recoveries).toEqual([]);
    await next.ask({ type: "save" });
    expect(await laid.read(name)).toBe(saved);
    expect(await readdir(laid.folder)).toEqual([name]);
    await next.ask({ type: "undo" });
    expect(laid.desk.version.text).toBe(text);
  });

  test("say so where the file has changed since, and can be thrown away", async () => {
    const page = await open();
    await page.edit(edits);
    await laid.stop();
    await writeFile(laid.path(name), text.replace("pier_0010", "pier_0011"));
    laid = await LaidDesk.open({}, name, laid.folder);
    const next = await laid.client();
    expect((await next.next("shot")).recoveries[0].message).toContain("The file has changed since");
    expect(await next.ask({ type: "discard", id: unsaved })).toMatchObject({ ok: true });
    expect((await next.next("recoveries")).recoveries).toEqual([]);
    expect(await readdir(laid.folder)).toEqual([name]);
    expect(await next.ask({ type: "recover", id: unsaved })).toMatchObject({ ok: false });
  });

  test("of an earlier desk are never written over by those of the next", async () => {
    const page = await open();
    await page.edit(edits);
    await laid.stop();
    const first = await readFile(laid.path(unsaved), "utf8");
    laid = await LaidDesk.open({}, name, laid.folder);
    const next = await laid.client();
    await next.edit([{ kind: "set", ...post, frame: 50, value: 4 }]);
    expect(await laid.stop()).toBe("pier.unsaved-2.json");
    expect(await laid.read(unsaved)).toBe(first);
    laid = await LaidDesk.open({}, name, laid.folder);
    expect((await (await laid.client()).next("shot")).recoveries).toHaveLength(2);
  });

  test("leave nothing behind where there are none", async () => {
    const page = await open();
    await page.edit(edits);
    await page.ask({ type: "undo" });
    expect(await laid.stop()).toBe(null);
    expect(await readdir(laid.folder)).toEqual([name]);
  });
});
