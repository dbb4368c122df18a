/** Median of the finite numbers of a series; NaN where there are none. */
export function medianOf(series: ArrayLike<number>): number {
  const sorted = Float64Array.from(Array.from(series).filter(Number.isFinite)).sort();
  const half = sorted.length >> 1;
  if (sorted.length === 0) return Number.NaN;
  return sorted.length % 2 === 1 ? sorted[half] : 0.5 * (sorted[half - 1] + sorted[half]);
}
