// @ts-check
// Vectors, quaternions and turns about single axes. Quaternions are [x, y, z, w].

/** @typedef {number[]} Vec */

export const RAD = Math.PI / 180;
/** @param {Vec} a @param {Vec} b */
export const add = (a, b) => a.map((v, i) => v + b[i]);
/** @param {Vec} a @param {Vec} b */
export const sub = (a, b) => a.map((v, i) => v - b[i]);
/** @param {Vec} a @param {number} k */
export const mul = (a, k) => a.map((v) => v * k);
/** @param {Vec} a @param {Vec} b */
export const dot = (a, b) => a.reduce((s, v, i) => s + v * b[i], 0);
/** @param {Vec} a */
export const len = (a) => Math.sqrt(dot(a, a));
/** @param {Vec} a */
export const unit = (a) => mul(a, 1 / (len(a) || 1));
/** @param {Vec} a @param {Vec} b */
export const cross = (a, b) => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
/** @param {number} a @param {number} b @param {number} u */
export const mix = (a, b, u) => a + (b - a) * u;
/** @param {number} v @param {number} a @param {number} b */
export const clamp = (v, a, b) => Math.min(b, Math.max(a, v));

/** @param {Vec} a @param {Vec} b */
export const qmul = (a, b) => [
  a[3] * b[0] + a[0] * b[3] + a[1] * b[2] - a[2] * b[1],
  a[3] * b[1] - a[0] * b[2] + a[1] * b[3] + a[2] * b[0],
  a[3] * b[2] + a[0] * b[1] - a[1] * b[0] + a[2] * b[3],
  a[3] * b[3] - a[0] * b[0] - a[1] * b[1] - a[2] * b[2],
];
/** @param {Vec} q */
export const qinv = (q) => [-q[0], -q[1], -q[2], q[3]];
/** @param {Vec} q @param {Vec} v */
export function turn(q, v) {
  const u = q.slice(0, 3);
  const t = mul(cross(u, v), 2);
  return add(add(v, mul(t, q[3])), cross(u, t));
}
/** @param {number} axis @param {number} degrees */
export function axisTurn(axis, degrees) {
  const q = [0, 0, 0, Math.cos((degrees * RAD) / 2)];
  q[axis] = Math.sin((degrees * RAD) / 2);
  return q;
}
/** Turns by axis in an order such as "xyz", which is Rx · Ry · Rz. @param {Vec} r @param {string} order */
export function fromEuler(r, order) {
  return [...order].reduce(
    (q, c) => {
      const i = "xyz".indexOf(c);
      return qmul(q, axisTurn(i, r[i]));
    },
    [0, 0, 0, 1],
  );
}
/** The columns of the matrix of a quaternion. @param {Vec} q */
export const columns = (q) => [turn(q, [1, 0, 0]), turn(q, [0, 1, 0]), turn(q, [0, 0, 1])];

/** @param {Vec} q @param {string} order @returns {Vec} degrees about x, y, z */
export function toEuler(q, order) {
  const [i, j, k] = [...order].map((c) => "xyz".indexOf(c));
  const e = (j - i + 3) % 3 === 1 ? 1 : -1;
  const m = columns(q);
  const at = (/** @type {number} */ r, /** @type {number} */ c) => m[c][r];
  const out = [0, 0, 0];
  out[j] = Math.asin(clamp(e * at(i, k), -1, 1)) / RAD;
  out[i] = Math.atan2(-e * at(j, k), at(k, k)) / RAD;
  out[k] = Math.atan2(-e * at(i, j), at(i, i)) / RAD;
  return out;
}
/** The quaternion of a matrix given by its columns. @param {Vec} x @param {Vec} y @param {Vec} z */
export function fromColumns(x, y, z) {
  const t = x[0] + y[1] + z[2];
  /** @type {Vec} */ let q;
  if (t > 0) q = [y[2] - z[1], z[0] - x[2], x[1] - y[0], 1 + t];
  else if (x[0] > y[1] && x[0] > z[2]) q = [1 + x[0] - y[1] - z[2], y[0] + x[1], z[0] + x[2], y[2] - z[1]];
  else if (y[1] > z[2]) q = [y[0] + x[1], 1 - x[0] + y[1] - z[2], z[1] + y[2], z[0] - x[2]];
  else q = [z[0] + x[2], z[1] + y[2], 1 - x[0] - y[1] + z[2], x[1] - y[0]];
  return unit(q);
}
/** The turn that brings direction a to b and normal n to m. @param {Vec} a @param {Vec} n @param {Vec} b @param {Vec} m */
export function aim(a, n, b, m) {
  const frame = (/** @type {Vec} */ d, /** @type {Vec} */ s) => {
    const u = unit(d);
    const v = unit(sub(s, mul(u, dot(s, u))));
    return fromColumns(u, v, cross(u, v));
  };
  return qmul(frame(b, m), qinv(frame(a, n)));
}
