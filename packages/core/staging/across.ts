import type { Lens } from "./camera.ts";

/**
 * How long a vector at a point is across the line of sight: what of a motion the picture shows, whatever its distance. Where no
 * camera holds it is as long as it is.
 * @param path 3 numbers per sample, metres: where the point is
 */
export function acrossSight(
  lens: Lens | null,
  sample: number,
  path: Float64Array,
  x: number,
  y: number,
  z: number,
): number {
  const all = x * x + y * y + z * z;
  if (lens === null || lens.seen[sample] === 0) return Math.sqrt(all);
  const { eye, turn } = lens;
  let sx: number;
  let sy: number;
  let sz: number;
  if (lens.flat[sample] === 1) {
    // Along its own z, turned as the camera is.
    const qx = turn[4 * sample];
    const qy = turn[4 * sample + 1];
    const qz = turn[4 * sample + 2];
    const qw = turn[4 * sample + 3];
    sx = 2 * (qx * qz + qw * qy);
    sy = 2 * (qy * qz - qw * qx);
    sz = 1 - 2 * (qx * qx + qy * qy);
  } else {
    sx = path[3 * sample] - eye[3 * sample];
    sy = path[3 * sample + 1] - eye[3 * sample + 1];
    sz = path[3 * sample + 2] - eye[3 * sample + 2];
  }
  const length = sx * sx + sy * sy + sz * sz;
  if (!(length > 0)) return Math.sqrt(all);
  const along = x * sx + y * sy + z * sz;
  return Math.sqrt(Math.max(0, all - (along * along) / length));
}
