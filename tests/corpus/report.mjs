// @ts-check
/** Differences in words that a reviewer reads at a glance. */
import { framesCell } from "./table.mjs";

/** @typedef {import("./rows.mjs").Row} Row */
/** @typedef {import("./diff.mjs").Changed} Changed */
/** @typedef {import("./diff.mjs").Difference} Difference */

/** @typedef {{ mark: "-" | "+" | "~", row: Row, text: string }} Entry */

/**
 * A source's differences: under each check what is gone (-), new (+) and changed (~).
 * @param {string} name @param {Difference} difference @returns {string[]}
 */
export function sourceLines(name, { gone, added, changed }) {
  /** @type {Entry[]} */
  const entries = [
    ...gone.map((row) => entry("-", row, measuredWords(row))),
    ...added.map((row) => entry("+", row, measuredWords(row))),
    ...changed.map((pair) => entry("~", pair.after, changeWords(pair))),
  ];
  const checks = [...new Set(entries.map(({ row }) => row.check))].sort();
  const lines = checks.flatMap((check) => [
    `  ${check}`,
    ...entries
      .filter(({ row }) => row.check === check)
      .sort((a, b) => (a.row.frames?.[0] ?? 0) - (b.row.frames?.[0] ?? 0))
      .map(({ mark, row, text }) => `    ${mark} ${placeWords(row)}: ${text}`),
  ]);
  return [name, ...lines];
}

/** @param {Entry["mark"]} mark @param {Row} row @param {string} text @returns {Entry} */
function entry(mark, row, text) {
  return { mark, row, text };
}

/** @param {Row} row */
function placeWords({ tier, waived, node, frames }) {
  const at = frames === null ? "" : `, ${frames[0] === frames[1] ? "frame" : "frames"} ${framesCell(frames)}`;
  return `${tier}${waived ? " (waived)" : ""} ${node}${at}`;
}

/** @param {Row} row */
function measuredWords({ value, quantity, keys }) {
  return [...(value === "-" ? [] : [`${quantity} ${value}`]), keys === "-" ? "no keys" : `keys ${keys}`].join(
    "; ",
  );
}

/** @param {Changed} changed */
function changeWords({ before, after, fields }) {
  const words = fields.map((field) => {
    if (field === "waived") return after.waived ? "now waived" : "no longer waived";
    const [from, to] = [before, after].map((row) =>
      field === "frames" ? framesCell(row.frames) : row[field],
    );
    return `${field} ${from} → ${to}`;
  });
  return words.join("; ");
}

/**
 * How many notes of each check are gone, new, changed and the same.
 * @param {readonly Difference[]} differences @returns {string[]}
 */
export function summaryLines(differences) {
  /** @type {Map<string, number[]>} */
  const counts = new Map();
  const count = (/** @type {Row} */ { check }, /** @type {number} */ column) => {
    const row = counts.get(check) ?? [0, 0, 0, 0];
    row[column]++;
    counts.set(check, row);
  };
  for (const { gone, added, changed, same } of differences) {
    for (const row of gone) count(row, 0);
    for (const row of added) count(row, 1);
    for (const { after } of changed) count(after, 2);
    for (const row of same) count(row, 3);
  }
  const names = [...counts.keys()].sort();
  const total = [0, 1, 2, 3].map((i) => [...counts.values()].reduce((sum, row) => sum + row[i], 0));
  const width = Math.max(5, ...names.map(({ length }) => length));
  const line = (/** @type {string} */ name, /** @type {readonly (string | number)[]} */ cells) =>
    name.padEnd(width) + cells.map((text) => String(text).padStart(9)).join("");
  return [
    line("check", ["gone", "new", "changed", "same"]),
    ...names.map((name) => line(name, counts.get(name) ?? [])),
    line("all", total),
  ];
}
