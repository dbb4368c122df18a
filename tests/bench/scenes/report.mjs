// @ts-check
/**
 * The table of the scenes.
 * @import { SceneRecord, Size } from "./scenes.d.ts"
 */
import { wilson } from "../shots/scores/wilson.mjs";

const sizes = /** @type {const} */ (["barely", "ordinary", "strong"]);

/** @param {readonly SceneRecord[]} records @returns {string} */
export function reportOf(records) {
  const halves = /** @type {const} */ (["open", "shut"]);
  const rows = halves.flatMap((half) => {
    const own = records.filter((record) => record.half === half);
    return own.length === 0 ? [] : [rowOf(half, own)];
  });
  if (rows.length === 2) rows.push(rowOf("both", records));
  return [
    "| half | scenes | flaws | said: barely seen | said: ordinary | said: strong | all (95 % interval) | first of the supervisor's among our first two | majors on clean scenes | per 1,000 frames | notes on clean scenes per 100 frames |",
    "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |",
    ...rows,
  ].join("\n");
}

/** @param {string} name @param {readonly SceneRecord[]} records */
function rowOf(name, records) {
  const flaws = records.flatMap((record) => record.flaws);
  const sum = (/** @type {(record: SceneRecord) => number} */ of) =>
    records.reduce((all, record) => all + of(record), 0);
  const frames = sum((record) => record.frames);
  const majors = sum((record) => record.majors);
  const early = records.filter(({ firstSaidBy }) => firstSaidBy !== null && firstSaidBy < 2).length;
  const said = (/** @type {Size} */ size) => shareOf(flaws.filter((flaw) => flaw.size === size));
  const all = flaws.filter(({ isSaid }) => isSaid).length;
  const [low, high] = wilson(all, flaws.length);
  const cells = [
    name,
    records.length,
    flaws.length,
    ...sizes.map(said),
    `${(all / flaws.length).toFixed(2)} (${low.toFixed(2)}–${high.toFixed(2)})`,
    `${early} of ${records.length}`,
    majors,
    ((1000 * majors) / frames).toFixed(2),
    ((100 * sum((record) => record.notes)) / frames).toFixed(2),
  ];
  return `| ${cells.join(" | ")} |`;
}

/** @param {readonly { isSaid: boolean }[]} flaws */
function shareOf(flaws) {
  const said = flaws.filter(({ isSaid }) => isSaid).length;
  return flaws.length === 0 ? "—" : `${(said / flaws.length).toFixed(2)} (${said} of ${flaws.length})`;
}
