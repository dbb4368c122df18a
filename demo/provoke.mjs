// @ts-check
/**
 * Makes a check speak, and silences it: `node demo/provoke.mjs` lists the checks with what is done to provoke each;
 * `node demo/provoke.mjs hard-start` writes the shot with that slip in it to demo/out/provoked (`--out FOLDER` to
 * another folder), checks it by the command, prints the note, and checks it again in each way that keeps the note away;
 * `--all` does so for every check. It ends with exit code 1 where a check does not speak or is not silent.
 */
import { mkdir } from "node:fs/promises";
import { join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { checkNamed, families, registry, waiverFor, waiverPatch } from "@keyside/core";
import { nearestName } from "@keyside/core/internal";
import { processCommandIo, run, writeFileWhole } from "@keyside/server";
import { provocations, provokedText } from "./provocations/index.mjs";

const root = fileURLToPath(new URL("..", import.meta.url));
const { values: options, positionals: names } = parseArgs({
  allowPositionals: true,
  options: {
    all: { type: "boolean", default: false },
    out: { type: "string", default: fileURLToPath(new URL("out/provoked", import.meta.url)) },
  },
});
const folder = resolve(options.out);

if (names.length === 0 && !options.all) list();
else {
  const chosen = options.all
    ? provocations
    : names.flatMap((name) => provocations.find(({ check }) => check === name) ?? unknown(name));
  await mkdir(folder, { recursive: true });
  for (const provocation of chosen) await show(provocation);
}

function list() {
  const widest = Math.max(...provocations.map(({ check }) => check.length));
  for (const family of families) {
    const own = registry.filter((check) => check.family === family).map(({ name }) => name);
    const entries = provocations.filter(({ check }) => own.includes(check));
    if (entries.length === 0) continue;
    console.log(family);
    for (const { check, shot, slip } of entries) {
      console.log(`  ${check.padEnd(widest)}  ${shot.padEnd(13)}  ${slip}`);
    }
    console.log("");
  }
  console.log("node demo/provoke.mjs CHECK shows one, --all every one.");
}

/** @param {string} name @returns {never[]} */
function unknown(name) {
  const near = nearestName(
    name,
    provocations.map(({ check }) => check),
  );
  console.error(
    `There is no check "${name}" to provoke. ${near === null ? "Without a name the checks are listed." : `Did you mean "${near}"?`}`,
  );
  process.exitCode = 2;
  return [];
}

/** @param {import("./provocations/index.mjs").Provocation} provocation */
async function show(provocation) {
  const { check, shot, slip } = provocation;
  const text = provokedText(provocation);
  const file = await written(`${check}.curves.json`, text);
  console.log(`${check}, in ${shot}: ${slip}.`);
  const named =
    checkNamed(check)?.ripening === undefined
      ? []
      : ["--config", await written(`${check}.named.json`, asJson({ checks: { [check]: true } }))];
  console.log(`$ keyside check ${[file, "--long", ...named].join(" ")}`);
  const notes = await notesIn(file, check, ...named);
  expected(notes.length > 0, await noteText(file, check, ...named), `${check} does not speak.`);

  const off = await written(`${check}.config.json`, asJson({ checks: { [check]: false } }));
  const waived = await written(`${check}.waived.curves.json`, withWaivers(text, notes));
  for (const [call, ...argv] of [
    [file, "--skip", check],
    [file, "--config", off],
    [waived, ...named],
  ]) {
    console.log(`$ keyside check ${[call, ...argv].join(" ")}`);
    const left = await notesIn(call, check, ...argv);
    expected(left.length === 0, `  nothing of ${check}`, `${check} still speaks.`);
  }
  console.log("");
}

/** @param {unknown} value */
function asJson(value) {
  return `${JSON.stringify(value, null, 2)}\n`;
}

/** @param {boolean} holds @param {string} line @param {string} otherwise */
function expected(holds, line, otherwise) {
  console.log(holds ? line : `  ${otherwise}`);
  if (!holds) process.exitCode = 1;
}

/** Writes a file, and gives its name as it is shown. @param {string} name @param {string} text */
async function written(name, text) {
  await writeFileWhole(join(folder, name), text, { force: true });
  return relative(root, join(folder, name));
}

/** The text of a document with a waiver for each of some notes. @param {string} text @param {Note[]} notes */
function withWaivers(text, notes) {
  return notes.reduce((waived, note) => {
    const patch = waiverPatch(waived, waiverFor(note, "Put in on purpose, to show how a note is waived."));
    if (patch === null) throw new Error("This is no document.");
    return waived.slice(0, patch.start) + patch.text + waived.slice(patch.end);
  }, text);
}

/**
 * @typedef {{ check: string, node: string | null, frames: [number, number] }} Note
 * @param {string} file @param {string} check @param {string[]} more options @returns {Promise<Note[]>}
 */
async function notesIn(file, check, ...more) {
  const report = JSON.parse(await said(file, "--format", "json", ...more));
  return report.shots[0].notes.filter((/** @type {Note} */ note) => note.check === check);
}

/**
 * What the command says of a check, with the parts on which it says it.
 * @param {string} file @param {string} check @param {string[]} more options
 */
async function noteText(file, check, ...more) {
  const blocks = (await said(file, "--long", ...more)).split(/^(?= {2}(?: {2})?\S)|^\n/m);
  let part = "";
  let text = "";
  for (const block of blocks) {
    if (!block.startsWith("    ")) part = block;
    else if (block.split(/[\s,]+/)[2] === check) {
      text += part + block;
      part = "";
    }
  }
  return text.trimEnd();
}

/** What `keyside check` prints. @param {string[]} argv */
async function said(...argv) {
  let text = "";
  const stdout = (/** @type {string} */ more) => {
    text += more;
  };
  await run(["check", "--no-cache", ...argv], { ...processCommandIo(), cwd: root, stdout, isTTY: false });
  return text;
}
