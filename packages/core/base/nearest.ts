/**
 * The name that was probably meant: the one with the fewest letters changed, added, left out or swapped with their
 * neighbour (optimal string alignment distance), if that is at most a third of the word; null where none is near.
 */
export function nearestName(written: string, names: Iterable<string>): string | null {
  let nearest: string | null = null;
  let fewest = Math.max(1, Math.floor(written.length / 3)) + 1;
  const word = written.toLowerCase();
  for (const name of names) {
    const edits = distance(word, name.toLowerCase());
    if (edits < fewest) {
      fewest = edits;
      nearest = name;
    }
  }
  return nearest;
}

/** ` Did you mean "x"?`, or nothing. */
export function suggestion(written: string, names: Iterable<string>): string {
  const nearest = nearestName(written, names);
  return nearest === null ? "" : ` Did you mean "${nearest}"?`;
}

function distance(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const cost = a[i - 1] === b[j - 1] ? 0 : 1;
      let edits = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + cost);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        edits = Math.min(edits, before[j - 2] + 1);
      }
      row.push(edits);
    }
    before = last;
    last = row;
  }
  return last[b.length];
}
