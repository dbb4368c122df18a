// @ts-check
/**
 * Vectors [x, y, z], quaternions [x, y, z, w] and axis rotations in degrees.
 * @typedef {number[]} Vector three numbers
 * @typedef {number[]} Quaternion four numbers, x y z w
 */

const radians = Math.PI / 180;

/** @param {Vector} a @param {Vector} b @returns {Vector} */
export const add = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
/** @param {Vector} a @param {Vector} b @returns {Vector} */
export const subtract = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
/** @param {Vector} a @param {number} by @returns {Vector} */
export const scale = (a, by) => [a[0] * by, a[1] * by, a[2] * by];
/** @param {Vector} a @param {Vector} b */
export const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
/** @param {Vector} a */
export const length = (a) => Math.hypot(a[0], a[1], a[2]);
/** @param {Vector} a @returns {Vector} */
export const unit = (a) => scale(a, 1 / (length(a) || 1));
/** @param {Vector} a @param {Vector} b @returns {Vector} */
export const cross = (a, b) => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
/** @param {Vector} a @param {Vector} b @param {number} share @returns {Vector} */
export const mix = (a, b, share) => add(a, scale(subtract(b, a), share));

/** @param {Quaternion} a @param {Quaternion} b @returns {Quaternion} first b, then a */
export const multiply = (a, b) => [
  a[3] * b[0] + a[0] * b[3] + a[1] * b[2] - a[2] * b[1],
  a[3] * b[1] - a[0] * b[2] + a[1] * b[3] + a[2] * b[0],
  a[3] * b[2] + a[0] * b[1] - a[1] * b[0] + a[2] * b[3],
  a[3] * b[3] - a[0] * b[0] - a[1] * b[1] - a[2] * b[2],
];
/** @param {Quaternion} q @returns {Quaternion} the turn back, for unit quaternions */
export const inverse = (q) => [-q[0], -q[1], -q[2], q[3]];
/** @param {Quaternion} q @param {Vector} v @returns {Vector} */
export function rotate(q, v) {
  const t = scale(cross(q, v), 2);
  return add(add(v, scale(t, q[3])), cross(q, t));
}
/** @param {0 | 1 | 2} axis @param {number} degrees @returns {Quaternion} */
export function turn(axis, degrees) {
  const half = (degrees * radians) / 2;
  const q = [0, 0, 0, Math.cos(half)];
  q[axis] = Math.sin(half);
  return q;
}

/**
 * Axis rotations to a quaternion.
 * @param {string} order the matrix product for column vectors, so "zxy" is Rz · Rx · Ry
 * @param {Vector} angles degrees about x, y, z
 * @returns {Quaternion}
 */
export function fromAngles(order, angles) {
  const [i, j, k] = axesOf(order);
  return multiply(multiply(turn(i, angles[i]), turn(j, angles[j])), turn(k, angles[k]));
}

/**
 * A quaternion to axis rotations, the ones nearest to `near` (so that a series does not jump).
 * @param {string} order as for {@link fromAngles}
 * @param {Quaternion} q
 * @param {Vector} near degrees about x, y, z
 * @returns {Vector} degrees about x, y, z
 */
export function toAngles(order, q, near = [0, 0, 0]) {
  const [i, j, k] = axesOf(order);
  const sign = (j - i + 3) % 3 === 1 ? 1 : -1;
  const column = [0, 1, 2].map((axis) =>
    rotate(
      q,
      [0, 1, 2].map((n) => (n === axis ? 1 : 0)),
    ),
  );
  const m = (/** @type {number} */ row, /** @type {number} */ col) => column[col][row];
  const first = Math.atan2(-sign * m(j, k), m(k, k)) / radians;
  const middle = Math.asin(Math.max(-1, Math.min(1, sign * m(i, k)))) / radians;
  const last = Math.atan2(-sign * m(i, j), m(i, i)) / radians;
  const both = [
    [first, middle, last],
    [first + 180, 180 - middle, last + 180],
  ].map((found) => {
    const angles = [0, 0, 0];
    [i, j, k].forEach((axis, n) => {
      angles[axis] = found[n] - 360 * Math.round((found[n] - near[axis]) / 360);
    });
    return angles;
  });
  const far = (/** @type {Vector} */ a) => length(subtract(a, near));
  return far(both[0]) <= far(both[1]) ? both[0] : both[1];
}

/** @param {string} order @returns {(0 | 1 | 2)[]} */
function axesOf(order) {
  return [...order].map((letter) => /** @type {0 | 1 | 2} */ ("xyz".indexOf(letter)));
}

/**
 * The turn that takes one pair of directions to another: `a` to `toA` exactly, `b` as near as it goes to `toB`.
 * @param {Vector} a @param {Vector} b @param {Vector} toA @param {Vector} toB
 * @returns {Quaternion}
 */
export function turnOntoPair(a, b, toA, toB) {
  const frame = (/** @type {Vector} */ p, /** @type {Vector} */ r) => {
    const e1 = unit(p);
    const e3 = unit(cross(e1, r));
    return [e1, cross(e3, e1), e3];
  };
  const from = frame(a, b);
  const to = frame(toA, toB);
  const m = (/** @type {number} */ row, /** @type {number} */ col) =>
    to[0][row] * from[0][col] + to[1][row] * from[1][col] + to[2][row] * from[2][col];
  const trace = m(0, 0) + m(1, 1) + m(2, 2);
  if (trace > 0) {
    const s = Math.sqrt(trace + 1) * 2;
    return [(m(2, 1) - m(1, 2)) / s, (m(0, 2) - m(2, 0)) / s, (m(1, 0) - m(0, 1)) / s, s / 4];
  }
  const i = m(1, 1) > m(0, 0) ? (m(2, 2) > m(1, 1) ? 2 : 1) : m(2, 2) > m(0, 0) ? 2 : 0;
  const j = (i + 1) % 3;
  const k = (i + 2) % 3;
  const s = Math.sqrt(1 + m(i, i) - m(j, j) - m(k, k)) * 2;
  const q = [0, 0, 0, (m(k, j) - m(j, k)) / s];
  q[i] = s / 4;
  q[j] = (m(j, i) + m(i, j)) / s;
  q[k] = (m(k, i) + m(i, k)) / s;
  return q;
}
