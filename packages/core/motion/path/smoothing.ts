import { bytes, floats } from "../../base/room.ts";
/** Smoothing, differentiating and outlier rules for evenly sampled series. */

/** Median absolute deviation × this is the standard deviation of normal data: 1 / (√2 · erf⁻¹(½)). */
export const madScale = 1.482602218506;

/** Median of the finite numbers of a series; NaN where there are none. */
export function medianOf(series: ArrayLike<number>): number {
  const sorted = Float64Array.from(Array.from(series).filter(Number.isFinite)).sort();
  const half = sorted.length >> 1;
  if (sorted.length === 0) return Number.NaN;
  return sorted.length % 2 === 1 ? sorted[half] : 0.5 * (sorted[half - 1] + sorted[half]);
}

/** Spread of a series as the scaled median absolute deviation from its median; NaN where it is empty. */
export function robustSpread(series: ArrayLike<number>): number {
  const median = medianOf(series);
  return madScale * medianOf(Float64Array.from(series, (value) => Math.abs(value - median)));
}

/**
 * Coefficients of a Savitzky–Golay filter, from the least-squares polynomial itself (the tables of 1964 hold errors).
 * Multiply with the `length` samples of the window and add up; for derivatives divide by dt, dt².
 * @param length samples of the window
 * @param order order of the polynomial, less than `length`
 * @param derivative 0 smooths, 1 gives the first derivative, 2 the second
 * @param at the sample of the window the value is for, from its middle; other than 0 at the ends of a series
 */
export function savitzkyGolay(length: number, order: number, derivative = 0, at = 0): Float64Array {
  const middle = (length - 1) / 2;
  const polynomials = orthogonalPolynomials(length, order, middle);
  const coefficients = floats(length);
  for (const { values, powers } of polynomials) {
    let norm = 0;
    for (const value of values) norm += value * value;
    const factor = derivativeAt(powers, derivative, at) / norm;
    for (let i = 0; i < length; i++) coefficients[i] += factor * values[i];
  }
  return coefficients;
}

/** Polynomials orthogonal over the window's samples: their values there and their coefficients by power. */
function orthogonalPolynomials(length: number, order: number, middle: number) {
  const found: { values: Float64Array; powers: Float64Array }[] = [];
  for (let degree = 0; degree <= Math.min(order, length - 1); degree++) {
    const powers = floats(order + 1);
    powers[degree] = 1;
    const values = Float64Array.from({ length }, (_, i) => (i - middle) ** degree);
    for (const lower of found) {
      let dot = 0;
      let norm = 0;
      for (let i = 0; i < length; i++) {
        dot += values[i] * lower.values[i];
        norm += lower.values[i] * lower.values[i];
      }
      for (let i = 0; i < length; i++) values[i] -= (dot / norm) * lower.values[i];
      for (let k = 0; k <= order; k++) powers[k] -= (dot / norm) * lower.powers[k];
    }
    found.push({ values, powers });
  }
  return found;
}

function derivativeAt(powers: Float64Array, derivative: number, at: number): number {
  let sum = 0;
  for (let power = derivative; power < powers.length; power++) {
    let factor = powers[power];
    for (let k = 0; k < derivative; k++) factor *= power - k;
    sum += factor * at ** (power - derivative);
  }
  return sum;
}

/**
 * A series smoothed, or differentiated, by local polynomials. At the ends the polynomial of the first or last whole
 * window is used; a series shorter than the window gets one polynomial through all of it.
 * @param dt seconds from one sample to the next, for derivatives
 */
export function smoothed(
  series: Float64Array,
  length: number,
  order: number,
  derivative = 0,
  dt = 1,
): Float64Array {
  const count = series.length;
  const window = Math.min(length, count);
  const half = (window - 1) / 2;
  const degree = Math.min(order, window - 1);
  const scale = dt ** -derivative;
  const result = floats(count);
  const inner = savitzkyGolay(window, degree, derivative, window % 2 === 0 ? 0.5 : 0);
  for (let i = 0; i < count; i++) {
    const first = Math.min(Math.max(0, i - Math.floor(half)), count - window);
    const at = i - first - half;
    const isInner = at === (window % 2 === 0 ? 0.5 : 0);
    const weights = isInner ? inner : savitzkyGolay(window, degree, derivative, at);
    let sum = 0;
    for (let k = 0; k < window; k++) sum += weights[k] * series[first + k];
    result[i] = sum * scale;
  }
  return result;
}

/**
 * Hampel's rule: 1 where a sample lies more than `limit` robust spreads from the median of its window. The window
 * shrinks at the ends. A window without any spread calls nothing an outlier.
 * @param reach samples on each side: 3 makes the usual window of 7
 */
export function hampel(series: Float64Array, reach = 3, limit = 3): Uint8Array {
  const outliers = bytes(series.length);
  for (let i = 0; i < series.length; i++) {
    const window = series.subarray(Math.max(0, i - reach), i + reach + 1);
    const spread = robustSpread(window);
    if (spread > 0 && Math.abs(series[i] - medianOf(window)) > limit * spread) outliers[i] = 1;
  }
  return outliers;
}

/** Numerator and denominator of a digital filter of second order, a[0] = 1. */
export interface SecondOrder {
  readonly b: readonly [number, number, number];
  readonly a: readonly [number, number, number];
}

/** A dual pass of second-order filters halves the power twice; this widens each so that the pair cuts where asked. */
export const dualPassFactor = (Math.SQRT2 - 1) ** 0.25;

/**
 * Butterworth low pass of second order for one pass of a zero-lag pair that cuts at `cutoff`: the frequency is divided
 * by {@link dualPassFactor}, then prewarped. (Dividing after the tangent, as is also done, differs by about 1 %.)
 * @param cutoff Hz, below half the rate
 */
export function butterworth(cutoff: number, rate: number): SecondOrder {
  const k = Math.tan((Math.PI * cutoff) / (dualPassFactor * rate));
  const norm = 1 + Math.SQRT2 * k + k * k;
  const b = (k * k) / norm;
  return { b: [b, 2 * b, b], a: [1, (2 * (k * k - 1)) / norm, (1 - Math.SQRT2 * k + k * k) / norm] };
}

/**
 * A series low-passed without lag: once forward, once backward, a filter of fourth order in all. Both ends are
 * continued by point reflection. A cutoff that the rate cannot carry leaves the series as it is.
 */
export function lowPassed(series: Float64Array, cutoff: number, rate: number): Float64Array {
  const count = series.length;
  if (count < 3 || !(cutoff > 0) || cutoff / dualPassFactor >= rate / 2) return series.slice();
  const filter = butterworth(cutoff, rate);
  const pad = Math.min(count - 1, Math.ceil((2 * rate) / cutoff));
  const work = floats(count + 2 * pad);
  work.set(series, pad);
  for (let i = 1; i <= pad; i++) {
    work[pad - i] = 2 * series[0] - series[i];
    work[pad + count - 1 + i] = 2 * series[count - 1] - series[count - 1 - i];
  }
  pass(work, filter);
  work.reverse();
  pass(work, filter);
  work.reverse();
  return work.slice(pad, pad + count);
}

/** Filters in place, started as if the first value had always been there. */
function pass(series: Float64Array, { b, a }: SecondOrder): void {
  let x1 = series[0];
  let x2 = x1;
  let y1 = x1;
  let y2 = x1;
  for (let i = 0; i < series.length; i++) {
    const x = series[i];
    const y = b[0] * x + b[1] * x1 + b[2] * x2 - a[1] * y1 - a[2] * y2;
    x2 = x1;
    x1 = x;
    y2 = y1;
    y1 = y;
    series[i] = y;
  }
}
