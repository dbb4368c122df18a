/**
 * Length of a vector. `Math.hypot` guards against squares that overflow, which no motion in metres reaches, and puts
 * its arguments into an array on every call: within loops over frames it is several times slower and leaves garbage.
 */
export function lengthOf(x: number, y: number, z = 0): number {
  return Math.sqrt(x * x + y * y + z * z);
}

/** Distance between point `i` of one path and point `k` of another. */
export function distanceBetween(a: Float64Array, i: number, b: Float64Array, k: number): number {
  const x = b[3 * k] - a[3 * i];
  const y = b[3 * k + 1] - a[3 * i + 1];
  const z = b[3 * k + 2] - a[3 * i + 2];
  return Math.sqrt(x * x + y * y + z * z);
}
