// @ts-check
/** Notes as rows of a table: numbers in SI units, without words that change while what is measured stays. */
import { defaultSettings, registry } from "@keyside/core";
import { judge } from "@keyside/server";

/**
 * A note, as the corpus keeps it. Cells are texts, "-" for nothing; only frames are numbers.
 * @typedef {object} Row
 * @property {string} check
 * @property {string} tier
 * @property {boolean} waived whether somebody has said that it is meant
 * @property {string} figure
 * @property {string} node
 * @property {readonly [number, number] | null} frames
 * @property {string} value with its unit
 * @property {string} quantity
 * @property {string} keys the first of them, as "node channel frame", and how many more there are
 */

/**
 * @typedef {object} Judged
 * @property {readonly [number, number]} range @property {number | string} rate @property {readonly Row[]} rows
 */

/** Keys that a row names; the others are counted. */
const keysNamed = 3;

/**
 * What the checks say of a source.
 * @param {import("./sources.mjs").Source} source
 * @param {import("@keyside/core").ResolvedSettings} [settings]
 * @returns {Promise<Judged>}
 */
export async function judged(source, settings = defaultSettings(registry)) {
  const loaded = await source.load();
  const { notes, waived = [], range, frameRate } = judge(loaded, settings);
  const { numerator, denominator } = loaded.shot.frameRate;
  const rate = settings.rate ?? numerator / denominator;
  const rows = [
    ...notes.map((note) => rowOf(note, false, rate)),
    ...waived.map((note) => rowOf(note, true, rate)),
  ];
  return { range, rate: frameRate, rows: rows.sort(byPlace) };
}

/**
 * @param {Omit<import("@keyside/core").ReportedNote, "part">} note @param {boolean} waived
 * @param {number} rate judged frames per second
 * @returns {Row}
 */
export function rowOf({ check, tier, figure, node, frames, measured, keys }, waived, rate) {
  return {
    check: cell(check),
    tier,
    waived,
    figure: cell(figure),
    node: cell(node),
    frames: frames === null ? null : [tidyFrame(frames[0]), tidyFrame(frames[1])],
    value: measured === null ? "-" : inSiUnits(measured, rate),
    quantity: cell(measured?.quantity ?? null),
    keys: keysCell(keys),
  };
}

/** @param {string | null} text @returns {string} a text that holds no two spaces in a row, which part the columns */
function cell(text) {
  return (text ?? "").trim().replace(/\s+/g, " ") || "-";
}

/** @param {import("@keyside/core").ReportedNote["keys"]} keys */
function keysCell(keys) {
  const named = keys
    .slice(0, keysNamed)
    .map(({ node, channel, frame }) => `${node} ${channel} ${tidyFrame(frame)}`);
  const more = keys.length - named.length;
  return cell([...named, ...(more > 0 ? [`${more} more`] : [])].join("; "));
}

/** @param {number} frame to a thousandth, far below what moves a key */
const tidyFrame = (frame) => Math.round(frame * 1000) / 1000;

/** Below this a number in SI units is what rounding has left of 0. */
const nothing = 1e-9;

/** @type {Readonly<Record<string, { unit: string, factor: (rate: number) => number }>>} */
const conversions = {
  deg: { unit: "rad", factor: () => Math.PI / 180 },
  "deg/s": { unit: "rad/s", factor: () => Math.PI / 180 },
  frames: { unit: "s", factor: (rate) => 1 / rate },
  // Standard gravity, CGPM 1901.
  g: { unit: "m/s^2", factor: () => 9.80665 },
  share: { unit: "ratio", factor: () => 1 },
};

/**
 * A measured number with four significant digits and its SI unit.
 * @param {{ value: number, unit: string }} measured @param {number} rate judged frames per second
 */
export function inSiUnits({ value, unit }, rate) {
  const conversion = conversions[unit];
  const number = conversion === undefined ? value : value * conversion.factor(rate);
  return `${Math.abs(number) < nothing ? 0 : Number(number.toPrecision(4))} ${conversion?.unit ?? unit}`;
}

/**
 * By check, node and frames: a note that gets another tier or value keeps its line.
 * @param {Row} a @param {Row} b
 */
export function byPlace(a, b) {
  const [from, to] = a.frames ?? [0, 0];
  const [otherFrom, otherTo] = b.frames ?? [0, 0];
  return (
    byText(a.check, b.check) ||
    byText(a.node, b.node) ||
    from - otherFrom ||
    to - otherTo ||
    byText(JSON.stringify(a), JSON.stringify(b))
  );
}

/** The same order on every machine. @param {string} a @param {string} b */
function byText(a, b) {
  return a < b ? -1 : a > b ? 1 : 0;
}
