import type { Layout } from "./layout.ts";

/** A column of a table in plain text. */
export interface Column {
  readonly head: string;
  /** Characters below which it is not narrowed while another column can still give way. */
  readonly least: number;
  /** Where a table is too wide, columns with a rank are left out, the lowest first; others always stay. */
  readonly rank?: number;
  /** What is cut off where a cell does not fit; its end if left out. */
  readonly cut?: "start" | "end";
}

/** Spaces between two columns. */
const gap = 2;

/**
 * Widths of columns so that no line passes the layout's. A column in which nothing stands is left out: its width is 0.
 * So are those that can be spared, where the others would have to be narrower than their least. Then the widest are
 * narrowed.
 * @param indent characters before the first column
 */
export function columnWidths(
  layout: Layout,
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  indent: number,
): number[] {
  const room = Math.max(0, layout.width - indent);
  const widths = columns.map(({ head }, index) =>
    Math.max(head.length, ...rows.map((cells) => cells[index]?.length ?? 0)),
  );
  const leastOf = (index: number) => Math.min(widths[index] as number, columns[index]?.least ?? 0);
  let shown = columns.flatMap((_, index) => (rows.every((cells) => !cells[index]) ? [] : [index]));
  const total = (widthOf: (index: number) => number) =>
    shown.reduce((sum, index) => sum + widthOf(index), gap * (shown.length - 1));
  const spare = shown
    .filter((index) => columns[index]?.rank !== undefined)
    .sort((a, b) => (columns[a]?.rank ?? 0) - (columns[b]?.rank ?? 0));
  while (spare.length > 0 && total(leastOf) > room) {
    const first = spare.shift();
    shown = shown.filter((index) => index !== first);
  }
  for (const floor of [leastOf, () => 1]) {
    for (let over = total((index) => widths[index] as number) - room; over > 0; over--) {
      const narrowable = shown.filter((index) => (widths[index] as number) > floor(index));
      if (narrowable.length === 0) break;
      const widest = narrowable.reduce((a, b) => ((widths[b] as number) > (widths[a] as number) ? b : a));
      widths[widest] = (widths[widest] as number) - 1;
    }
  }
  return widths.map((width, index) => (shown.includes(index) ? width : 0));
}

/** Cells as one line under their columns' widths; "…" stands for what does not fit. */
export function lineOf(
  cells: readonly string[],
  columns: readonly Column[],
  widths: readonly number[],
  indent: number,
): string {
  const shown = widths.flatMap((width, index) =>
    width === 0 ? [] : [cutTo(width, cells[index] ?? "", columns[index]?.cut).padEnd(width)],
  );
  return `${" ".repeat(indent)}${shown.join(" ".repeat(gap))}`.trimEnd();
}

function cutTo(width: number, text: string, cut: Column["cut"]): string {
  if (text.length <= width) return text;
  return cut === "start" ? `…${text.slice(text.length - width + 1)}` : `${text.slice(0, width - 1)}…`;
}
