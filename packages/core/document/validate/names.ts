/** The name of a list that takes the fewest single-letter changes to reach from `name`. */
export function nearestName(name: string, known: readonly string[]): string {
  let nearest = known[0];
  let least = Number.POSITIVE_INFINITY;
  const short = name.slice(0, 64).toLowerCase();
  for (const candidate of known) {
    const changes = changesBetween(short, candidate.toLowerCase());
    if (changes < least) {
      least = changes;
      nearest = candidate;
    }
  }
  return nearest;
}

/** How a sentence about an unknown name goes on: with the known name that was probably meant, if one is near. */
export function meant(name: string, known: readonly string[]): string {
  if (known.length === 0) return ".";
  const near = nearestName(name, known);
  const isNear = changesBetween(name.slice(0, 64), near.slice(0, 64)) <= Math.max(1, near.length / 2);
  return isNear ? `; did you mean "${near}"?` : ".";
}

/** Levenshtein distance: insertions, deletions and replacements of single letters. */
function changesBetween(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const replaced = row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(replaced, row[j] + 1, next[j - 1] + 1));
    }
    row = next;
  }
  return row[b.length];
}
