// @ts-check
/**
 * The table of what fixes do, by check.
 * @import { FixCase } from "./kept.d.ts"
 */

/** @param {readonly FixCase[]} cases @returns {string} */
export function printed(cases) {
  const checks = [...new Set(cases.map(({ check }) => check))].sort();
  const rows = checks.map((check) =>
    row(
      check,
      cases.filter((one) => one.check === check),
    ),
  );
  const head = [
    "check",
    "said",
    "offered",
    "clears",
    "good",
    "damage",
    "sketch",
    "moves",
    "keys 50/95",
    "added 95",
  ];
  return [head, ...rows, row("all", cases)]
    .map((cells) => cells.map((cell, i) => (i === 0 ? cell.padEnd(20) : cell.padStart(11))).join(""))
    .join("\n");
}

/** @param {string} name @param {readonly FixCase[]} cases */
function row(name, cases) {
  const offered = cases.filter((one) => one.offered);
  const cleared = offered.filter((one) => one.cleared);
  const good = cleared.filter((one) => one.broken?.length === 0);
  const keys = offered.map((one) => one.keys ?? 0);
  const added = offered.map((one) => one.added ?? 0);
  const moves = offered.map((one) => one.moves.length);
  return [
    name,
    String(cases.length),
    String(offered.length),
    String(cleared.length),
    `${good.length} ${(good.length / Math.max(1, cases.length)).toFixed(2)}`,
    String(offered.filter((one) => one.broken?.length !== 0).length),
    String(cases.filter((one) => one.sketch).length),
    `${quantile(moves, 0.5)}/${quantile(moves, 0.95)}`,
    `${quantile(keys, 0.5)}/${quantile(keys, 0.95)}`,
    String(quantile(added, 0.95)),
  ];
}

/** @param {readonly number[]} numbers @param {number} share */
function quantile(numbers, share) {
  const sorted = [...numbers].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;
}
