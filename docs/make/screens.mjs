// @ts-check
/**
 * node docs/make/screens.mjs: takes the pictures of the desk and of a review sheet that the pages show, in Chromium
 * (/usr/bin/chromium, or what CHROMIUM names), from a demo shot. Build first.
 */
import { spawn } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const at = (/** @type {string} */ path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const command = at("packages/server/bin/keyside.js");
const folder = mkdtempSync(join(tmpdir(), "keyside-pictures-"));
const shot = "quay_0070_v1.curves.json";
copyFileSync(at(`demo/shots/${shot}`), join(folder, shot));
mkdirSync(at("docs/pictures"), { recursive: true });

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
});
const desk = spawn(process.execPath, [command, "desk", shot, "--no-open", "--reviewer", "Ada"], {
  cwd: folder,
  stdio: ["ignore", "pipe", "inherit"],
});
try {
  const page = await browser.newPage({ viewport: { width: 1480, height: 900 } });
  page.setDefaultTimeout(120_000);
  await page.goto(await addressOf(desk));
  await page.locator(".note-head", { hasText: "Pop, right hand" }).click();
  await page.getByRole("button", { name: "Look for a fix" }).click();
  await page.getByText("one over the other").first().waitFor();
  await page.screenshot({ path: at("docs/pictures/desk.png") });

  await page.keyboard.press("t");
  await page.keyboard.type(
    "The hand arrives before the shoulder has asked it to. Let it swing down and trail.",
  );
  await page.getByLabel("From frame").first().fill("26");
  await page.getByLabel("to", { exact: true }).first().fill("40");
  await page.locator("#remark-text").press("Enter");
  await page.locator("#remark").waitFor({ state: "hidden" });
  await page.keyboard.press("d");
  const box = await page.locator("keyside-player canvas").boundingBox();
  if (box === null) throw new Error("There is no picture.");
  const line = Array.from({ length: 25 }, (_, n) => [0.34 + 0.012 * n, 0.42 + 0.1 * Math.sin(n / 8)]);
  for (const [n, [x, y]] of line.entries()) {
    await page.mouse.move(box.x + x * box.width, box.y + y * box.height);
    if (n === 0) await page.mouse.down();
  }
  await page.mouse.up();
  await page.locator(".lines li").first().waitFor();
  await page.keyboard.press("z");
  await page.locator(".target", { hasText: "cm off on average" }).waitFor();
  await page.screenshot({ path: at("docs/pictures/desk-review.png") });

  const argv = [command, "sheet", shot, "--out", "sheet.html"];
  await ended(spawn(process.execPath, argv, { cwd: folder, stdio: "inherit" }));
  const paper = await browser.newPage({ viewport: { width: 1000, height: 900 }, colorScheme: "dark" });
  await paper.goto(pathToFileURL(join(folder, "sheet.html")).href);
  await paper.locator("keyside-player #note").selectOption("3");
  await paper.locator("keyside-player #showing").selectOption("over");
  await paper.locator(".in-motion").screenshot({ path: at("docs/pictures/sheet.png") });
} finally {
  const gone = ended(desk);
  desk.kill("SIGINT");
  await gone;
  await browser.close();
  rmSync(folder, { recursive: true });
}

/** @param {import("node:child_process").ChildProcess} child @returns {Promise<string>} */
function addressOf(child) {
  return new Promise((resolve, reject) => {
    let said = "";
    child.stdout?.on("data", (piece) => {
      said += piece;
      const [address] = /http:\S+(?=\n)/.exec(said) ?? [];
      if (address !== undefined) resolve(address);
    });
    child.once("exit", (code) => reject(new Error(`The desk ended with ${code}.`)));
  });
}

/** @param {import("node:child_process").ChildProcess} child @returns {Promise<number | null>} */
function ended(child) {
  return new Promise((resolve) => {
    child.once("exit", resolve);
  });
}
