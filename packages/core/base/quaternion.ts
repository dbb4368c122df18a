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
