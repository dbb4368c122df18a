/**
 * Turns a vector by the rotation that leads from one orientation to another: to · from⁻¹ · v.
 * @param from series of quaternions [x, y, z, w] and the offset of the one to use; the same for `to`
 * @param out receives the three numbers
 */
export function rotateBetween(
  from: Float64Array,
  fromAt: number,
  to: Float64Array,
  toAt: number,
  x: number,
  y: number,
  z: number,
  out: Float64Array,
): void {
  rotate(-from[fromAt], -from[fromAt + 1], -from[fromAt + 2], from[fromAt + 3], x, y, z, out);
  rotate(to[toAt], to[toAt + 1], to[toAt + 2], to[toAt + 3], out[0], out[1], out[2], out);
}

/** Turns a vector by a unit quaternion. */
function rotate(
  qx: number,
  qy: number,
  qz: number,
  qw: number,
  x: number,
  y: number,
  z: number,
  out: Float64Array,
): void {
  const tx = 2 * (qy * z - qz * y);
  const ty = 2 * (qz * x - qx * z);
  const tz = 2 * (qx * y - qy * x);
  out[0] = x + qw * tx + qy * tz - qz * ty;
  out[1] = y + qw * ty + qz * tx - qx * tz;
  out[2] = z + qw * tz + qx * ty - qy * tx;
}
