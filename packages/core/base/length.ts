/**
 * Length of a vector. `Math.hypot` guards against squares that overflow, which no motion in metres reaches, and puts
 * its arguments into an array on every call: within loops over frames it is several times slower and leaves garbage.
 */
export function lengthOf(x: number, y: number, z = 0): number {
  return Math.sqrt(x * x + y * y + z * z);
}
