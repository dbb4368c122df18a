import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { AxeResults } from "axe-core";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { examples } from "../../packages/core/faults/examples.ts";
import type { Motion } from "../../packages/player/motion.ts";
import { makeSheet } from "../../packages/server/present/sheet/make.ts";
import { sheetPage } from "../../packages/server/present/sheet/page.ts";
import { playerScript } from "../../packages/server/present/sheet/player-script.ts";
import type { Sheet } from "../../packages/server/present/sheet/sheet.ts";
import { judged } from "../server/present/sheet/shots.ts";
import { eventually, untilTrue } from "../support/eventually.ts";

/** The player in a real browser: Debian's Chromium. */

const folder = mkdtempSync(join(tmpdir(), "keyside-player-"));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
let browser: Browser;
let sheet: string;
let made: Sheet;
let motion: Motion;
/** A note that has a fix, and one that has none. */
let fixed: Motion["notes"][number];

beforeAll(async () => {
  browser = await chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
  });
  const demo = readFileSync(new URL("../../demo/shots/jetty_0040_v1.curves.json", import.meta.url), "utf8");
  const options = { previous: null, fixes: true, lightest: "polish" } as const;
  made = makeSheet(await judged(demo), options);
  const html = sheetPage(made);
  sheet = write("sheet.html", html);
  motion = JSON.parse(
    /<script type="application\/json" id="motion">(.*?)<\/script>/s.exec(html)?.[1] ?? "null",
  );
  fixed = motion.notes.find(({ fix }) => fix !== null) as typeof fixed;
});
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true });
});

function write(name: string, html: string): string {
  writeFileSync(join(folder, name), html);
  return pathToFileURL(join(folder, name)).href;
}

/** A page of somebody else's, with the player on it. */
const ownPage = (body: string) =>
  `<!doctype html><html lang="en"><meta charset="utf-8"><title>A page</title><main>${body}</main><script>${playerScript()}</script></html>`;

async function open(
  url: string,
  use: (page: Page, complaints: readonly string[]) => Promise<void>,
  options: BrowserContextOptions = {},
): Promise<void> {
  const context = await browser.newContext(options);
  try {
    const page = await context.newPage();
    const complaints: string[] = [];
    page.on("console", (message) => {
      if (["error", "warning"].includes(message.type())) complaints.push(message.text());
    });
    page.on("pageerror", (error) => complaints.push(error.message));
    await page.goto(url);
    await use(page, complaints);
  } finally {
    await context.close();
  }
}

const player = "document.querySelector('keyside-player')";
const ready = (page: Page) => untilTrue(page, `${player}.motion !== null`);
const frame = (page: Page) => page.evaluate<number>(`${player}.frame`);
/** What the canvas shows, as a text that differs where the picture does. */
const picture = (page: Page) =>
  page.evaluate<string>(`${player}.shadowRoot.querySelector("canvas").toDataURL()`);

describe("the player on a sheet", () => {
  test("draws the shot, and another picture at another frame, without a complaint", async () => {
    await open(sheet, async (page, complaints) => {
      await ready(page);
      expect(await frame(page)).toBe(motion.firstFrame);
      const first = await picture(page);
      await page.getByRole("button", { name: "+1 frame" }).click();
      expect(await frame(page)).toBe(motion.firstFrame + 1);
      expect(await picture(page)).not.toBe(first);
      await page.getByRole("button", { name: "−1 frame" }).click();
      expect(await picture(page)).toBe(first);
      await page.getByRole("button", { name: "−1 frame" }).click();
      expect(await frame(page)).toBe(motion.firstFrame);
      expect(complaints).toEqual([]);
    });
  });

  test("plays at the shot's rate, slower where it is asked to, and stops", async () => {
    await open(sheet, async (page) => {
      await ready(page);
      // Time stands still but where the test lets it run: nothing here depends on the machine.
      await page.clock.install();
      await page.clock.pauseAt(Date.now() + 1000);
      await page.evaluate(`${player}.play()`);
      expect(await page.getByRole("button", { name: "Pause" }).getAttribute("aria-pressed")).toBe("true");
      await page.clock.runFor(1000);
      const passed = (await frame(page)) - motion.firstFrame;
      expect(Math.abs(passed - motion.rate)).toBeLessThanOrEqual(1);
      await page.evaluate(
        `${player}.pause(); ${player}.frame = ${motion.firstFrame}; ${player}.speed = 0.5; ${player}.play()`,
      );
      await page.clock.runFor(1000);
      expect(Math.abs((await frame(page)) - motion.firstFrame - motion.rate / 2)).toBeLessThanOrEqual(1);
      await page.evaluate(`${player}.pause()`);
      const stopped = await frame(page);
      await page.clock.runFor(500);
      expect(await frame(page)).toBe(stopped);
    });
  });

  test("a note's button plays around its frames, again and again", async () => {
    await open(sheet, async (page) => {
      await ready(page);
      await page.clock.install();
      await page.clock.pauseAt(Date.now() + 1000);
      await page.locator(`#note-${fixed.number} .play`).click();
      expect(await page.locator("#said").textContent()).toBe(`Note ${fixed.number} plays.`);
      const margin = Math.round(0.6 * motion.rate);
      for (let round = 0; round < 12; round++) {
        await page.clock.runFor(370);
        const sample = (await frame(page)) - motion.firstFrame;
        expect(sample).toBeGreaterThanOrEqual(fixed.from - margin);
        expect(sample).toBeLessThanOrEqual(fixed.to + margin);
      }
      expect(await page.evaluate(`${player}.note`)).toBe(fixed.number);
    });
  });

  test("frames lead to the notes that speak of them", async () => {
    await open(sheet, async (page) => {
      await ready(page);
      await page.evaluate(`${player}.frame = ${motion.firstFrame + fixed.from}`);
      await page
        .locator("keyside-player #here button", { hasText: `${fixed.number} ${fixed.title}` })
        .click();
      expect(await page.evaluate(`${player}.note`)).toBe(fixed.number);
      expect(await page.locator("keyside-player #here").textContent()).toContain(fixed.message);
    });
  });

  test("the motion with the fix is another one, over the first or beside it", async () => {
    await open(sheet, async (page) => {
      await ready(page);
      await page.locator("keyside-player #note").selectOption(String(fixed.number));
      const choice = page.locator("keyside-player #showing");
      await choice.waitFor();
      const pictures = new Set<string>();
      for (const showing of ["before", "after", "over", "beside"]) {
        await choice.selectOption(showing);
        expect(await page.evaluate(`${player}.showing`)).toBe(showing);
        pictures.add(await picture(page));
      }
      expect(pictures.size).toBe(4);
      await page.locator("keyside-player #note").selectOption("");
      expect(await choice.isVisible()).toBe(false);
      expect(await page.evaluate(`${player}.showing`)).toBe("before");
    });
  });

  test("squints through the camera where there is one: other pictures before the fix, after it and beside it", async () => {
    const version = await judged(examples["merged-silhouette"].faulty[0].motion());
    const html = sheetPage(makeSheet(version, { previous: null, fixes: true, lightest: "polish" }));
    await open(write("squint.html", html), async (page, complaints) => {
      await ready(page);
      const note = await page.evaluate<number>(
        `${player}.motion.notes.find(({ title }) => title === "Merged silhouette").number`,
      );
      await page.locator("keyside-player #note").selectOption(String(note));
      const pictures = new Set([await picture(page)]);
      await page.locator("keyside-player #from").selectOption("squint");
      expect(await page.evaluate(`${player}.from`)).toBe("squint");
      for (const showing of ["before", "after", "beside"]) {
        await page.locator("keyside-player #showing").selectOption(showing);
        pictures.add(await picture(page));
      }
      expect(pictures.size).toBe(4);
      expect(complaints).toEqual([]);
    });
    await open(sheet, async (page) => {
      await ready(page);
      expect(await page.locator("keyside-player #from option[value=squint]").count()).toBe(0);
    });
  });

  test("works by keyboard alone", async () => {
    await open(sheet, async (page) => {
      await ready(page);
      await page.locator("keyside-player canvas").focus();
      for (const [key, at] of [
        ["ArrowRight", 1],
        ["ArrowRight", 2],
        ["ArrowLeft", 1],
        ["End", motion.count - 1],
        ["Home", 0],
      ] as const) {
        await page.keyboard.press(key);
        expect(await frame(page)).toBe(motion.firstFrame + at);
      }
      await page.keyboard.press("Space");
      expect(await page.evaluate(`${player}.playing`)).toBe(true);
      await page.keyboard.press("Space");
      expect(await page.evaluate(`${player}.playing`)).toBe(false);
    });
  });

  test("is turned by dragging, and goes back to its side", async () => {
    await open(sheet, async (page) => {
      await ready(page);
      const first = await picture(page);
      const box = await page.locator("keyside-player canvas").boundingBox();
      if (box === null) throw new Error("no canvas");
      await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
      await page.mouse.down();
      await page.mouse.move(box.x + box.width / 2 + 80, box.y + box.height / 2 + 20, { steps: 4 });
      await page.mouse.up();
      expect(await page.evaluate(`${player}.from`)).toBe("turned");
      expect(await picture(page)).not.toBe(first);
      await page.locator("keyside-player #from").selectOption("side");
      expect(await picture(page)).toBe(first);
    });
  });

  test.each([
    ["light", 1200],
    ["dark", 1200],
    ["light", 400],
  ] as const)(
    "%s, %i pixels wide: nothing serious for axe-core, nothing beyond the edge",
    async (colorScheme, width) => {
      await open(
        sheet,
        async (page) => {
          await ready(page);
          await page.locator("keyside-player #note").selectOption(String(fixed.number));
          await page.evaluate(axe);
          const { violations } = await page.evaluate<AxeResults>("axe.run('keyside-player')");
          expect(violations.filter(({ impact }) => impact === "serious" || impact === "critical")).toEqual(
            [],
          );
          expect(await page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
        },
        { colorScheme, viewport: { width, height: 900 } },
      );
    },
  );

  test("is not there without script, nor in print", async () => {
    await open(
      sheet,
      async (page) => {
        expect(await page.locator(".in-motion").isVisible()).toBe(false);
        expect(await page.locator(".play").first().isVisible()).toBe(false);
      },
      { javaScriptEnabled: false },
    );
    await open(sheet, async (page) => {
      await page.emulateMedia({ media: "print" });
      expect(await page.locator(".in-motion").isVisible()).toBe(false);
    });
  });
});

describe("the player on a page of somebody else's", () => {
  test("takes a motion as a property and tells what happens", async () => {
    await open(write("own.html", ownPage("<keyside-player></keyside-player>")), async (page, complaints) => {
      await page.evaluate(
        `window.heard = []; for (const what of ["ready", "note", "frame", "playing"]) {
          ${player}.addEventListener("keyside-" + what, (event) => heard.push(what + " " + event.detail)); }`,
      );
      await page.evaluate(`${player}.motion = ${JSON.stringify(motion)}`);
      await ready(page);
      await page.evaluate(`${player}.frame = ${motion.firstFrame + 3}; ${player}.note = ${fixed.number}`);
      await untilTrue(page, `heard.includes("note ${fixed.number}")`);
      await page.evaluate(`${player}.play(); ${player}.pause()`);
      const heard = await page.evaluate<string[]>("heard");
      expect(heard).toContain(`frame ${motion.firstFrame + 3}`);
      expect(heard.indexOf("ready undefined")).toBeLessThan(heard.indexOf(`note ${fixed.number}`));
      expect(heard.slice(-2)).toEqual(["playing true", "playing false"]);
      // What is set last is what plays, whatever is unpacked first; null takes it away.
      await page.evaluate(`${player}.motion = ${JSON.stringify(motion)}; ${player}.motion = null`);
      expect(await page.evaluate(`${player}.motion`)).toBeNull();
      expect(complaints).toEqual([]);
    });
  });

  test.each([
    ["no JSON", "{", "JSON"],
    ["another format", '{"format":"other","version":1}', 'no "keyside.motion"'],
    ["poses that break off", null, "breaks off"],
  ])("%s: says so and stays", async (_, text, words) => {
    // The poses are those of a shot with one frame less.
    const data = text ?? JSON.stringify({ ...motion, count: motion.count + 1 });
    const body = `<keyside-player for="m"></keyside-player><script type="application/json" id="m">${data}</script>`;
    await open(write("broken.html", ownPage(body)), async (page, complaints) => {
      const alert = page.locator("keyside-player [role=alert]");
      await untilTrue(page, `${player}.shadowRoot.querySelector("[role=alert]").textContent !== ""`);
      expect(await alert.textContent()).toMatch(/^This motion cannot be played: /);
      expect(await alert.textContent()).toContain(words);
      expect(complaints).toEqual([]);
    });
  });
});

describe("the shot's own pictures and sound", () => {
  /** A second of silence: 8 bits, 8,000 a second. */
  function silence(): Buffer {
    const head = Buffer.from(
      "RIFF\0\0\0\0WAVEfmt \x10\0\0\0\x01\0\x01\0\0\0\0\0\0\0\0\0\x01\0\x08\0data\0\0\0\0",
      "latin1",
    );
    head.writeUInt32LE(36 + 8000, 4);
    head.writeUInt32LE(8000, 24);
    head.writeUInt32LE(8000, 28);
    head.writeUInt32LE(8000, 40);
    return Buffer.concat([head, Buffer.alloc(8000, 128)]);
  }

  test("rendered frames are shown, and it is said where there is none; the sound is in time", async () => {
    const first = motion.firstFrame;
    writeFileSync(join(folder, "voice.wav"), silence());
    // One red picture, for the second frame alone.
    const red =
      '<svg xmlns="http://www.w3.org/2000/svg" width="160" height="90"><rect width="160" height="90" fill="#f00"/></svg>';
    writeFileSync(join(folder, `take.${first + 1}.svg`), red);
    const html = sheetPage(made, {
      images: { before: "take.", digits: 4, after: ".svg", first: first + 1, last: first + 2 },
      sound: { address: "voice.wav", from: first },
    });
    const sheet = write("footage.html", html);
    await open(sheet, async (page, complaints) => {
      await ready(page);
      const middle = async () => {
        const shot = (await page.locator("keyside-player .stage").screenshot()).toString("base64");
        return page.evaluate<
          readonly number[]
        >(`createImageBitmap(new Blob([Uint8Array.from(atob("${shot}"), (c) => c.charCodeAt(0))])).then((image) => {
          const pen = new OffscreenCanvas(image.width, image.height).getContext("2d");
          pen.drawImage(image, 0, 0);
          return [...pen.getImageData(image.width / 2, image.height / 4, 1, 1).data.slice(0, 3)];
        })`);
      };
      const paper = await middle();
      await page.evaluate(`${player}.from = "rendered"; ${player}.frame = ${first + 1}`);
      await eventually(middle).toEqual([255, 0, 0]);
      await page.evaluate(`${player}.frame = ${first}`);
      await eventually(middle).toEqual(paper);
      // One that is missing on the disk: nothing else is asked for, and the browser says so.
      await page.evaluate(`${player}.frame = ${first + 2}`);
      await eventually(middle).toEqual(paper);
      const others = complaints.filter((text) => !text.includes("ERR_FILE_NOT_FOUND"));
      expect(others).toEqual([]);
    });
  });

  test("the sound runs while the shot plays, stops with it, and can be left out", async () => {
    writeFileSync(join(folder, "voice.wav"), silence());
    const html = sheetPage(made, { sound: { address: "voice.wav", from: motion.firstFrame } });
    const context = await browser.newContext();
    try {
      const page = await context.newPage();
      await page.addInitScript(
        "window.sounds = []; const Own = Audio; window.Audio = function () { const one = new Own(); sounds.push(one); return one; };",
      );
      await page.goto(write("sound.html", html));
      await ready(page);
      const isHeard = () => page.evaluate<boolean>("sounds.some((one) => !one.paused)");
      await page.getByRole("button", { name: "Play", exact: true }).click();
      await eventually(isHeard).toBe(true);
      await page.getByRole("button", { name: "Pause" }).click();
      expect(await isHeard()).toBe(false);
      await page.getByLabel("sound").uncheck();
      await page.getByRole("button", { name: "Play", exact: true }).click();
      await eventually(() => frame(page)).toBeGreaterThan(motion.firstFrame + 2);
      expect(await isHeard()).toBe(false);
    } finally {
      await context.close();
    }
  });
});
