import type { Problems } from "../problems.ts";

/** One cell of a table: its text without quotes, and where it stands. */
export interface Cell {
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

export interface Table {
  readonly rows: readonly (readonly Cell[])[];
  readonly delimiter: "," | ";" | "\t";
}

/**
 * Reads comma-separated values after RFC 4180; semicolons and tabs are taken for delimiters where the first line has
 * more of them than commas between its cells. Empty lines are passed over.
 */
export function readTable(text: string, problems: Problems): Table {
  const from = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  const delimiter = delimiterOf(text, from);
  const rows: Cell[][] = [];
  let row: Cell[] = [];
  for (let at = from; at < text.length; ) {
    const cell = text[at] === '"' ? quotedCell(text, at, problems) : plainCell(text, at, delimiter);
    row.push(cell);
    at = cell.end;
    while (at < text.length && text[at] !== delimiter && text[at] !== "\n" && text[at] !== "\r") at++;
    const endsRow = at >= text.length || text[at] !== delimiter;
    if (!endsRow && at + 1 === text.length) row.push({ text: "", start: text.length, end: text.length });
    at++;
    if (!endsRow) continue;
    if (row.length > 1 || row[0].text !== "") rows.push(row);
    row = [];
  }
  if (row.length > 0) rows.push(row);
  return { rows, delimiter };
}

/** What parts the cells of the first line, counted outside of quoted cells: a name may have any of these marks in it. */
function delimiterOf(text: string, from: number): Table["delimiter"] {
  const counts = { ",": 0, ";": 0, "\t": 0 };
  let beginsCell = true;
  for (let at = from; at < text.length && text[at] !== "\n" && text[at] !== "\r"; at++) {
    const mark = text[at];
    if (beginsCell && mark === '"') at = quoteEnd(text, at);
    beginsCell = mark === "," || mark === ";" || mark === "\t";
    if (mark === "," || mark === ";" || mark === "\t") counts[mark]++;
  }
  if (counts["\t"] > Math.max(counts[","], counts[";"])) return "\t";
  return counts[";"] > counts[","] ? ";" : ",";
}

function plainCell(text: string, start: number, delimiter: string): Cell {
  let end = start;
  while (end < text.length && text[end] !== delimiter && text[end] !== "\n" && text[end] !== "\r") end++;
  return { text: text.slice(start, end).trim(), start, end };
}

function quotedCell(text: string, start: number, problems: Problems): Cell {
  const last = quoteEnd(text, start);
  if (last === text.length) {
    problems.add("quote", "This quotation mark is never closed; add a closing one.", start, start + 1);
    return { text: text.slice(start + 1), start, end: text.length };
  }
  return { text: text.slice(start + 1, last).replaceAll('""', '"'), start, end: last + 1 };
}

/** Where the quotation mark stands that closes the one at `start`, past those that stand for themselves; the text's end without one. */
function quoteEnd(text: string, start: number): number {
  let at = start + 1;
  while (at < text.length && (text[at] !== '"' || text[at + 1] === '"')) at += text[at] === '"' ? 2 : 1;
  return Math.min(at, text.length);
}

/** A cell as a number, NaN if it is none; a decimal comma is read where commas do not part cells. */
export function numberIn(cell: Cell, delimiter: Table["delimiter"]): number {
  const word = delimiter === "," ? cell.text : cell.text.replace(",", ".");
  return /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(word) ? Number(word) : Number.NaN;
}

/** What a spreadsheet takes for a formula where a cell begins so. */
const formula = /^[=+\-@\t\r]/;

/** How cells are written. */
export interface CellStyle {
  /** Whether texts that a spreadsheet would run as a formula get an apostrophe before them. */
  readonly safeCells?: boolean | undefined;
  /** Whether numbers have a decimal comma; semicolons part the cells then. */
  readonly decimalComma?: boolean | undefined;
}

/** A row as CSV writes it (RFC 4180), ended by CRLF. It is read back as it was, apostrophes of safe cells included. */
export function writtenRow(cells: readonly (string | number)[], style: CellStyle): string {
  const delimiter = style.decimalComma === true ? ";" : ",";
  return `${cells.map((cell) => written(cell, style)).join(delimiter)}\r\n`;
}

/** A cell as CSV writes it; NaN is an empty one. */
export function written(
  cell: string | number,
  { safeCells = false, decimalComma = false }: CellStyle = {},
): string {
  if (typeof cell === "number") {
    if (Number.isNaN(cell)) return "";
    return decimalComma ? String(cell).replace(".", ",") : String(cell);
  }
  const text = safeCells && formula.test(cell) ? `'${cell}` : cell;
  return /[",;\t\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
