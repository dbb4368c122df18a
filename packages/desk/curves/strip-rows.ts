/** A note as it lies on the strip. */
export interface Spanned {
  readonly frames: readonly [number, number];
}

/**
 * Lays notes into rows so that none covers another, the first ones, which matter most, uppermost.
 * @param least frames that a note takes at least, so that its number has room
 * @param rows the most rows that there are
 * @returns the row of each note; -1 for one that finds no room
 */
export function rowsOf(notes: readonly Spanned[], least: number, rows: number): Int16Array {
  const taken: [number, number][][] = Array.from({ length: rows }, () => []);
  return Int16Array.from(notes, ({ frames: [from, to] }) => {
    const middle = (from + to) / 2;
    const half = Math.max(to - from + 0.2, least) / 2;
    const [left, right] = [middle - half, middle + half];
    for (let row = 0; row < rows; row++) {
      if (taken[row].every(([a, b]) => right <= a || left >= b)) {
        taken[row].push([left, right]);
        return row;
      }
    }
    return -1;
  });
}
