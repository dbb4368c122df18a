/** Median of the finite numbers of a series; NaN where there are none. */
export function medianOf(series: ArrayLike<number>): number {
  return middleOf(Float64Array.from(Array.from(series).filter(Number.isFinite)).sort());
}

/** Median of finite numbers that are in order; NaN where there are none. */
export function middleOf(sorted: Float64Array): number {
  const half = sorted.length >> 1;
  if (sorted.length === 0) return Number.NaN;
  return sorted.length % 2 === 1 ? sorted[half] : 0.5 * (sorted[half - 1] + sorted[half]);
}

/**
 * Times this, the median of the absolute deviations of normal noise is its standard deviation: 1 / Φ⁻¹(3/4) (F. R.
 * Hampel 1974, "The influence curve and its role in robust estimation").
 */
export const perMedianDeviation = 1.4826;
