// @ts-check
/** A source's notes as text, one line a note, and back. */
import { tiers } from "@keyside/core";

/** @typedef {import("./rows.mjs").Row} Row */

/**
 * Columns and their widths. The widths are fixed: one long name must not move all the other lines. Columns are parted
 * by two spaces at least.
 * @type {readonly (readonly [string, number])[]}
 */
const columns = [
  ["check", 20],
  ["tier", 12],
  ["figure", 8],
  ["node", 16],
  ["frames", 12],
  ["value", 14],
  ["quantity", 44],
  ["keys", 0],
];

const firstLine = (/** @type {string} */ name) => `# Notes on ${name}`;

/**
 * @param {import("./sources.mjs").Source} source @param {import("./rows.mjs").Judged} judged
 * @returns {string}
 */
export function textOf({ name, from }, { range, rate, rows }) {
  const lines = [
    `${firstLine(name)}, frames ${range[0]} to ${range[1]} at ${rate} per second, from ${from}.`,
    '# Written by "npm run corpus -- --write"; metres, radians, seconds.',
    "#",
    ...countLines(rows).map((line) => `# ${line}`.trimEnd()),
    "#",
    lineOf(columns.map(([title], i) => (i === 0 ? `# ${title}` : title))),
    ...rows.map((row) => lineOf(cellsOf(row))),
  ];
  return `${lines.join("\n")}\n`;
}

/** Whether a text is one that the corpus wrote for a name. @param {string} text @param {string} name */
export function isOfCorpus(text, name) {
  return text.startsWith(`${firstLine(name)},`);
}

/** @param {readonly Row[]} rows @returns {string[]} how many notes of each tier every check has */
function countLines(rows) {
  const line = (/** @type {string} */ name, /** @type {readonly (string | number)[]} */ counts) =>
    name.padEnd(columns[0][1]) + counts.map((count) => String(count).padStart(8)).join("");
  const countsIn = (/** @type {readonly Row[]} */ some) => [
    ...tiers.map((tier) => some.filter((row) => row.tier === tier && !row.waived).length),
    some.filter(({ waived }) => waived).length,
  ];
  const names = [...new Set(rows.map(({ check }) => check))];
  return [
    line("check", [...tiers, "waived"]),
    ...names.map((name) => line(name, countsIn(rows.filter(({ check }) => check === name)))),
    line("all", countsIn(rows)),
  ];
}

/** @param {Row} row */
function cellsOf({ check, tier, waived, figure, node, frames, value, quantity, keys }) {
  return [check, waived ? `${tier} waived` : tier, figure, node, framesCell(frames), value, quantity, keys];
}

/** @param {Row["frames"]} frames */
export function framesCell(frames) {
  if (frames === null) return "-";
  return frames[0] === frames[1] ? `${frames[0]}` : `${frames[0]} to ${frames[1]}`;
}

/** @param {readonly string[]} cells */
function lineOf(cells) {
  return cells
    .map((cell, i) => `${cell.padEnd(columns[i][1])}  `)
    .join("")
    .trimEnd();
}

/** A line of a committed file that is no row. */
export class BrokenTable extends Error {}

/**
 * The rows of a text that {@link textOf} wrote.
 * @param {string} text @returns {Row[]}
 * @throws {BrokenTable} naming the line
 */
export function rowsIn(text) {
  return text.split("\n").flatMap((line, i) => {
    if (line.trim() === "" || line.startsWith("#")) return [];
    const row = rowIn(line);
    if (row === null) throw new BrokenTable(`Line ${i + 1} is no note: ${line.trim()}`);
    return [row];
  });
}

/** @param {string} line @returns {Row | null} */
function rowIn(line) {
  const cells = line.trimEnd().split(/ {2,}/);
  if (cells.length !== columns.length) return null;
  const [check, tierCell, figure, node, framesText, value, quantity, keys] = cells;
  const [tier, waived] = tierCell.split(" ");
  const frames = framesIn(framesText);
  const isTier = tiers.some((known) => known === tier) && (waived ?? "waived") === "waived";
  if (!isTier || frames === undefined) return null;
  return { check, tier, waived: waived !== undefined, figure, node, frames, value, quantity, keys };
}

/** @param {string} text @returns {Row["frames"] | undefined} undefined where it is none */
function framesIn(text) {
  if (text === "-") return null;
  const [from, to = from, ...others] = text.split(" to ").map(Number);
  return others.length === 0 && Number.isFinite(from) && Number.isFinite(to) ? [from, to] : undefined;
}
