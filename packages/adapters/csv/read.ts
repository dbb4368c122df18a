import type { Curve, ReadResult, Shot } from "@keyside/core";
import { isFrameRate, isUsable, whyUnusable } from "@keyside/core/internal";
import { rateOfNumber, writtenRate } from "../frame-rate.ts";
import { Problems } from "../problems.ts";
import { plainZeros } from "../zeros.ts";
import { CurveTable, type HandleCells } from "./curve-table.ts";
import { drivenBy, handleColumns } from "./names.ts";
import type { NodeTable } from "./node-table.ts";
import { steadyTurns } from "./steady-turns.ts";
import { type Cell, numberIn, readTable, type Table } from "./table.ts";

export interface CsvOptions {
  /** Frames per second of the table's frame numbers; 24 if neither this nor the header says it. */
  readonly rate?: number;
  readonly metresPerUnit?: number;
  readonly name?: string;
  /** The hierarchy that the table drives; without it each node stands alone, at the origin. */
  readonly nodes?: readonly Shot["header"]["nodes"][number][];
  /** What a node table beside says; its nodes go before those above. */
  readonly beside?: NodeTable;
}

/**
 * Reads keys from a table of comma-separated values with a header line, in either of two layouts:
 *
 * - long, one number per row: columns `frame`, `node`, `channel`, `value` and, if wished, `interpolation`;
 * - wide, one frame per row: a column `frame`, the others named `node.channel`, such as `hips.translation.y`; an empty
 *   cell is no key.
 *
 * The frame column may tell the rate: `frame@24`, `frame@24000/1001`. A quaternion is written as the four channels
 * `quaternion.x` to `quaternion.w`. Angles are degrees; where all three of a node have a key on every frame, those of
 * the same turn that are nearest to the frame before are taken.
 */
export function readCsv(text: string, options: CsvOptions = {}): ReadResult {
  const problems = new Problems();
  const table = readTable(text, problems);
  const header = table.rows[0];
  if (header === undefined) {
    problems.add("empty-file", "The table is empty; its first line has to name the columns.");
    return { shot: null, problems: problems.all(), places: new Map() };
  }
  const names = header.map((cell) => cell.text.toLowerCase());
  const frameAt = names.findIndex((name) => /^frame(@.*)?$/.test(name));
  if (frameAt < 0) {
    const message = 'The table has no column "frame"; name it in the first line.';
    problems.add("column", message, header[0].start, header[header.length - 1].end);
    return { shot: null, problems: problems.all(), places: new Map() };
  }
  const curveTable = new CurveTable();
  const isLong = ["node", "channel", "value"].every((name) => names.includes(name));
  if (isLong) readLong(table, names, frameAt, curveTable, problems);
  else readWide(table, frameAt, curveTable, problems);
  const given = options.beside?.nodes ?? options.nodes ?? [];
  const made = curveTable.curves(text.length, problems);
  // Keys that say how they run mean the way that they name; those of recordings do not say it.
  const curves = isLong && names.includes("interpolation") ? made : steadyTurns(made, given);
  const rate = rateOf(header[frameAt], options, problems);
  const nodes = [...given];
  const known = new Set(nodes.map(({ id }) => id));
  for (const { node } of curves) {
    if (known.has(node)) continue;
    known.add(node);
    nodes.push({ id: node });
  }
  if (nodes.length === 0 && problems.all().length === 0) {
    problems.add("no-keys", "The table has no key that can be read; a row below the first line is one.");
  }
  const { beside } = options;
  const name = beside?.name ?? options.name;
  const metresPerUnit = options.metresPerUnit ?? beside?.metresPerUnit;
  const shot: Shot = {
    header: {
      format: "keyside.curves",
      version: 1,
      shot: { ...(name === undefined ? {} : { name }), frameRate: writtenRate(rate) },
      space: {
        ...(metresPerUnit === undefined ? {} : { metresPerUnit }),
        // A table by itself is taken for y up; one whose nodes are told says it, or leaves it to be found out.
        ...(beside === undefined ? { up: "y" as const } : beside.up === undefined ? {} : { up: beside.up }),
        angle: beside?.angle ?? "degrees",
      },
      nodes,
    },
    frameRate: rate,
    range: beside?.range ?? rangeOf(curves),
    curves,
  };
  return { shot: nodes.length === 0 ? null : plainZeros(shot), problems: problems.all(), places: new Map() };
}

function rateOf(cell: Cell, options: CsvOptions, problems: Problems): Shot["frameRate"] {
  if (options.rate !== undefined) return rateOfNumber(options.rate);
  const match = /@\s*(\d+(?:\.\d+)?)(?:\/(\d+))?\s*$/.exec(cell.text);
  const [numerator, denominator] = [Number(match?.[1]), Number(match?.[2] ?? 1)];
  if (match !== null && isFrameRate(numerator / denominator)) {
    return match[2] === undefined ? rateOfNumber(numerator) : { numerator, denominator };
  }
  const message = 'The table does not tell its frame rate, 24 is assumed; name the column "frame@24".';
  problems.add("frame-rate", message, cell.start, cell.end);
  return { numerator: 24, denominator: 1 };
}

function rangeOf(curves: readonly Curve[]): readonly [number, number] {
  let first = Number.POSITIVE_INFINITY;
  let last = Number.NEGATIVE_INFINITY;
  for (const { frames } of curves) {
    first = Math.min(first, frames[0]);
    last = Math.max(last, frames[frames.length - 1]);
  }
  return first <= last ? [Math.floor(first), Math.ceil(last)] : [1, 1];
}

function frameOf(row: readonly Cell[], at: number, table: Table, problems: Problems): number {
  const cell = row[at] ?? { text: "", start: row[0].start, end: row[row.length - 1].end };
  const frame = numberIn(cell, table.delimiter);
  if (!isUsable(frame)) {
    problems.add("frame", `"${cell.text}" is no frame; the row is passed over.`, cell.start, cell.end);
  }
  return frame;
}

function readWide(table: Table, frameAt: number, curves: CurveTable, problems: Problems): void {
  const [header, ...rows] = table.rows;
  const columns = header.map((cell, i) => {
    if (i === frameAt || cell.text === "") return null;
    const match = /^(.+)\.([a-z]+\.[xyzw])$/i.exec(cell.text);
    const driven = match === null ? null : drivenBy(match[2]);
    if (match === null || driven === null) {
      const message = `"${cell.text}" is no column of the kind node.translation.x; it is passed over.`;
      problems.add("column", message, cell.start, cell.end);
      return null;
    }
    return { node: match[1], driven };
  });
  for (const row of rows) {
    const frame = frameOf(row, frameAt, table, problems);
    if (!isUsable(frame)) continue;
    if (row.length !== header.length) {
      const message = `This row has ${row.length} cells, and the first line names ${header.length} columns.`;
      problems.add("row-length", message, row[0].start, row[row.length - 1].end);
    }
    columns.forEach((column, i) => {
      const cell = row[i];
      if (column === null || cell === undefined || cell.text === "") return;
      const value = valueIn(cell, table, problems);
      if (isUsable(value)) curves.add(column.node, column.driven, frame, value, cell, null);
    });
  }
}

function readLong(
  table: Table,
  names: readonly string[],
  frameAt: number,
  curves: CurveTable,
  problems: Problems,
): void {
  const [nodeAt, channelAt, valueAt] = ["node", "channel", "value"].map((name) => names.indexOf(name));
  const modeAt = names.indexOf("interpolation");
  const handlesAt = handleColumns.map((name) => names.indexOf(name));
  for (const row of table.rows.slice(1)) {
    const [node, channel, cell] = [row[nodeAt], row[channelAt], row[valueAt]];
    if (node === undefined || channel === undefined || cell === undefined || node.text === "") {
      const message = "This row lacks a node, a channel or a value; it is passed over.";
      problems.add("row-length", message, row[0].start, row[row.length - 1].end);
      continue;
    }
    const frame = frameOf(row, frameAt, table, problems);
    const driven = drivenBy(channel.text);
    if (driven === null) {
      const message = `"${channel.text}" is no channel such as translation.x or quaternion.w; the row is passed over.`;
      problems.add("channel-name", message, channel.start, channel.end);
      continue;
    }
    const value = valueIn(cell, table, problems);
    const mode = modeAt < 0 || row[modeAt]?.text === "" ? null : (row[modeAt] ?? null);
    if (isUsable(frame) && isUsable(value)) {
      const handles = handlesIn(row, handlesAt, table, problems);
      curves.add(node.text, driven, frame, value, cell, { mode, handles });
    }
  }
}

/** The four numbers of a key's handles; null where none is given. */
function handlesIn(
  row: readonly Cell[],
  columns: readonly number[],
  table: Table,
  problems: Problems,
): HandleCells | null {
  let isGiven = false;
  const handles = columns.map((column) => {
    const cell = row[column];
    if (cell === undefined || cell.text === "") return Number.NaN;
    const value = valueIn(cell, table, problems, "that handle is left out");
    isGiven ||= !Number.isNaN(value);
    return value;
  });
  return isGiven ? (handles as unknown as HandleCells) : null;
}

function valueIn(cell: Cell, table: Table, problems: Problems, outcome = "there is no key there"): number {
  const value = numberIn(cell, table.delimiter);
  if (isUsable(value)) return value;
  problems.add("number", `"${cell.text}" ${whyUnusable(value)}; ${outcome}.`, cell.start, cell.end);
  return Number.NaN;
}
