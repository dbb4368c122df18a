// @ts-check
/** @typedef {number[]} Vec three numbers */
/** @typedef {number[]} Quat x, y, z, w */

export const RAD = Math.PI / 180;
/** @param {Vec} a @param {Vec} b */
export const add = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
/** @param {Vec} a @param {Vec} b */
export const sub = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
/** @param {Vec} a @param {number} k */
export const mul = (a, k) => [a[0] * k, a[1] * k, a[2] * k];
/** @param {Vec} a @param {Vec} b */
export const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
/** @param {Vec} a */
export const len = (a) => Math.hypot(a[0], a[1], a[2]);
/** @param {Vec} a */
export const norm = (a) => mul(a, 1 / (len(a) || 1));
/** @param {Vec} a @param {Vec} b @param {number} t */
export const lerp = (a, b, t) => a.map((v, i) => v + (b[i] - v) * t);
/** @param {Vec} a @param {Vec} b */
export const cross = (a, b) => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
/** @param {Quat} a @param {Quat} b */
export const qmul = (a, b) => [
  a[3] * b[0] + a[0] * b[3] + a[1] * b[2] - a[2] * b[1],
  a[3] * b[1] - a[0] * b[2] + a[1] * b[3] + a[2] * b[0],
  a[3] * b[2] + a[0] * b[1] - a[1] * b[0] + a[2] * b[3],
  a[3] * b[3] - a[0] * b[0] - a[1] * b[1] - a[2] * b[2],
];
/** @param {Quat[]} qs */
export const qs = (...qs) => qs.reduce(qmul);
/** @param {Quat} q */
export const conj = (q) => [-q[0], -q[1], -q[2], q[3]];
export const ONE = [0, 0, 0, 1];
/** Turn about an axis (0, 1, 2) by degrees. @param {number} axis @param {number} deg */
export const about = (axis, deg) => {
  const q = [0, 0, 0, Math.cos((deg * RAD) / 2)];
  q[axis] = Math.sin((deg * RAD) / 2);
  return q;
};
/** @param {Quat} q @param {Vec} v */
export const turn = (q, v) => {
  const u = [q[0], q[1], q[2]];
  const t = mul(cross(u, v), 2);
  return add(add(v, mul(t, q[3])), cross(u, t));
};
/** @param {Quat} a @param {Quat} b @param {number} t */
export const slerp = (a, b, t) => {
  let d = a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
  const s = d < 0 ? -1 : 1;
  d = Math.min(1, Math.abs(d));
  const w = Math.acos(d);
  const k = Math.sin(w);
  const [ka, kb] = k < 1e-6 ? [1 - t, t] : [Math.sin((1 - t) * w) / k, Math.sin(t * w) / k];
  const q = a.map((v, i) => v * ka + s * b[i] * kb);
  const n = Math.hypot(...q);
  return q.map((v) => v / n);
};
/** Rows of the matrix of a quaternion. @param {Quat} q */
export const matrix = (q) => {
  const c = [turn(q, [1, 0, 0]), turn(q, [0, 1, 0]), turn(q, [0, 0, 1])];
  return [0, 1, 2].map((r) => c.map((v) => v[r]));
};
/** The turn whose axes are these three columns. @param {Vec} x @param {Vec} y @param {Vec} z */
export const fromAxes = (x, y, z) => {
  const t = x[0] + y[1] + z[2];
  let q;
  if (t > 0) q = [y[2] - z[1], z[0] - x[2], x[1] - y[0], 1 + t];
  else if (x[0] > y[1] && x[0] > z[2]) q = [1 + x[0] - y[1] - z[2], x[1] + y[0], z[0] + x[2], y[2] - z[1]];
  else if (y[1] > z[2]) q = [x[1] + y[0], 1 + y[1] - x[0] - z[2], y[2] + z[1], z[0] - x[2]];
  else q = [z[0] + x[2], y[2] + z[1], 1 + z[2] - x[0] - y[1], x[1] - y[0]];
  const n = Math.hypot(...q);
  return q.map((v) => v / n);
};
/** Shortest turn from one direction to another. @param {Vec} a @param {Vec} b */
export const between = (a, b) => {
  const c = cross(norm(a), norm(b));
  const q = [...c, 1 + dot(norm(a), norm(b))];
  const n = Math.hypot(...q) || 1;
  return q.map((v) => v / n);
};
/** @param {string} order @param {Vec} deg */
export const fromEuler = (order, deg) =>
  [...order].map((c) => about("xyz".indexOf(c), deg["xyz".indexOf(c)])).reduce(qmul);
/** Angles by axis, near `last`. @param {string} order @param {Quat} q @param {Vec} last */
export const toEuler = (order, q, last) => {
  const [i, j, k] = [...order].map((c) => "xyz".indexOf(c));
  const e = (j - i + 3) % 3 === 1 ? 1 : -1;
  const m = matrix(q);
  const b = Math.asin(Math.max(-1, Math.min(1, e * m[i][k]))) / RAD;
  const a = Math.atan2(-e * m[j][k], m[k][k]) / RAD;
  const c = Math.atan2(-e * m[i][j], m[i][i]) / RAD;
  const near = (/** @type {number[]} */ abc) => {
    const out = [0, 0, 0];
    [i, j, k].forEach((ax, n) => {
      out[ax] = abc[n] - 360 * Math.round((abc[n] - last[ax]) / 360);
    });
    return out;
  };
  const one = near([a, b, c]);
  const two = near([a + 180, 180 - b, c + 180]);
  const far = (/** @type {number[]} */ r) => Math.max(...r.map((v, n) => Math.abs(v - last[n])));
  return far(two) < far(one) - 1e-6 ? two : one;
};
/** Where a camera at `eye` turns to see `at` (it looks along -z). @param {Vec} eye @param {Vec} at */
export const lookAt = (eye, at) => {
  const z = norm(sub(eye, at));
  const x = norm(cross([0, 1, 0], z));
  return fromAxes(x, cross(z, x), z);
};
