import { floats } from "../../base/room.ts";
/**
 * Smoothness of a move from its speed alone. Source for both: Balasubramanian, Melendez-Calderon, Roby-Brami & Burdet
 * 2015 (J. NeuroEngineering Rehabil. 12:112) and the authors' reference code. Nearer 0 is smoother.
 */

export interface SpectralLimits {
  /** Highest frequency that counts, Hz. */
  readonly highest: number;
  /** Share of the largest magnitude under which the ends of the spectrum are cut off. */
  readonly floor: number;
  /** Zero padding: powers of two on top of the next power of two. */
  readonly padding: number;
}

const usualLimits: SpectralLimits = { highest: 10, floor: 0.05, padding: 4 };

/**
 * Spectral arc length of a speed series: minus the length of the normalised magnitude spectrum, its frequency axis
 * scaled to 0 … 1. NaN for a series without motion.
 * @param speed never negative; the magnitude spectrum then is largest at 0 Hz, where it is normalised
 * @param rate samples per second
 */
export function spectralArcLength(
  speed: ArrayLike<number>,
  rate: number,
  limits: SpectralLimits = usualLimits,
): number {
  const count = speed.length;
  const size = 2 ** (Math.ceil(Math.log2(Math.max(1, count))) + limits.padding);
  const bins = Math.min(size >> 1, Math.floor((limits.highest * size) / rate + 1e-9)) + 1;
  const magnitudes = floats(bins);
  for (let bin = 0; bin < bins; bin++) magnitudes[bin] = magnitudeAt(speed, (2 * Math.PI * bin) / size);
  if (!(magnitudes[0] > 0)) return Number.NaN;
  for (let bin = bins - 1; bin >= 0; bin--) magnitudes[bin] /= magnitudes[0];
  const last = magnitudes.findLastIndex((magnitude) => magnitude >= limits.floor);
  let length = 0;
  for (let bin = 1; bin <= last; bin++) {
    length += Math.hypot(1 / last, magnitudes[bin] - magnitudes[bin - 1]);
  }
  return -length;
}

/** Magnitude of a series' Fourier transform at an angle per sample, by rotating a unit vector. */
function magnitudeAt(series: ArrayLike<number>, angle: number): number {
  const stepCos = Math.cos(angle);
  const stepSin = Math.sin(angle);
  let cos = 1;
  let sin = 0;
  let real = 0;
  let imaginary = 0;
  for (let i = 0; i < series.length; i++) {
    real += series[i] * cos;
    imaginary += series[i] * sin;
    const next = cos * stepCos - sin * stepSin;
    sin = sin * stepCos + cos * stepSin;
    cos = next;
  }
  return Math.hypot(real, imaginary);
}

/**
 * Dimensionless jerk of a speed series: −T³ / v² · ∫ (d²v/dt²)² dt with v the peak speed and T = samples · dt. NaN
 * below three samples or without motion.
 */
export function dimensionlessJerk(speed: ArrayLike<number>, rate: number): number {
  const count = speed.length;
  let peak = 0;
  for (let i = 0; i < count; i++) peak = Math.max(peak, Math.abs(speed[i]));
  if (count < 3 || peak === 0) return Number.NaN;
  let sum = 0;
  for (let i = 1; i < count - 1; i++) {
    const jerk = (speed[i + 1] - 2 * speed[i] + speed[i - 1]) * rate * rate;
    sum += jerk * jerk;
  }
  const duration = count / rate;
  return (-(duration ** 3) * sum) / (rate * peak * peak);
}

/** Log dimensionless jerk: −ln |{@link dimensionlessJerk}|; about −5.32 for a minimum-jerk move. */
export function logDimensionlessJerk(speed: ArrayLike<number>, rate: number): number {
  return -Math.log(Math.abs(dimensionlessJerk(speed, rate)));
}
