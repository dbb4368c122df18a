/** Median of the finite numbers of a series; NaN where there are none. */
export function medianOf(series: ArrayLike<number>): number {
  const finite = new Float64Array(series.length);
  let count = 0;
  for (let k = 0; k < series.length; k++) if (Number.isFinite(series[k])) finite[count++] = series[k];
  return middleOf(finite.subarray(0, count).sort());
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

/**
 * The number at a place in the order of some numbers, as sorting them would give it; they are moved about.
 * @param values numbers; NaN counts as the greatest
 * @param place from 0 for the smallest one
 */
export function inOrder(values: Float64Array, place: number): number {
  // What cannot be compared is left to sorting.
  for (let k = 0; k < values.length; k++) if (Number.isNaN(values[k])) return values.sort()[place];
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1];
    let i = low;
    let k = high;
    while (i <= k) {
      while (values[i] < pivot) i++;
      while (values[k] > pivot) k--;
      if (i > k) break;
      const value = values[i];
      values[i++] = values[k];
      values[k--] = value;
    }
    if (place <= k) high = k;
    else if (place >= i) low = i;
    else return pivot;
  }
  return values[place];
}
