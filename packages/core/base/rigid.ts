import { rotateVector } from "./quaternion.ts";

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
  for (let k = 0; k < 3; k++) inverse[k] = -from[fromAt + k];
  inverse[3] = from[fromAt + 3];
  rotateVector(inverse, 0, vector, 0, vector, 0);
  rotateVector(to, toAt, vector, 0, vector, 0);
}
