/**
 * Plain geometry for numbers that are computed again: vectors are [x, y, z], quaternions [x, y, z, w]. It allocates and is
 * slow, and shares nothing with what it tests.
 */

export type Vec = readonly [number, number, number];
export type Quat = readonly [number, number, number, number];

export const add = (a: Vec, b: Vec): Vec => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const sub = (a: Vec, b: Vec): Vec => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const times = (a: Vec, factor: number): Vec => [a[0] * factor, a[1] * factor, a[2] * factor];
export const dot = (a: Vec, b: Vec): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec, b: Vec): Vec => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const size = (a: Vec): number => Math.hypot(...a);
export const distance = (a: Vec, b: Vec): number => size(sub(a, b));
export const unit = (a: Vec): Vec => times(a, 1 / (size(a) || 1));
/** Angle between two vectors, radians. */
export const angleOf = (a: Vec, b: Vec): number => Math.atan2(size(cross(a, b)), dot(a, b));

/** The turn b and then the turn a. */
export const product = (a: Quat, b: Quat): Quat => [
  a[3] * b[0] + a[0] * b[3] + a[1] * b[2] - a[2] * b[1],
  a[3] * b[1] - a[0] * b[2] + a[1] * b[3] + a[2] * b[0],
  a[3] * b[2] + a[0] * b[1] - a[1] * b[0] + a[2] * b[3],
  a[3] * b[3] - a[0] * b[0] - a[1] * b[1] - a[2] * b[2],
];
export const inverse = ([x, y, z, w]: Quat): Quat => [-x, -y, -z, w];
export const turned = (q: Quat, v: Vec): Vec => {
  const [x, y, z] = product(product(q, [...v, 0]), inverse(q));
  return [x, y, z];
};
/** Turn from one orientation to another as a vector about world axes, as long as its angle (radians), the short way. */
export const turnBetween = (from: Quat, to: Quat): Vec => {
  const [x, y, z, w] = product(to, inverse(from));
  const sine = Math.hypot(x, y, z);
  if (sine === 0) return [0, 0, 0];
  const angle = 2 * Math.atan2(sine, Math.abs(w));
  return times([x, y, z], ((w < 0 ? -1 : 1) * angle) / sine);
};
/** Angle of the turn between two orientations, radians. */
export const angleBetween = (from: Quat, to: Quat): number => size(turnBetween(from, to));

export const toDegrees = (radians: number): number => (radians * 180) / Math.PI;
export const toRadians = (degrees: number): number => (degrees * Math.PI) / 180;

export const sum = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0);
export const mean = (numbers: readonly number[]): number => sum(numbers) / numbers.length;
export const median = (numbers: readonly number[]): number => {
  const sorted = [...numbers].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
};
/** The whole numbers from one to another, both included. */
export const range = (from: number, to: number): number[] =>
  Array.from({ length: Math.max(0, to - from + 1) }, (_, i) => from + i);
