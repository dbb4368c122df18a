import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { addRemark, emptyReview, printReview, readReview } from "@keyside/core";
import type { AxeResults } from "axe-core";
import type { Browser } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { DeskPage, launch, RunningDesk } from "../support/desk-page.ts";
import { eventually } from "../support/eventually.ts";

/** What people say of a shot, on the desk's page in a real browser, against the command itself. */

const shot = fileURLToPath(new URL("../../demo/shots/quay_0070_v1.curves.json", import.meta.url));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
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
  await eventually(() => page.page.evaluate("document.querySelector('keyside-player').motion !== null")).toBe(
    true,
  );
  return page;
}

const file = () => `${desk.folder}/shot.review.json`;
const onDisk = () => readReview(existsSync(file()) ? readFileSync(file(), "utf8") : "").review;
const remarks = ({ page }: DeskPage) => page.locator("#note-list .remark");
const texts = ({ page }: DeskPage) => page.locator("#note-list .remark-text").allTextContents();

/** The picture of the player, in pixels of the window. */
async function picture({ page }: DeskPage) {
  const box = await page.locator("keyside-player canvas").boundingBox();
  if (box === null) throw new Error("There is no picture.");
  return box;
}

/** Adds a remark by keyboard alone. */
async function say({ page }: DeskPage, text: string): Promise<void> {
  await page.keyboard.press("t");
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
  await page.locator("#remark").waitFor({ state: "hidden" });
}

/** Draws a line over the picture with the pointer. */
async function draw(page: DeskPage): Promise<void> {
  const { x, y, width, height } = await picture(page);
  await page.page.mouse.move(x + 0.3 * width, y + 0.4 * height);
  await page.page.mouse.down();
  await page.page.mouse.move(x + 0.6 * width, y + 0.3 * height, { steps: 12 });
  await page.page.mouse.up();
}

describe("a remark", () => {
  test("one key writes it at this frame for the part under the pointer; it is kept beside the shot at once", async () => {
    const page = await open();
    await page.choose(pop);
    const { x, y, width, height } = await picture(page);
    // Somewhere over the picture a part is under the pointer.
    const part = page.page.locator("#remark-part");
    await eventually(async () => {
      for (let at = 0.2; at < 0.9; at += 0.05) {
        await page.page.mouse.move(x + 0.5 * width, y + at * height);
        await page.page.keyboard.press("t");
        const value = await part.inputValue();
        await page.page.keyboard.press("Escape");
        if (value !== "" && value !== "hand_r") return true;
      }
      return false;
    }).toBe(true);
    await page.page.keyboard.press("t");
    const node = await part.inputValue();
    expect(await page.page.evaluate("document.activeElement.id")).toBe("remark-text");
    await page.page.keyboard.type("Let the arm trail the shoulder.");
    await page.page.locator("#remark input[value=must]").check();
    await page.page.locator("#remark-text").press("Enter");
    await eventually(() => texts(page)).toEqual(["Let the arm trail the shoulder."]);
    await eventually(() => onDisk().remarks).toMatchObject([
      { text: "Let the arm trail the shoulder.", weight: "must", node, frames: [33, 33] },
    ]);
    expect(await page.states()).toBe("Saved");
    expect(page.complaints).toEqual([]);
  });

  test("Esc writes nothing", async () => {
    const page = await open();
    await page.page.keyboard.press("t");
    await page.page.keyboard.type("Nothing of it");
    await page.page.keyboard.press("Escape");
    await page.page.locator("#remark").waitFor({ state: "hidden" });
    expect(await remarks(page).count()).toBe(0);
    expect(existsSync(file())).toBe(false);
  });

  test("by keyboard alone it is weighed, reworded, marked as done, put in order, undone", async () => {
    const page = await open();
    const { keyboard } = page.page;
    await say(page, "First");
    await say(page, "Second");
    await keyboard.press("1");
    await eventually(() => onDisk().remarks.find(({ text }) => text === "Second")?.weight).toBe("must");
    await keyboard.press("q");
    await keyboard.type("Second, slower");
    await keyboard.press("Enter");
    await eventually(() => texts(page)).toEqual(["First", "Second, slower"]);
    await keyboard.press(",");
    await eventually(() => texts(page)).toEqual(["Second, slower", "First"]);
    await keyboard.press("x");
    await eventually(() => remarks(page).first().locator(".where").textContent()).toMatch(/done$/);
    await eventually(() => onDisk().marks).toMatchObject([{ state: "done" }]);
    await keyboard.press("u");
    await eventually(() => onDisk().marks).toEqual([]);
    await keyboard.press("Shift+J");
    await keyboard.press("j");
    await eventually(() =>
      page.page.evaluate("document.activeElement.closest('.remark')?.textContent"),
    ).toMatch(/First/);
    for (let n = 0; n < 5; n++) await keyboard.press("u");
    await eventually(() => remarks(page).count()).toBe(0);
    await eventually(() => onDisk().remarks).toEqual([]);
    await keyboard.press("r");
    await eventually(() => texts(page)).toEqual(["First"]);
  });
});

describe("a computed note", () => {
  test("is kept, raised, reworded and dropped with a reason, which can be taken back", async () => {
    const page = await open();
    await page.choose(pop);
    await page.page.keyboard.press("y");
    await eventually(() => page.note(pop).locator(".where").textContent()).toMatch(/kept$/);
    await page.page.keyboard.press("1");
    await eventually(() => page.note(pop).locator(".where").textContent()).toMatch(/must/);
    await page.page.keyboard.press("q");
    await page.note(pop).getByLabel("In the reviewer's words").fill("The hand jumps.");
    await page.page.keyboard.press("Enter");
    await eventually(() => page.note(pop).locator(".message").textContent()).toBe("The hand jumps.");
    await eventually(() => onDisk().decisions).toMatchObject([
      { check: "pop", verdict: "kept", weight: "must", text: "The hand jumps." },
    ]);
    await page.page.keyboard.press("w");
    await page.page.keyboard.type("A spark stings the hand.");
    await page.page.keyboard.press("Enter");
    await eventually(() => page.note(pop).count()).toBe(0);
    await eventually(() => onDisk().decisions).toMatchObject([
      { verdict: "dropped", reason: "A spark stings the hand." },
    ]);
    await page.page.getByText("1 waived").click();
    await page.page.getByRole("button", { name: "Take it back" }).click();
    await eventually(() => page.note(pop).count()).toBe(1);
  });
});

describe("a line", () => {
  test("is drawn with the pointer, stays where it was when the view turns, and becomes a target path", async () => {
    const page = await open();
    await page.choose(pop);
    await say(page, "Along here");
    await page.page.keyboard.press("d");
    await draw(page);
    await eventually(() => onDisk().remarks[0]?.strokes?.length ?? 0).toBe(1);
    const [stroke] = onDisk().remarks[0].strokes ?? [];
    expect(stroke.points.length).toBeGreaterThan(4);
    const { origin, normal } = stroke.plane ?? { origin: [0, 0, 0], normal: [0, 0, 0] };
    for (const point of stroke.points) {
      const off = point.reduce((sum, value, axis) => sum + (value - origin[axis]) * normal[axis], 0);
      expect(Math.abs(off)).toBeLessThan(1e-3);
    }
    const { x, y, width, height } = await picture(page);
    await page.page.mouse.move(x + width / 2, y + height / 2);
    await page.page.mouse.down();
    await page.page.mouse.move(x + width / 2 + 80, y + height / 2, { steps: 5 });
    await page.page.mouse.up();
    expect(onDisk().remarks[0].strokes).toEqual([stroke]);
    await page.page.keyboard.press("z");
    await eventually(() => page.page.locator(".target").first().textContent()).toMatch(
      /^\d+\.\d cm off on average, at most \d+\.\d cm at frame \d+$/,
    );
    await eventually(() => onDisk().remarks[0].strokes?.[0].target?.node).toBe("hand_r");
  });

  test("its distance changes while a key is dragged, and a step tells before and after", async () => {
    const page = await open();
    await page.choose(pop);
    await say(page, "Along here");
    await page.page.keyboard.press("d");
    await draw(page);
    await eventually(() => onDisk().remarks[0]?.strokes?.length ?? 0).toBe(1);
    await page.page.keyboard.press("z");
    const target = page.page.locator(".target").first();
    await eventually(() => target.textContent()).toMatch(/cm off/);
    const before = await target.textContent();
    // The upper arm swings the hand.
    await page.page.getByLabel("Narrow by").fill("upper_arm_r rotation.z");
    await page.page.locator("#channels li:not([hidden]) input").first().check();
    await page.page.locator("#curves").focus();
    // The keys of a channel that was just laid out are asked for first.
    await eventually(async () => {
      await page.page.keyboard.press("ArrowDown");
      return page.page.locator("#under").textContent();
    }).toMatch(/^Key of upper_arm_r/);
    for (let n = 0; n < 4; n++) await page.page.keyboard.press("Shift+ArrowUp");
    await eventually(() => target.textContent()).not.toBe(before);
    await eventually(() => target.textContent()).toMatch(/; before: \d+\.\d cm, at most \d+\.\d cm$/);
  });

  test("is drawn by keyboard alone", async () => {
    const page = await open();
    const { keyboard } = page.page;
    await page.choose(pop);
    await keyboard.press("d");
    await keyboard.press("Space");
    for (let n = 0; n < 5; n++) await keyboard.press("ArrowRight");
    await keyboard.press("Space");
    for (let n = 0; n < 5; n++) await keyboard.press("ArrowUp");
    await keyboard.press("Space");
    await keyboard.press("Enter");
    await eventually(() => page.page.locator("#remark").textContent()).toMatch(/1 line is drawn/);
    await keyboard.type("Up and over");
    await keyboard.press("Enter");
    await eventually(() => onDisk().remarks[0]?.strokes?.[0]?.points.length ?? 0).toBe(3);
  });
});

describe("more than one", () => {
  test("two pages see each other's remarks, and share undo", async () => {
    const [one, two] = [await open(), await open()];
    await say(one, "Said on one page");
    await eventually(() => texts(two)).toEqual(["Said on one page"]);
    await two.page.getByRole("button", { name: "Undo" }).click();
    await eventually(() => texts(one)).toEqual([]);
  });

  test("the file is changed on disk by somebody else: what both said stands", async () => {
    const page = await open();
    await say(page, "Said here");
    await eventually(() => onDisk().remarks.length).toBe(1);
    const said = { text: "Said elsewhere", by: "Bo", date: "2031-04-02T09:30:00Z" };
    writeFileSync(file(), printReview(addRemark(onDisk(), said).review));
    await eventually(async () => (await texts(page)).sort()).toEqual(["Said elsewhere", "Said here"]);
    await say(page, "And more");
    await eventually(() => onDisk().remarks.length).toBe(3);
  });
});

describe("the version before", () => {
  test("its open remarks stand at their frames, to be marked as done", async () => {
    await desk.end();
    const said = {
      text: "Slow the head.",
      by: "Ada",
      date: "2031-04-02",
      frames: [77, 95] as [number, number],
    };
    const { review } = addRemark(emptyReview("quay_0070"), { ...said, node: "head" }, "earlier");
    desk = await RunningDesk.begin(shot, {
      files: { "first.curves.json": readFileSync(shot, "utf8"), "first.review.json": printReview(review) },
      argv: (folder) => ["--previous", `${folder}/first.curves.json`],
    });
    const page = await open();
    await eventually(() => texts(page)).toEqual(["Slow the head."]);
    expect(await remarks(page).first().locator(".where").textContent()).toMatch(/still open$/);
    await page.page.keyboard.press("j");
    await eventually(() => page.page.evaluate("document.querySelector('keyside-player').frame")).toBe(77);
    await page.page.keyboard.press("x");
    await eventually(() => remarks(page).first().locator(".where").textContent()).toMatch(/done$/);
    await eventually(() => onDisk().marks).toMatchObject([{ of: "earlier", state: "done" }]);
    expect(readFileSync(`${desk.folder}/first.review.json`, "utf8")).toBe(printReview(review));
  });
});

describe("for everybody", () => {
  test.each([
    ["wide", { viewport: { width: 1500, height: 950 } }],
    ["narrow", { viewport: { width: 420, height: 900 } }],
    ["dark", { viewport: { width: 1100, height: 900 }, colorScheme: "dark" as const }],
  ])("nothing bars the way to it, %s", async (_, options) => {
    const page = await open(options);
    await page.choose(pop);
    await say(page, "Let the arm trail the shoulder.");
    await page.page.keyboard.press("d");
    await draw(page);
    await page.page.locator(".lines li").first().waitFor();
    await page.page.keyboard.press("z");
    await page.page.locator(".target").first().waitFor();
    await page.page.keyboard.press("t");
    await page.page.evaluate(axe);
    const { violations } = await page.page.evaluate<AxeResults>("axe.run()");
    expect(
      violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join("; ")}`),
    ).toEqual([]);
    const overflow = await page.page.evaluate<number>(
      "document.documentElement.scrollWidth - document.documentElement.clientWidth",
    );
    expect(overflow).toBeLessThanOrEqual(0);
    expect(page.complaints).toEqual([]);
  });

  test("every key of the review stands in the list of keys", async () => {
    const { page } = await open();
    await page.keyboard.press("k");
    const listed = await page.locator("#letters th").allTextContents();
    for (const key of ["T", "D", "J", "Shift J", "X", "Z", "Y", "Q", "1 to 4", ",", "."])
      expect(listed).toContain(key);
  });
});
