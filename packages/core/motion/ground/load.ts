import { standardGravity } from "../../base/constants.ts";
import { smoothed } from "../path/smoothing.ts";

/**
 * Rate at which a limb gets longer, m/s: slopes of local parabolas over 5 samples at 24 per second, or as long a time
 * at other rates. Positive while it extends, negative while it gives way.
 * @param reach length of the limb, metres, one number per sample
 * @param rate samples per second
 */
export function extensionRate(reach: Float64Array, rate: number): Float64Array {
  const half = Math.max(2, Math.round((2 * rate) / 24));
  return smoothed(reach, 2 * half + 1, 2, 1, 1 / rate);
}

/**
 * Onset of a change: the last sample before a peak at which a series is under a share of the peak, walking back from
 * it; `from` where it never is.
 * @param series what grows: extension rate, upward acceleration
 * @param from first sample that counts
 * @param peak sample of the peak
 * @param share 0.1: a tenth of the peak; common practice
 */
export function onsetBefore(series: ArrayLike<number>, from: number, peak: number, share = 0.1): number {
  const level = share * series[peak];
  for (let i = peak - 1; i >= from; i--) if (series[i] <= level) return i;
  return from;
}

/** Sample of the largest number in a range, the first of equals; `from` of an empty range. */
export function peakIn(series: ArrayLike<number>, from: number, to: number): number {
  let peak = from;
  for (let i = from + 1; i <= to; i++) if (series[i] > series[peak]) peak = i;
  return peak;
}

/** When a limb begins to extend, and how fast it gets. */
export interface Extension {
  /** Last sample at rest before it extends. */
  readonly onset: number;
  readonly peak: number;
  /** Fastest extension, m/s. */
  readonly speed: number;
}

/** The strongest extension of a limb in a range of samples; null where it never gets longer at `least` m/s. */
export function extensionIn(
  rateOfLength: ArrayLike<number>,
  from: number,
  to: number,
  least: number,
): Extension | null {
  if (to < from || rateOfLength.length === 0) return null;
  const peak = peakIn(rateOfLength, from, to);
  if (!(rateOfLength[peak] >= least)) return null;
  return { onset: onsetBefore(rateOfLength, from, peak), peak, speed: rateOfLength[peak] };
}

/** Upward force that carries a body, in units of its weight: 1 + a / g; 0 in free fall. */
export function loadOf(lift: number): number {
  return 1 + lift / standardGravity;
}

/**
 * First sample of a contact at which it starts to carry: from there on the limb gives way or pushes (its length changes
 * at `least` m/s or more) or the body is held up by more than `share` of its weight while the limb is in contact.
 * Null where it never carries.
 * @param rateOfLength {@link extensionRate} of the limb
 * @param lift vertical acceleration of the centre of mass, m/s²
 * @param from first sample of the contact
 * @param to last sample of the contact
 */
export function carriesFrom(
  rateOfLength: ArrayLike<number>,
  lift: ArrayLike<number>,
  from: number,
  to: number,
  least: number,
  share = 0.5,
): number | null {
  for (let i = from; i <= to; i++) {
    if (Math.abs(rateOfLength[i]) >= least || loadOf(lift[i]) > share) return i;
  }
  return null;
}
