/**
 * Quaternions [x, y, z, w] inside number arrays, addressed by offset, so that nothing is allocated.
 * Conventions: unit quaternions, right-handed, q · v · q⁻¹ turns v.
 */

import { arcTangent } from "./arc-tangent.ts";
import { lengthOf, type Vector } from "./vector.ts";

type Numbers = Float64Array;

/** out = a · b. `out` may be one of the operands. */
export function multiplyQuaternions(
  a: Numbers,
  ia: number,
  b: Numbers,
  ib: number,
  out: Numbers,
  io: number,
): void {
  const ax = a[ia];
  const ay = a[ia + 1];
  const az = a[ia + 2];
  const aw = a[ia + 3];
  const bx = b[ib];
  const by = b[ib + 1];
  const bz = b[ib + 2];
  const bw = b[ib + 3];
  out[io] = aw * bx + ax * bw + ay * bz - az * by;
  out[io + 1] = aw * by - ax * bz + ay * bw + az * bx;
  out[io + 2] = aw * bz + ax * by - ay * bx + az * bw;
  out[io + 3] = aw * bw - ax * bx - ay * by - az * bz;
}

/** out = q · v · q⁻¹ for a unit quaternion; `out` may be `v`. */
export function rotateVector(q: Numbers, iq: number, v: Numbers, iv: number, out: Numbers, io: number): void {
  const x = q[iq];
  const y = q[iq + 1];
  const z = q[iq + 2];
  const w = q[iq + 3];
  const vx = v[iv];
  const vy = v[iv + 1];
  const vz = v[iv + 2];
  const tx = 2 * (y * vz - z * vy);
  const ty = 2 * (z * vx - x * vz);
  const tz = 2 * (x * vy - y * vx);
  out[io] = vx + w * tx + y * tz - z * ty;
  out[io + 1] = vy + w * ty + z * tx - x * tz;
  out[io + 2] = vz + w * tz + x * ty - y * tx;
}

/**
 * Signs with which the second products enter, four per rotation order (index into `rotationOrders`). Multiplying the
 * three axis quaternions out gives, for every order, x = sx·cy·cz ± cx·sy·sz, y = cx·sy·cz ± sx·cy·sz,
 * z = cx·cy·sz ± sx·sy·cz and w = cx·cy·cz ± sx·sy·sz of the half angles; only the signs differ.
 */
// biome-ignore format: one row per order
const orderSigns = Int8Array.of(
  1, -1, 1, -1, // xyz
  -1, -1, 1, 1, // xzy
  1, -1, -1, 1, // yxz
  1, 1, -1, -1, // yzx
  -1, 1, 1, -1, // zxy
  -1, 1, -1, 1, // zyx
);

/** out = the turn by three axis angles (radians) in a rotation order (index into `rotationOrders`). */
export function eulerToQuaternion(
  order: number,
  x: number,
  y: number,
  z: number,
  out: Numbers,
  io: number,
): void {
  const angles = Float64Array.of(x, y, z);
  const q = new Float64Array(4);
  eulersToQuaternions(order, angles.subarray(0, 1), angles.subarray(1, 2), angles.subarray(2, 3), 1, q, 1);
  out.set(q, io);
}

/**
 * Turns by axis angles, one after the other.
 * @param order index into `rotationOrders`
 * @param toRadians radians per unit of the angles
 * @param out receives 4 numbers for each of the first `count` angles
 */
export function eulersToQuaternions(
  order: number,
  xs: Numbers,
  ys: Numbers,
  zs: Numbers,
  toRadians: number,
  out: Numbers,
  count: number,
): void {
  const half = 0.5 * toRadians;
  const signX = orderSigns[4 * order];
  const signY = orderSigns[4 * order + 1];
  const signZ = orderSigns[4 * order + 2];
  const signW = orderSigns[4 * order + 3];
  for (let i = 0; i < count; i++) {
    const x = half * xs[i];
    const y = half * ys[i];
    const z = half * zs[i];
    const sx = Math.sin(x);
    const cx = Math.cos(x);
    const sy = Math.sin(y);
    const cy = Math.cos(y);
    const sz = Math.sin(z);
    const cz = Math.cos(z);
    const cycz = cy * cz;
    const sysz = sy * sz;
    const sycz = sy * cz;
    const cysz = cy * sz;
    out[4 * i] = sx * cycz + signX * cx * sysz;
    out[4 * i + 1] = cx * sycz + signY * sx * cysz;
    out[4 * i + 2] = cx * cysz + signZ * sx * sycz;
    out[4 * i + 3] = cx * cycz + signW * sx * sysz;
  }
}

/** out = q⁻¹ for a unit quaternion, the reverse turn; `out` may be `q`. */
export function conjugateInto(q: Numbers, iq: number, out: Numbers, io: number): void {
  out[io] = -q[iq];
  out[io + 1] = -q[iq + 1];
  out[io + 2] = -q[iq + 2];
  out[io + 3] = q[iq + 3];
}

/** The reverse turn of a quaternion in an array. */
export function conjugate(q: Numbers, at: number): Float64Array {
  return Float64Array.of(-q[at], -q[at + 1], -q[at + 2], q[at + 3]);
}

/**
 * A vector turned by a unit quaternion in an array.
 * @param q series of unit quaternions [x, y, z, w]
 * @param v three numbers, in any unit
 * @param at index of the first number of the quaternion in `q`
 * @returns three numbers, in the unit of `v`
 */
export function rotated(q: Numbers, v: Vector, at = 0): Vector {
  const out = Float64Array.from(v);
  rotateVector(q, at, out, 0, out, 0);
  return [out[0], out[1], out[2]];
}

/**
 * Geodesic angle in radians, 0 to π, between two unit quaternions read at offsets of two arrays: 2·acos|a·b|, taken
 * from their difference and their sum so that small angles keep the digits that the arc cosine loses.
 * @param a series of quaternions [x, y, z, w]
 * @param offsetA index of the first number of the quaternion in `a`
 * @param b series of quaternions, as `a`
 * @param offsetB index of the first number of the quaternion in `b`
 * @returns radians, 0 to π
 */
export function angleBetween(a: Float64Array, offsetA: number, b: Float64Array, offsetB: number): number {
  const ax = a[offsetA];
  const ay = a[offsetA + 1];
  const az = a[offsetA + 2];
  const aw = a[offsetA + 3];
  const bx = b[offsetB];
  const by = b[offsetB + 1];
  const bz = b[offsetB + 2];
  const bw = b[offsetB + 3];
  const apart = (ax - bx) * (ax - bx) + (ay - by) * (ay - by) + (az - bz) * (az - bz) + (aw - bw) * (aw - bw);
  const along = (ax + bx) * (ax + bx) + (ay + by) * (ay + by) + (az + bz) * (az + bz) + (aw + bw) * (aw + bw);
  return apart < along
    ? 4 * arcTangent(Math.sqrt(apart), Math.sqrt(along))
    : 4 * arcTangent(Math.sqrt(along), Math.sqrt(apart));
}

/** out = a turn as a rotation vector: its axis times its angle in radians, on the shorter way, at most half a turn. */
export function rotationVectorInto(q: Numbers, iq: number, out: Numbers, io: number): void {
  const sine = lengthOf(q[iq], q[iq + 1], q[iq + 2]);
  const sign = q[iq + 3] < 0 ? -1 : 1;
  const share = sine < 1e-12 ? 2 : (2 * Math.atan2(sine, sign * q[iq + 3])) / sine;
  for (let k = 0; k < 3; k++) out[io + k] = sign * share * q[iq + k];
}

/** The same as a vector of its own. */
export function rotationVectorOf(q: Numbers, at: number): [number, number, number] {
  const out = new Float64Array(3);
  rotationVectorInto(q, at, out, 0);
  return [out[0], out[1], out[2]];
}

/** The rotation vector (radians) of a⁻¹·b, in the axes of `a`. */
export function logBetween(a: Numbers, b: Numbers): [number, number, number] {
  const turn = new Float64Array(4);
  multiplyQuaternions(conjugate(a, 0), 0, b, 0, turn, 0);
  return rotationVectorOf(turn, 0);
}

/** out = q · exp(v / 2): a quaternion turned further by a rotation vector in its own axes. */
export function turnedBy(q: Numbers, v: ArrayLike<number>, out: Numbers): void {
  const angle = lengthOf(v[0], v[1], v[2]);
  const share = angle < 1e-12 ? 0.5 : Math.sin(0.5 * angle) / angle;
  const turn = Float64Array.of(share * v[0], share * v[1], share * v[2], Math.cos(0.5 * angle));
  multiplyQuaternions(q, 0, turn, 0, out, 0);
}

const inverse = new Float64Array(4);

/**
 * Turns a vector by the rotation that leads from one orientation to another: to · from⁻¹ · v.
 * @param from series of quaternions [x, y, z, w] and the offset of the one to use; the same for `to`
 * @param vector three numbers, changed in place
 */
export function rotateBetween(
  from: Float64Array,
  fromAt: number,
  to: Float64Array,
  toAt: number,
  vector: Float64Array,
): void {
  conjugateInto(from, fromAt, inverse, 0);
  rotateVector(inverse, 0, vector, 0, vector, 0);
  rotateVector(to, toAt, vector, 0, vector, 0);
}
