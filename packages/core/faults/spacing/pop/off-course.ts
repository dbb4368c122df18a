/** A stretch of samples off the course of a series. */
export interface Stray {
  /** Index of the first sample off the course, and how many there are (3 and more). */
  readonly at: number;
  readonly length: number;
  /** How far the furthest of them is off, and from where on it would count, in the series' unit. */
  readonly deviation: number;
  readonly limit: number;
}

/** How far samples are off the cubic through the two on either side of them, at most. */
export function offCourse(path: Float64Array, at: number, length: number): number {
  if (at < 2 || at + length + 1 >= path.length / 3) return 0;
  const weights = courseWeights(length);
  const a = 3 * (at - 2);
  const b = 3 * (at - 1);
  const c = 3 * (at + length);
  const d = 3 * (at + length + 1);
  let most = 0;
  for (let i = 0, k = 3 * at, w = 0; i < length; i++, k += 3, w += 4) {
    const wa = weights[w];
    const wb = weights[w + 1];
    const wc = weights[w + 2];
    const wd = weights[w + 3];
    const x = path[k] - (wa * path[a] + wb * path[b] + wc * path[c] + wd * path[d]);
    const y = path[k + 1] - (wa * path[a + 1] + wb * path[b + 1] + wc * path[c + 1] + wd * path[d + 1]);
    const z = path[k + 2] - (wa * path[a + 2] + wb * path[b + 2] + wc * path[c + 2] + wd * path[d + 2]);
    most = Math.max(most, x * x + y * y + z * z);
  }
  return Math.sqrt(most);
}

/**
 * Fourth differences of a series, squared: one number per sample, of which the first and last two have none. By
 * {@link mostOff} they tell how far a stretch can be off its course at most.
 * @param path 3 numbers per sample
 * @param out as many numbers as there are samples, or more
 */
export function fourthDifferences(path: Float64Array, out: Float64Array): void {
  for (let i = 2, k = 6; k + 8 < path.length; i++, k += 3) {
    const x = 6 * path[k] - 4 * (path[k - 3] + path[k + 3]) + path[k - 6] + path[k + 6];
    const y = 6 * path[k + 1] - 4 * (path[k - 2] + path[k + 4]) + path[k - 5] + path[k + 7];
    const z = 6 * path[k + 2] - 4 * (path[k - 1] + path[k + 5]) + path[k - 4] + path[k + 8];
    out[i] = x * x + y * y + z * z;
  }
}

/**
 * How many times its largest fourth difference a stretch can be off its course at most, squared, a rounding allowed for.
 * What a cubic through four samples misses at another one is their divided difference times the product of the distances
 * to the four; and that of samples at equal distances is a mean of the fourth differences among them, over 4!.
 */
export function mostOff(length: number): number {
  const known = mostByLength[length];
  if (known !== undefined) return known;
  let most = 0;
  for (let i = 0; i < length; i++)
    most = Math.max(most, ((i + 2) * (i + 1) * (length - i) * (length + 1 - i)) / 24);
  mostByLength[length] = roundingAllowed * most * most;
  return mostByLength[length];
}

const mostByLength: number[] = [];
/** So many times what the bound says is let pass, for what rounding adds to it. */
const roundingAllowed = 1.01;

const weightsByLength: Float64Array[] = [];

/** Lagrange's weights of the two samples on either side of `length` others, four for each of these: the same wherever they lie. */
function courseWeights(length: number): Float64Array {
  const known = weightsByLength[length];
  if (known !== undefined) return known;
  const weights = new Float64Array(4 * length);
  const a = -2;
  const b = -1;
  const c = length;
  const d = length + 1;
  for (let i = 0; i < length; i++) {
    weights[4 * i] = ((i - b) * (i - c) * (i - d)) / ((a - b) * (a - c) * (a - d));
    weights[4 * i + 1] = ((i - a) * (i - c) * (i - d)) / ((b - a) * (b - c) * (b - d));
    weights[4 * i + 2] = ((i - a) * (i - b) * (i - d)) / ((c - a) * (c - b) * (c - d));
    weights[4 * i + 3] = ((i - a) * (i - b) * (i - c)) / ((d - a) * (d - b) * (d - c));
  }
  weightsByLength[length] = weights;
  return weights;
}
