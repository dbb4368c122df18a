/** Vectors: three numbers each, or three arguments where nothing may be allocated. */
export type Vector = readonly [number, number, number];

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
  return lengthOf(x, y, z);
}

/**
 * Length of a vector.
 * @param v three numbers, in any unit
 * @returns its length, in the unit of `v`
 */
export function vectorLength(v: Vector): number {
  return lengthOf(v[0], v[1], v[2]);
}

/**
 * The sum of two vectors.
 * @param a three numbers, in any unit
 * @param b three numbers, in the unit of `a`
 * @returns a + b: three numbers
 */
export function plus(a: Vector, b: Vector): Vector {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

/**
 * A vector less another.
 * @param a three numbers, in any unit
 * @param b three numbers, in the unit of `a`
 * @returns a − b: three numbers
 */
export function minus(a: Vector, b: Vector): Vector {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

/**
 * A vector made longer or shorter.
 * @param v three numbers, in any unit
 * @param factor plain number, a factor
 * @returns v · factor: three numbers
 */
export function scaled(v: Vector, factor: number): Vector {
  return [v[0] * factor, v[1] * factor, v[2] * factor];
}

export function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

/** What of a vector stands square to a unit vector. */
export function across(v: Vector, axis: Vector): Vector {
  const along = dot(v, axis);
  return [v[0] - along * axis[0], v[1] - along * axis[1], v[2] - along * axis[2]];
}

/**
 * Point `i` of a path.
 * @param path three numbers per sample
 * @param i index of the sample
 * @returns three numbers, in the unit of the path
 */
export function pointAt(path: Float64Array, i: number): Vector {
  return [path[3 * i], path[3 * i + 1], path[3 * i + 2]];
}
