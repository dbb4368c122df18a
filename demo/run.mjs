// @ts-check
/**
 * The demo: a review from the first version to the second. Each invented shot is checked and its notes are drawn on a
 * sheet; a copy is fixed by the command and compared with what it was; then the animator's second version is compared
 * with the first. A captured extract is checked beside them, and a review of three versions is followed to its approval. `npm run demo` builds the packages and runs it; the pages
 * go to demo/out.
 */
import { copyFile, mkdir, readdir } from "node:fs/promises";
import { basename, join, relative, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { registry, resolveSettings } from "@keyside/core";
import {
  compareVersions,
  countsText,
  diskFiles,
  judgeVersion,
  loadShot,
  makeSheet,
  processCommandIo,
  run,
  sheetPage,
  writeFileWhole,
} from "@keyside/server";
import { indexPage } from "./index-page.mjs";
import { reviewedVersions } from "./review/run.mjs";

const root = fileURLToPath(new URL("..", import.meta.url));
/** Where the pages go; a folder may be named on the command line. */
const out = resolve(process.argv[2] ?? fileURLToPath(new URL("out", import.meta.url)));
/** One for all calls: each one listens to the end of the process's output. */
const io = processCommandIo();
/** Captured motion is judged at the rate at which it would be seen. */
const seenRate = 24;
/** Notes that are printed of each version; the rest stands on its sheet. */
const printed = 4;

/**
 * A version of a shot in the demo.
 * @typedef {object} Entry
 * @property {string} title
 * @property {string} page its sheet's file
 * @property {import("@keyside/server").Sheet} sheet
 * @property {string} changes what became of the notes of the version before; empty for a first one
 */

/** @type {Entry[]} */
const entries = [];
await mkdir(out, { recursive: true });
for (const name of await shotNames()) {
  const first = await judged(`demo/shots/${name}_v1.curves.json`);
  await review(`${name}, version 1`, `${name}_v1.html`, first, null);

  const copy = join(out, `${name}_fixed.curves.json`);
  await copyFile(join(root, `demo/shots/${name}_v1.curves.json`), copy);
  const summary = await fixedInPlace(copy);
  const fixed = await judged(copy);
  console.log(`  keyside fix --write on a copy: ${summary}`);
  await review(`${name}, version 1 fixed`, `${name}_fixed.html`, fixed, first);

  const second = await judged(`demo/shots/${name}_v2.curves.json`);
  await review(`${name}, version 2`, `${name}_v2.html`, second, first);
}
for (const file of await named("tests/fixtures/capture", /\.bvh$/)) {
  const stem = basename(file, ".bvh");
  await review(`${stem} (captured)`, `${stem}.html`, await judged(file, seenRate), null);
}
await reviewedVersions(join(out, "review"));
await writeFileWhole(join(out, "index.html"), indexPage(entries), { force: true });
console.log(`Pages: ${pathToFileURL(join(out, "index.html"))}`);

async function shotNames() {
  const firsts = await named("demo/shots", /_v1\.curves\.json$/);
  return firsts.map((file) => basename(file, "_v1.curves.json"));
}

/** @param {string} folder @param {RegExp} kind */
async function named(folder, kind) {
  const names = await readdir(join(root, folder));
  return names
    .filter((name) => kind.test(name))
    .sort()
    .map((name) => `${folder}/${name}`);
}

/** @param {string} file @param {number} [rate] */
async function judged(file, rate) {
  const settings = resolveSettings(registry, {}, rate === undefined ? {} : { rate });
  const loaded = await loadShot(relative(root, resolve(root, file)), { files: diskFiles, cwd: root, rate });
  return judgeVersion(loaded, settings);
}

/** Fixes a shot's file by the command, `keyside fix FILE --write`; what came of it. @param {string} file */
async function fixedInPlace(file) {
  let text = "";
  const stdout = (/** @type {string} */ more) => {
    text += more;
  };
  await run(["fix", file, "--write", "--format", "json"], { ...io, stdout });
  const { fixes, left } = JSON.parse(text);
  const keys = fixes.reduce((/** @type {number} */ sum, /** @type {any} */ fix) => sum + fix.keys.length, 0);
  const works = fixes.length === 1 ? "fix that works" : "fixes that work";
  const notes = left.length === 1 ? "note" : "notes";
  return `${fixes.length} ${works}, ${keys} keys changed, ${left.length} ${notes} left`;
}

/**
 * Writes a version's sheet and says what is on it.
 * @param {string} title @param {string} page
 * @param {import("@keyside/server").JudgedVersion} version
 * @param {import("@keyside/server").JudgedVersion | null} previous
 */
async function review(title, page, version, previous) {
  const sheet = makeSheet(version, { previous, fixes: true, lightest: "polish" });
  await writeFileWhole(join(out, page), sheetPage(sheet), { force: true });
  const changes = previous === null ? "" : countsText(compareVersions(previous, version).comparison);
  entries.push({ title, page, sheet, changes });
  console.log(`${title}: ${sheet.facts}`);
  console.log(`  ${sheet.counts}${changes === "" ? "" : `; against version 1: ${changes}`}`);
  for (const note of sheet.notes.slice(0, printed)) {
    const status = note.status === null ? "" : ` (${note.status.split(":")[0]})`;
    console.log(
      `  ${note.number}. ${note.reported.tier} ${note.title}, ${note.reported.part}, ${note.frames}${status}`,
    );
    console.log(`     ${note.message}`);
    console.log(
      `     ${note.fix === null ? `Change: ${note.suggestion}` : `Fix that works: ${note.fix.title}`}`,
    );
  }
  const rest = sheet.notes.length - printed;
  if (rest > 0) console.log(`  and ${rest} more on the sheet`);
  console.log("");
}
