/** A place as people and editors count it: from 1, columns in UTF-16 code units. */
export interface LineColumn {
  readonly line: number;
  readonly column: number;
}

/**
 * Offsets at which the lines of a text start; the first is 0. Lines end with "\n", "\r\n" or "\r".
 * @param text any text
 * @returns one offset per line, ascending
 */
export function lineStartsOf(text: string): Int32Array {
  let starts = new Int32Array(1024);
  let count = 1;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c !== 10 && c !== 13) continue;
    if (c === 13 && text.charCodeAt(i + 1) === 10) i++;
    if (count === starts.length) {
      const wider = new Int32Array(count * 2);
      wider.set(starts);
      starts = wider;
    }
    starts[count++] = i + 1;
  }
  return starts.slice(0, count);
}

/**
 * Line and column of an offset; offsets outside the text count as its start, or as the last line's continuation.
 * @param lineStarts offsets of the lines (`lineStartsOf`)
 * @param offset in UTF-16 code units from the start of the text
 * @returns line and column, counted from 1
 */
export function placeAt(lineStarts: Int32Array, offset: number): LineColumn {
  let low = 0;
  let high = lineStarts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (lineStarts[middle] <= offset) low = middle;
    else high = middle - 1;
  }
  return { line: low + 1, column: Math.max(0, offset - lineStarts[low]) + 1 };
}
