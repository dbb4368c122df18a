/** Standard gravity, m/s², exactly (CGPM 1901). */
export const standardGravity = 9.80665;

/** Radians in a degree. */
export const radiansPerDegree = Math.PI / 180;

/** Degrees in a radian. */
export const degreesPerRadian = 180 / Math.PI;

/**
 * An angle in radians.
 * @param degrees angle in degrees
 * @returns the same angle in radians
 */
export function inRadians(degrees: number): number {
  return (degrees * Math.PI) / 180;
}

/**
 * An angle in degrees.
 * @param radians angle in radians
 * @returns the same angle in degrees
 */
export function inDegrees(radians: number): number {
  return (radians * 180) / Math.PI;
}

/**
 * Frames per second in which animators count, whatever the rate of a shot: 24, that of film (common practice). Settings
 * and constants in frames are frames at this rate.
 */
export const referenceRate = 24;
