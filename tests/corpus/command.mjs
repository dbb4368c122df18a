// @ts-check
/** `npm run corpus`: what the code says of real motion, against what is committed. */
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  unlinkSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { suggestion } from "@keyside/core/internal";
import { differenceOf, isNone } from "./diff.mjs";
import { sourceLines, summaryLines } from "./report.mjs";
import { judged } from "./rows.mjs";
import { BrokenTable, isOfCorpus, rowsIn, textOf } from "./table.mjs";

/**
 * @typedef {object} Place
 * @property {readonly import("./sources.mjs").Source[]} sources
 * @property {string} folder in which the corpus lies
 * @property {(line: string) => void} print @property {(line: string) => void} complain
 */

/** Nothing differs (or all was written), something differs, used in a wrong way. */
export const codes = /** @type {const} */ ({ same: 0, different: 1, wrongUse: 2 });

/**
 * Compares, and with `--write` writes.
 * @param {readonly string[]} argv @param {Place} place
 * @returns {Promise<number>} the exit code
 */
export async function runCorpus(argv, place) {
  const options = optionsIn(argv, place);
  if (typeof options === "string") {
    place.complain(options);
    return codes.wrongUse;
  }
  const { print } = place;
  const written = [];
  const differences = [];
  for (const source of options.sources) {
    const now = await judged(source);
    const text = textOf(source, now);
    const committed = committedOf(source.name, place.folder);
    if (committed.problem !== null) {
      print(`${source.name}\n  ${committed.problem} What has changed cannot be told.`);
      if (!options.write)
        print("  Settle that line by hand, or write the file anew: npm run corpus -- --write");
      written.push(() => write(place.folder, source.name, text));
      continue;
    }
    const difference = differenceOf(committed.rows, now.rows);
    differences.push(difference);
    if (text === committed.text) continue;
    written.push(() => write(place.folder, source.name, text));
    if (!isNone(difference)) for (const line of sourceLines(source.name, difference)) print(line);
    else if (committed.text === "") print(`${source.name}\n  a new source, without notes`);
    else
      print(
        `${source.name}\n  the notes are the same, but the head of its file or the order of its lines is not`,
      );
  }
  for (const name of options.isAll ? orphansIn(place) : []) {
    const { rows } = committedOf(name, place.folder);
    differences.push(differenceOf(rows, []));
    written.push(() => unlinkSync(fileOf(place.folder, name)));
    print(`${name}\n  there is no such source any more; ${rows.length} notes are gone`);
  }
  if (written.length === 0) {
    const notes = differences.reduce((sum, { same }) => sum + same.length, 0);
    print(`No difference: ${notes} notes on ${options.sources.length} shots.`);
    return codes.same;
  }
  for (const line of ["", ...summaryLines(differences)]) print(line);
  if (!options.write) return codes.different;
  for (const change of written) change();
  print(`\n${written.length} files of the corpus written.`);
  return codes.same;
}

/** @param {readonly string[]} argv @param {Place} place @returns what is asked for; a text where it cannot be */
function optionsIn(argv, { sources }) {
  let values;
  try {
    ({ values } = parseArgs({
      args: [...argv],
      options: {
        write: { type: "boolean", default: false },
        source: { type: "string", multiple: true },
      },
    }));
  } catch (error) {
    return `${error instanceof Error ? error.message : error}\nUse: npm run corpus -- [--write] [--source NAME]…`;
  }
  const names = sources.map(({ name }) => name);
  const wanted = values.source ?? names;
  const unknown = wanted.find((name) => !names.includes(name));
  if (unknown !== undefined) {
    const known = `The corpus has ${names.join(", ")}.`;
    return `--source: there is no source "${unknown}".${suggestion(unknown, names)} ${known}`;
  }
  return {
    write: values.write,
    isAll: values.source === undefined,
    sources: sources.filter(({ name }) => wanted.includes(name)),
  };
}

/** @param {string} folder @param {string} name */
const fileOf = (folder, name) => join(folder, `${name}.txt`);

/**
 * What is committed of a source: no rows where nothing is, or where its file cannot be read, which `problem` tells.
 * @param {string} name @param {string} folder
 * @returns {{ text: string, rows: import("./rows.mjs").Row[], problem: string | null }}
 */
function committedOf(name, folder) {
  const path = fileOf(folder, name);
  if (!existsSync(path)) return { text: "", rows: [], problem: null };
  const text = readFileSync(path, "utf8").replaceAll("\r\n", "\n");
  try {
    return { text, rows: rowsIn(text), problem: null };
  } catch (error) {
    if (!(error instanceof BrokenTable)) throw error;
    return { text, rows: [], problem: `${path}: ${error.message}.` };
  }
}

/** Names of files that the corpus wrote for sources that are no more. @param {Place} place */
function orphansIn({ folder, sources }) {
  if (!existsSync(folder)) return [];
  const names = new Set(sources.map(({ name }) => name));
  return readdirSync(folder)
    .filter((file) => file.endsWith(".txt"))
    .map((file) => file.slice(0, -".txt".length))
    .filter((name) => !names.has(name) && isOfCorpus(readFileSync(fileOf(folder, name), "utf8"), name))
    .sort();
}

/** @param {string} folder @param {string} name @param {string} text */
function write(folder, name, text) {
  mkdirSync(folder, { recursive: true });
  const path = fileOf(folder, name);
  writeFileSync(`${path}.new`, text);
  renameSync(`${path}.new`, path);
}
