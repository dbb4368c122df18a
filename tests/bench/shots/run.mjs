// @ts-check
/**
 * The whole-shot bench: shots with 6 to 14 faults each, and what the program says of them. docs/shots-bench.md tells
 * what is measured. `npm run bench:shots` judges the development shots; `-- --help` lists the rest.
 * @import { Results } from "./scores/records.d.ts"
 */
import { mkdirSync, renameSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";
import { optionsIn, usage } from "./options.mjs";
import { fullReport, shortReport, writeBetween } from "./report/pages.mjs";
import { runShots } from "./run-shots.mjs";
import { checkNames } from "./scores/program.mjs";
import { seedOfCommit } from "./seeds.mjs";

const here = fileURLToPath(new URL(".", import.meta.url));
const root = fileURLToPath(new URL("../../../", import.meta.url));

try {
  const options = optionsIn(process.argv.slice(2), checkNames);
  if (options.help) console.log(usage);
  else await run(options);
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}

/** @param {import("./options.mjs").Options} options */
async function run(options) {
  const { seed, commit } = options.seed === null ? seedOfCommit(here) : { seed: options.seed, commit: null };
  const started = performance.now();
  const results = await runShots({ ...options, seed, commit });
  console.error(`${((performance.now() - started) / 1000).toFixed(0)} s`);
  console.log(options.report ? fullReport(results, checkNames) : shortReport(results, checkNames));
  if (results.failed.length > 0) {
    console.error(`Not made or not judged, so that this is no report:\n${results.failed.join("\n")}`);
    process.exitCode = 1;
  }
  if (options.out !== null) write(options.out, results);
  if (options.write && results.failed.length === 0) {
    writeBetween(`${root}README.md`, shortReport(results, checkNames));
    writeBetween(`${root}docs/shots-bench.md`, fullReport(results, checkNames));
  }
  if (options.misses > 0) {
    const { drawMisses } = await import("./report/misses.mjs");
    const folder = `${root}tests/bench/out`;
    const count = drawMisses(results, options.misses, folder);
    console.error(`${count} missed or false cases are drawn in ${folder}`);
  }
}

/** @param {string} path @param {Results} results */
function write(path, results) {
  const text = path.endsWith(".json") ? JSON.stringify(results, null, 1) : fullReport(results, checkNames);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(`${path}.new`, `${text}\n`);
  renameSync(`${path}.new`, path);
}
