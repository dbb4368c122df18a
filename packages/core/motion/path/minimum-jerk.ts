/**
 * The minimum-jerk move: the smoothest point-to-point move between two rests, against which ease is measured.
 * Source: Flash & Hogan 1985, a fifth-order polynomial with zero end velocity and end acceleration.
 */

/** Peak speed over mean speed of a minimum-jerk move: 1.875. */
export const peakOverMean = 1.875;

/** Share of the travel done at the share `t` (0 to 1) of the move's time. */
export function minimumJerkPosition(t: number): number {
  return t <= 0 ? 0 : t >= 1 ? 1 : t * t * t * (10 + t * (6 * t - 15));
}

/** Speed at `t`, in units of travel over duration; its peak is {@link peakOverMean} at one half. */
export function minimumJerkSpeed(t: number): number {
  return t <= 0 || t >= 1 ? 0 : 30 * t * t * (1 - t) * (1 - t);
}

/** Acceleration at `t`, in units of travel over duration squared; its peaks are ±10/√3. */
export function minimumJerkAcceleration(t: number): number {
  return t <= 0 || t >= 1 ? 0 : 60 * t * (1 - t) * (1 - 2 * t);
}

/** The later time (share of the duration, 0.5 to 1) at which the speed is `share` (0 to 1) of its peak. */
export function timeOfFallingSpeed(share: number): number {
  const clamped = Math.min(1, Math.max(0, share));
  return 0.5 * (1 + Math.sqrt(1 - Math.sqrt(clamped)));
}

/**
 * How long an eased stop takes: from `upper` of the peak speed to `lower` of it, in the unit of `length`.
 * From 80 % to 10 % it is 0.250993 of the move's length.
 * @param length length of the whole move, in frames or in seconds
 */
export function easedStop(length: number, upper = 0.8, lower = 0.1): number {
  return length * (timeOfFallingSpeed(lower) - timeOfFallingSpeed(upper));
}

/** Time that a minimum-jerk move takes, from its travel and its peak speed: 1.875 · travel / peak; 0 at no speed. */
export function lengthFromPeak(travel: number, peakSpeed: number): number {
  return peakSpeed > 0 ? (peakOverMean * travel) / peakSpeed : 0;
}
