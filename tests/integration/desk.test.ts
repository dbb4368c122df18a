import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { defaultSettings, notesOf, readShot, registry, studyOf } from "@keyside/core";
import type { AxeResults } from "axe-core";
import type { Browser } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { DeskPage, launch, RunningDesk } from "../support/desk-page.ts";
import { eventually } from "../support/eventually.ts";

/** The desk in a real browser, against the command itself. */

const shot = fileURLToPath(new URL("../../demo/shots/quay_0070_v1.curves.json", import.meta.url));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
/** A note of the demo shot: the right hand pops at frame 33, by its key there. */
const pop = "Pop, right hand";

let browser: Browser;
let desk: RunningDesk;
let pages: DeskPage[] = [];
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());
beforeEach(async () => {
  desk = await RunningDesk.begin(shot);
});
afterEach(async () => {
  for (const page of pages) await page.close();
  pages = [];
  await desk.end();
});

async function open(options: Parameters<typeof DeskPage.open>[2] = {}): Promise<DeskPage> {
  const page = await DeskPage.open(browser, desk.url, options);
  pages.push(page);
  return page;
}

/** What a fresh check of a text says, in no order. */
function freshly(text: string): string[] {
  const read = readShot(text).shot;
  if (read === null) throw new Error("The file is no shot.");
  return notesOf(studyOf(read, defaultSettings(registry)))
    .map(({ message }) => `${message[0].toUpperCase()}${message.slice(1)}.`)
    .sort();
}
async function save(page: DeskPage): Promise<void> {
  await page.page.getByRole("button", { name: "Save", exact: true }).click();
  await eventually(() => page.states()).toBe("Saved");
}

describe("keying", () => {
  test("opens with the notes of a fresh check, and without a complaint of the browser", async () => {
    const page = await open();
    expect(await page.page.locator("h1").textContent()).toBe("quay_0070");
    expect(await page.messages()).toEqual(freshly(desk.text));
    await eventually(() =>
      page.page.evaluate("document.querySelector('keyside-player').motion !== null"),
    ).toBe(true);
    expect(page.complaints).toEqual([]);
  });

  test("a key is dragged and its note goes; after a drag of many steps no note is stale", async () => {
    const page = await open();
    await page.choose(pop);
    const before = await page.revision();
    await page.drag(0, 284, 60);
    await page.judgedAfter(before);
    await eventually(() => page.note(pop).count()).toBe(0);
    await eventually(() => page.said()).toMatch(/^Gone: \d+ Pop, right hand\.$/);
    expect(await page.states()).toBe("Unsaved changes");
    await save(page);
    expect(desk.text).not.toBe(readFileSync(shot, "utf8"));
    await page.judged();
    expect(await page.messages()).toEqual(freshly(desk.text));
  });

  test("a drag is one step: undo brings every byte back, redo the edit", async () => {
    const page = await open();
    const bytes = desk.text;
    await page.choose(pop);
    const before = await page.revision();
    await page.drag(0, 200, 30);
    await page.judgedAfter(before);
    await save(page);
    const edited = desk.text;
    expect(edited).not.toBe(bytes);
    const undo = page.page.getByRole("button", { name: "Undo" });
    await undo.click();
    await eventually(() => undo.isDisabled()).toBe(true);
    await save(page);
    expect(desk.text).toBe(bytes);
    await page.judged();
    expect(await page.messages()).toEqual(freshly(bytes));
    await page.page.getByRole("button", { name: "Redo" }).click();
    await eventually(() => page.states()).toBe("Unsaved changes");
    await save(page);
    expect(desk.text).toBe(edited);
  });

  test("a drag that is let go of leaves the keys where they were", async () => {
    const page = await open();
    await page.choose(pop);
    const key = await page.page.locator("#under").textContent();
    const [x, y] = await page.findKey();
    await page.page.mouse.down();
    await page.page.mouse.move(x, y + 150, { steps: 10 });
    await eventually(() => page.page.locator("#under").textContent()).not.toBe(key);
    await page.page.keyboard.press("Escape");
    await eventually(() => page.page.locator("#under").textContent()).toBe(key);
    await page.page.mouse.up();
    // The page shows the key back at its place before the desk has heard of it.
    await eventually(() => page.messages()).toEqual(freshly(desk.text));
  });

  test("keys are added and taken out, run on otherwise, and their handles are pulled", async () => {
    const { page } = await open();
    const under = page.locator("#under");
    await page.locator("#note-list .note", { hasText: pop }).locator(".note-head").click();
    await page.getByLabel("Frame", { exact: true }).last().waitFor();
    await page.getByRole("button", { name: "+1 frame" }).click();
    await page.getByRole("button", { name: "+1 frame" }).click();
    await page.getByRole("button", { name: "+1 frame" }).click();
    await page.getByRole("button", { name: "Add a key here" }).click();
    await eventually(() => under.textContent()).toMatch(/at frame 36,/);
    await page.getByLabel("Runs on").selectOption("step");
    await eventually(() => page.locator(".handle[data-side=out]").isVisible()).toBe(false);
    await page.getByLabel("Runs on").selectOption("bezier");
    const rise = page.getByLabel("Handle behind: value");
    await eventually(() => rise.isVisible()).toBe(true);
    await rise.fill("2.5");
    await rise.press("Enter");
    await eventually(() => page.locator("#undo").getAttribute("title")).toBe("Undo: pull a handle");
    const value = page.locator("#key-value");
    await value.fill("-3.25");
    await value.press("Enter");
    await eventually(() => under.textContent()).toMatch(/at frame 36, −3\.25 °/);
    await page.getByRole("button", { name: "Take out" }).click();
    await eventually(() => under.textContent()).toMatch(/at frame 35,/);
  });

  test("a fix is looked for, seen before and after, and made", async () => {
    const page = await open();
    await page.choose(pop);
    await page.note(pop).getByRole("button", { name: "Look for a fix" }).click();
    const apply = page.page.getByRole("button", { name: "Make this change" });
    await apply.waitFor();
    const player = "document.querySelector('keyside-player')";
    await eventually(() => page.page.evaluate(`${player}.showing`)).toBe("over");
    await page.page.locator("#notes input[value=before]").check();
    expect(await page.page.evaluate(`${player}.showing`)).toBe("before");
    await page.page.locator("#notes input[value=beside]").check();
    expect(await page.page.evaluate(`${player}.showing`)).toBe("beside");
    const before = await page.revision();
    await apply.click();
    await page.judgedAfter(before);
    await eventually(() => page.note(pop).count()).toBe(0);
    await save(page);
    expect(await page.messages()).toEqual(freshly(desk.text));
  });

  test("a note is waived with a reason, which is kept beside the shot", async () => {
    const page = await open();
    await page.choose(pop);
    await page.note(pop).getByRole("button", { name: "It is meant" }).click();
    await page.note(pop).getByLabel("It is meant, because").fill("A spark stings the hand.");
    await page.note(pop).getByRole("button", { name: "Waive", exact: true }).click();
    await eventually(() => page.note(pop).count()).toBe(0);
    await page.page.getByText("1 waived").click();
    expect(await page.page.locator("#waived").textContent()).toContain("A spark stings the hand.");
    await save(page);
    const beside = readdirSync(desk.folder).map((name) => readFileSync(`${desk.folder}/${name}`, "utf8"));
    expect(beside.some((text) => text.includes("A spark stings the hand."))).toBe(true);
  });
});

describe("the desk and the world", () => {
  test("two pages see each other's edits, and share undo", async () => {
    const [one, two] = [await open(), await open()];
    await one.choose(pop);
    const before = await two.revision();
    await one.drag(0, 284, 30);
    await two.judgedAfter(before);
    await eventually(() => two.note(pop).count()).toBe(0);
    await eventually(async () => (await two.messages()).join() === (await one.messages()).join()).toBe(true);
    expect(await two.states()).toBe("Unsaved changes");
    await two.page.getByRole("button", { name: "Undo" }).click();
    await eventually(() => one.said()).toMatch(/^New: \d+ Pop, right hand\.$/);
    await eventually(() => one.note(pop).count()).toBe(1);
    await eventually(() => two.note(pop).count()).toBe(1);
  });

  test("the feed is killed: the page says so, keys can be edited, and the notes are right when it is back", async () => {
    const page = await open();
    await page.choose(pop);
    const [feed] = desk.children;
    process.kill(feed, "SIGKILL");
    await eventually(() => page.states()).toMatch(/^Saved; ./);
    const before = await page.revision();
    await page.drag(0, 284, 12);
    await page.judgedAfter(before);
    await eventually(() => page.states()).toBe("Unsaved changes");
    await save(page);
    await page.judged();
    expect(await page.messages()).toEqual(freshly(desk.text));
  });

  test("the file changes on disk: nothing is saved over it until somebody decides", async () => {
    const page = await open();
    await page.choose(pop);
    const before = await page.revision();
    await page.drag(0, 100, 8);
    await page.judgedAfter(before);
    const theirs = `${desk.text}\n`;
    writeFileSync(desk.file, theirs);
    const decision = page.page.locator("#disk-decision");
    await decision.waitFor();
    await page.page.getByRole("button", { name: "Save", exact: true }).click();
    await eventually(() => page.said()).toMatch(/disk/);
    expect(desk.text).toBe(theirs);
    await page.page.getByRole("button", { name: "Take it as it is on disk" }).click();
    await eventually(() => decision.count()).toBe(0);
    await eventually(() => page.states()).toBe("Saved");
    await page.judged();
    await eventually(() => page.messages()).toEqual(freshly(theirs));
    // What was not saved is one step that can be undone.
    await page.page.getByRole("button", { name: "Undo" }).click();
    await eventually(() => page.states()).toMatch(/^Unsaved changes/);
  });

  test("asks nothing beyond this machine's own desk", async () => {
    const page = await open();
    await page.choose(pop);
    await page.page.keyboard.press("m");
    const { host } = new URL(desk.url);
    expect(page.asked.length).toBeGreaterThan(3);
    expect(
      page.asked.filter((address) => !address.startsWith("data:") && new URL(address).host !== host),
    ).toEqual([]);
  });

  test("the desk ends: the page says that it has", async () => {
    const page = await open();
    desk.process.kill("SIGINT");
    await eventually(() => page.states()).toMatch(/The desk has ended, or its connection is lost/);
  });
});

describe("by keyboard, for every eye and on every screen", () => {
  test("by keyboard alone: to a note, to its key, until it goes; undone, done again, saved", async () => {
    const page = await open();
    const { keyboard } = page.page;
    const chosen = () => page.page.locator(".note.chosen .note-title").textContent();
    // Down the list, in the order in which the notes stand.
    await keyboard.press("n");
    for (let i = 0; i < 20 && (await chosen()) !== pop; i++) await keyboard.press("n");
    expect(await chosen()).toBe(pop);
    // The note that is chosen has the focus, and shows it.
    expect(
      await page.page.evaluate("document.activeElement.matches('.note.chosen .note-head:focus-visible')"),
    ).toBe(true);
    await keyboard.press("c");
    expect(await page.page.evaluate("document.activeElement.id")).toBe("curves");
    await eventually(() => page.page.locator("#under").textContent()).toMatch(/at frame 33,/);
    await keyboard.press("ArrowRight");
    await eventually(() => page.page.locator("#under").textContent()).toMatch(/at frame 34,/);
    await keyboard.press("ArrowLeft");
    for (let i = 0; i < 240; i++) {
      await keyboard.press("Shift+ArrowDown");
      if (i % 20 === 19 && (await page.note(pop).count()) === 0) break;
    }
    await page.judged();
    await eventually(() => page.note(pop).count()).toBe(0);
    await keyboard.press("s");
    await eventually(() => page.states()).toBe("Saved");
    await page.judged();
    expect(await page.messages()).toEqual(freshly(desk.text));
    await keyboard.press("u");
    await eventually(() => page.states()).toBe("Unsaved changes");
    await keyboard.press("r");
    await eventually(() => page.states()).toBe("Saved");
  });

  test("the list of keys opens and closes by a letter, and letters are letters in a field", async () => {
    const { page } = await open();
    await page.keyboard.press("k");
    expect(await page.getByRole("dialog").isVisible()).toBe(true);
    await page.keyboard.press("Escape");
    expect(await page.getByRole("dialog").isVisible()).toBe(false);
    await page.keyboard.press("l");
    await page.keyboard.type("hand_r");
    expect(await page.locator("#channel-filter").inputValue()).toBe("hand_r");
    expect(await page.locator(".channel-list li:visible").count()).toBeGreaterThan(0);
    expect(await page.locator(".note.chosen").count()).toBe(0);
  });

  test.each([
    ["light", 1500],
    ["dark", 1100],
    ["light", 400],
    ["dark", 400],
  ] as const)(
    "%s, %i pixels wide: nothing serious for axe-core, nothing beyond the edge",
    async (colorScheme, width) => {
      const page = await open({ colorScheme, viewport: { width, height: 900 } });
      await page.choose(pop);
      await page.page.evaluate(axe);
      const { violations } = await page.page.evaluate<AxeResults>("axe.run()");
      const serious = violations.filter(({ impact }) => impact === "serious" || impact === "critical");
      expect(serious.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)])).toEqual([]);
      expect(await page.page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
      await page.page.getByRole("button", { name: "Keys", exact: true }).click();
      expect(await page.page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
    },
  );

  test("light and dark are drawn in other colours, without a reload", async () => {
    const page = await open({ colorScheme: "light" });
    const picture = () => page.page.evaluate<string>("document.querySelector('#strip canvas').toDataURL()");
    const light = await picture();
    await page.page.emulateMedia({ colorScheme: "dark" });
    await eventually(picture).not.toBe(light);
  });
});
