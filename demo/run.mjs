// @ts-check
/**
 * The demo: checks the invented shots, first and second version, and a captured extract; says what it found, and
 * writes one page per shot to demo/out. `npm run demo` builds the packages and runs it.
 */
import { mkdir, readdir, rename, writeFile } from "node:fs/promises";
import { basename, join, relative, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { diskFiles, loadShot } from "@keyside/server";
import { lookAt } from "./look.mjs";
import { framesOf } from "./page/notes-list.mjs";
import { indexPage, shotPage } from "./page/sheet.mjs";

const root = fileURLToPath(new URL("..", import.meta.url));
/** Where the pages go; a folder may be named on the command line. */
const out = resolve(process.argv[2] ?? fileURLToPath(new URL("out", import.meta.url)));
/** Captured motion is judged at the rate at which it would be seen. */
const seenRate = 24;

/** @typedef {{ look: import("./look.mjs").Look, file: string, changes: string }} Entry */

const entries = await checkedShots();
await mkdir(out, { recursive: true });
for (const { look, file } of entries) await write(file, shotPage(look));
await write("index.html", indexPage(entries));
for (const entry of entries) console.log(summary(entry));
console.log(`Pages: ${pathToFileURL(join(out, "index.html"))}`);

async function checkedShots() {
  const named = async (/** @type {string} */ folder, /** @type {RegExp} */ kind) =>
    (await readdir(`${root}${folder}`))
      .filter((name) => kind.test(name))
      .sort()
      .map((name) => `${root}${folder}/${name}`);
  const files = [
    ...(await named("demo/shots", /\.curves\.json$/)),
    ...(await named("tests/fixtures/capture", /\.bvh$/)),
  ];
  /** @type {Entry[]} */
  const list = [];
  for (const file of files) {
    const loaded = await loadShot(relative(root, file), { files: diskFiles, cwd: root, rate: seenRate });
    const [stem, version] = basename(file)
      .replace(/\.(curves\.json|bvh)$/, "")
      .split("_v");
    const look = lookAt(loaded, version === undefined ? `${stem} (captured)` : `${stem}, version ${version}`);
    const before = list.at(-1);
    const sameShot = version !== undefined && before?.file === `${stem}_v${Number(version) - 1}.html`;
    const changes = sameShot && before !== undefined ? compared(before.look, look) : "";
    list.push({ look, file: version === undefined ? `${stem}.html` : `${stem}_v${version}.html`, changes });
  }
  return list;
}

/**
 * What became of the notes since the version before, by their fingerprints.
 * @param {import("./look.mjs").Look} before @param {import("./look.mjs").Look} look
 */
function compared(before, look) {
  const old = new Set(before.notes.map(({ fingerprint }) => fingerprint));
  let still = 0;
  for (const { fingerprint } of look.notes) {
    if (old.has(fingerprint)) still++;
    look.status.set(fingerprint, old.has(fingerprint) ? "still there" : "new");
  }
  const now = new Set(look.notes.map(({ fingerprint }) => fingerprint));
  const mended = before.notes.filter(({ fingerprint }) => !now.has(fingerprint)).length;
  return `${mended} mended, ${still} still there, ${look.notes.length - still} new`;
}

/** @param {Entry} entry */
function summary({ look, changes }) {
  const shown = 8;
  const lines = look.notes.slice(0, shown).map((note, n) => {
    const where = `${framesOf(note.frames)}${note.node === null ? "" : `, ${note.node}`}`;
    return `  ${String(n + 1).padStart(2)}. ${note.tier.padEnd(6)} ${note.check}: ${where}\n      ${note.message}\n      mend: ${note.suggestion}`;
  });
  const rest = look.notes.length - lines.length;
  if (rest > 0) lines.push(`      and ${rest} more on the page`);
  return [`${look.title} (${look.facts})`, ...(changes ? [`  ${changes}`] : []), ...lines, ""].join("\n");
}

/** @param {string} name @param {string} text */
async function write(name, text) {
  const path = join(out, name);
  await writeFile(`${path}.new`, text);
  await rename(`${path}.new`, path);
}
