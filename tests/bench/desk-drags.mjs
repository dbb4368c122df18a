import { spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { writeDocument } from "@keyside/core";
import { ms, table } from "./measure.mjs";
import { skeletonDocument } from "./skeleton.mjs";

const command = fileURLToPath(new URL("../../packages/server/bin/keyside.js", import.meta.url));
const perSecond = 60;
const seconds = 3;
/** Frames of the shots; all have 100 nodes and a key every eight frames. */
const lengths = [240, 1000, 4000];

/**
 * Drags of a key of the hips with the pointer, 60 moves a second, on the desk's own page.
 * @param {import("playwright-core").Browser} browser
 * @returns {Promise<string>} a table: what pages were told, and how long they were told nothing
 */
export async function drags(browser) {
  const rows = [];
  for (const frames of lengths) rows.push(await drag(browser, frames));
  const head = [
    "frames",
    "moves",
    "poses told",
    "longest wait",
    "notes told",
    "told so far",
    "longest silence",
    "last move to its notes",
  ];
  return table(head, rows);
}

async function drag(browser, frames) {
  const folder = mkdtempSync(join(tmpdir(), "keyside-desk-bench-"));
  const file = join(folder, "bench.curves.json");
  writeFileSync(file, writeDocument(skeletonDocument({ count: 100, frames, every: 8, seed: 3 })));
  const desk = spawn(process.execPath, [command, "desk", file, "--no-open"], {
    stdio: ["ignore", "pipe", "ignore"],
  });
  const gone = new Promise((resolve) => {
    desk.once("exit", resolve);
  });
  const page = await browser.newPage({ viewport: { width: 1500, height: 950 } });
  page.setDefaultTimeout(300_000);
  try {
    const told = { moved: [], notes: [], soFar: [] };
    page.on("websocket", (socket) => {
      socket.on("framereceived", ({ payload }) => {
        const [, type] = /^\{"type":"(\w+)"/.exec(String(payload).slice(0, 40)) ?? [];
        told[type]?.push(performance.now());
      });
    });
    await page.goto(await addressOf(desk));
    await isJudged(page);
    const [x, y] = await keyHere(page);
    await page.mouse.down();
    told.moved.length = 0;
    told.notes.length = 0;
    told.soFar.length = 0;
    const begun = performance.now();
    const count = seconds * perSecond;
    for (let turn = 1; turn <= count; turn++) {
      const due = begun + ((turn - 1) * 1000) / perSecond;
      await new Promise((resolve) => setTimeout(resolve, Math.max(0, due - performance.now())));
      await page.mouse.move(x, y + 40 * Math.sin(turn / 8));
    }
    const last = performance.now();
    await page.mouse.up();
    await isJudged(page);
    const end = Math.max(last, ...told.notes);
    const longest = (times) => {
      const all = [begun, ...times, end];
      return ms(Math.max(...all.slice(1).map((at, i) => at - all[i])));
    };
    return [
      frames,
      count,
      told.moved.length,
      longest(told.moved),
      told.notes.length,
      told.soFar.length,
      longest([...told.notes, ...told.soFar].sort((a, b) => a - b)),
      ms(end - last),
    ];
  } finally {
    await page.close();
    desk.kill("SIGINT");
    await gone;
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Waits until the notes are those of the newest revision. */
async function isJudged(page) {
  for (;;) {
    const of = (name) => page.locator("#counts").getAttribute(name);
    const [judged, revision] = [await of("data-judged"), await of("data-revision")];
    if (judged !== null && judged === revision) return;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

/** Where the key at the first frame stands, found with the pointer as a hand would, from near enough to see keys. */
async function keyHere(page) {
  for (let tries = 0; tries < 12; tries++) {
    const box = await page.locator("#curves").boundingBox();
    const here = await page.evaluate(
      `new DOMMatrix(getComputedStyle(document.querySelector("#curves .here")).transform).e`,
    );
    for (let down = 24; down < box.height; down += 4) {
      await page.mouse.move(box.x + here, box.y + down);
      if ((await page.locator("#curves").getAttribute("data-over")) === "key")
        return [box.x + here, box.y + down];
    }
    await page.getByRole("button", { name: "Closer" }).click();
  }
  throw new Error("No key stands at the first frame.");
}

function addressOf(child) {
  return new Promise((resolve, reject) => {
    let said = "";
    child.stdout.on("data", (piece) => {
      said += piece;
      const [address] = /http:\S+(?=\n)/.exec(said) ?? [];
      if (address !== undefined) resolve(address);
    });
    child.once("exit", (code) => reject(new Error(`The desk ended with ${code}.`)));
  });
}
