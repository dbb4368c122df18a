// @ts-check
/**
 * The report, short for README.md and whole for docs/shots-bench.md.
 * @import { Results } from "../scores/records.d.ts"
 */
import { readFileSync, renameSync, writeFileSync } from "node:fs";
import * as tables from "./tables.mjs";
import { faultsOf, shareOf } from "./tally.mjs";
import { portion } from "./words.mjs";

const mark = "bench:shots";
export const opening = `<!-- ${mark} -->`;
export const closing = `<!-- /${mark} -->`;

/** What was measured, in a sentence. @param {Results} results */
function origin(results) {
  const { seed, commit, shots } = results;
  const faults = faultsOf(results);
  const from = commit === null ? `seed "${seed}"` : `commit ${commit.slice(0, 12)}, whose name is the seed`;
  const shared = portion(shareOf(faults, ({ overlaps }) => overlaps));
  const limb = portion(shareOf(faults, ({ sharesLimb }) => sharesLimb));
  return `${shots.length} shots drawn from ${from}: ${faults.length} faults, ${tables.framesOf(shots)} clean frames. Of the faults, ${shared} share frames with another on the figure, and ${limb} the limb as well.`;
}

/** @param {Results} results @param {readonly string[]} checks */
export function shortReport(results, checks) {
  return [
    origin(results),
    tables.byCheck(results, checks),
    tables.unplanted(results, checks),
    tables.byBody(results),
    tables.summary(results),
  ]
    .filter((part) => part !== "")
    .join("\n\n");
}

/** @param {Results} results @param {readonly string[]} checks */
export function fullReport(results, checks) {
  return [
    origin(results),
    "### By check",
    tables.byCheck(results, checks),
    tables.unplanted(results, checks),
    "### All in all",
    tables.summary(results),
    "### By strength",
    tables.byStrength(results),
    "### By body",
    tables.byBody(results),
    "### By density of keys",
    tables.byDensity(results),
    "### By company",
    tables.byCompany(results),
    "### False notes",
    tables.falseNotes(results),
    tables.falseByCheck(results),
    "### Fixes",
    tables.fixesByCheck(results, checks),
    "### Kinds of faults",
    tables.byKind(results),
  ]
    .filter((part) => part !== "")
    .join("\n\n");
}

/**
 * A page with what stands between the markers put anew.
 * @param {string} page @param {string} text @param {string} name of the page, for the message
 * @param {string} [between] what the markers are called
 * @throws Error where the markers are not there, once each and in order
 */
export function replacedBetween(page, text, name, between = mark) {
  const [opening, closing] = [`<!-- ${between} -->`, `<!-- /${between} -->`];
  const start = page.indexOf(opening);
  const end = page.indexOf(closing);
  if (start < 0 || end < start || page.indexOf(opening, start + 1) >= 0) {
    throw new Error(
      `${name} has to hold ${opening} and, behind it, ${closing}: the report goes between them.`,
    );
  }
  return `${page.slice(0, start + opening.length)}\n${text}\n${page.slice(end)}`;
}

/** @param {string} path @param {string} text @param {string} [between] what the markers are called */
export function writeBetween(path, text, between = mark) {
  const page = replacedBetween(readFileSync(path, "utf8"), text, path, between);
  writeFileSync(`${path}.new`, page);
  renameSync(`${path}.new`, path);
}
