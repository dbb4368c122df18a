/**
 * Quaternions [x, y, z, w] inside number arrays, addressed by offset, so that nothing is allocated.
 * Conventions: unit quaternions, right-handed, q · v · q⁻¹ turns v.
 */

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
  const sx = Math.sin(0.5 * x);
  const cx = Math.cos(0.5 * x);
  const sy = Math.sin(0.5 * y);
  const cy = Math.cos(0.5 * y);
  const sz = Math.sin(0.5 * z);
  const cz = Math.cos(0.5 * z);
  const signs = 4 * order;
  out[io] = sx * cy * cz + orderSigns[signs] * cx * sy * sz;
  out[io + 1] = cx * sy * cz + orderSigns[signs + 1] * sx * cy * sz;
  out[io + 2] = cx * cy * sz + orderSigns[signs + 2] * sx * sy * cz;
  out[io + 3] = cx * cy * cz + orderSigns[signs + 3] * sx * sy * sz;
}
