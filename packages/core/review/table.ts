/** A row of a table of comma-separated values, and the line on which it begins. */
export interface CsvRow {
  readonly line: number;
  readonly cells: readonly string[];
}

/** Rows of cells as comma-separated values (RFC 4180), lines ending in CR LF. */
export function csvOf(rows: readonly (readonly string[])[]): string {
  const cell = (text: string) => (/[",\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  return rows.map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

/**
 * Reads comma-separated values (RFC 4180): cells in quotes may hold commas, quotes written twice, and ends of lines.
 * Commas are expected; where the first line has none and has semicolons or tabs, those.
 */
export function csvRows(text: string): readonly CsvRow[] {
  const source = text.replace(/^\ufeff/, "");
  const head = /^[^\r\n]*/.exec(source)?.[0] ?? "";
  const comma = head.includes(",") ? "," : head.includes(";") ? ";" : head.includes("\t") ? "\t" : ",";
  const rows: CsvRow[] = [];
  let [cells, cell, line, start]: [string[], string, number, number] = [[], "", 1, 1];
  let isQuoted = false;
  const endRow = () => {
    cells.push(cell);
    if (cells.length > 1 || cell !== "") rows.push({ line: start, cells });
    [cells, cell] = [[], ""];
  };
  for (let i = 0; i < source.length; i++) {
    const c = source[i] as string;
    const isEnd = c === "\n" || (c === "\r" && source[i + 1] !== "\n");
    if (isEnd) line++;
    if (isQuoted) {
      if (c !== '"') cell += c;
      else if (source[i + 1] === '"') cell += source[i++];
      else isQuoted = false;
    } else if (c === '"' && cell === "") isQuoted = true;
    else if (c === comma) {
      cells.push(cell);
      cell = "";
    } else if (isEnd) {
      endRow();
      start = line;
    } else if (c !== "\r") cell += c;
  }
  endRow();
  return rows;
}
