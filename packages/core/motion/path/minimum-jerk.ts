/**
 * The minimum-jerk move: the smoothest point-to-point move between two rests, against which ease is measured.
 * Source: Flash & Hogan 1985, a fifth-order polynomial with zero end velocity and end acceleration.
 */

/** Peak speed over mean speed of a minimum-jerk move: 1.875. */
export const peakOverMean = 1.875;

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
