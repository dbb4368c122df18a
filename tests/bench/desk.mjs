/**
 * What drawing the desk costs as a share of a picture at 60 Hz: 100 channels of a shot of 4,000 frames, with 400 notes,
 * in Chromium; then how long a page is told nothing while a key is dragged. Build first; needs Debian's Chromium.
 */
import { loadavg } from "node:os";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { rolldown } from "rolldown";
import { drags } from "./desk-drags.mjs";

const picture = 1000 / 60;
const bundle = await rolldown({
  input: fileURLToPath(new URL("desk-drawing.mjs", import.meta.url)),
  logLevel: "warn",
});
const { output } = await bundle.generate({ format: "iife" });
const browser = await chromium.launch({
  executablePath: "/usr/bin/chromium",
  args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
});
try {
  const page = await browser.newPage();
  await page.addScriptTag({ content: output[0].code });
  const found = await page.evaluate("benchDesk()");
  console.log(
    "drawing the desk, 100 channels × 4,000 frames, 400 notes, 12 remarks, as a share of a picture at 60 Hz\n",
  );
  for (const [name, times] of Object.entries(found)) {
    const [median, p95] = [0.5, 0.95].map((share) => times[Math.floor(share * times.length)] / picture);
    const mean = times.reduce((sum, time) => sum + time, 0) / times.length / picture;
    const what = name === "whole" ? "whole shot, a key dragged" : "120 frames, going along";
    console.log(
      `${what.padEnd(28)} mean ${mean.toFixed(2)}  p50 ${median.toFixed(2)}  p95 ${p95.toFixed(2)}`,
    );
  }
  console.log(`
a key of the hips dragged on the page, 60 moves a second, 100 nodes; load of the machine ${loadavg()[0].toFixed(1)}
`);
  console.log(await drags(browser));
} finally {
  await browser.close();
}
