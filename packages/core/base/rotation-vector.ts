import { floats } from "./room.ts";

/**
 * Unrolls a run of orientations into a path of rotation vectors (radians): each step is the turn, about a world axis,
 * from one shown orientation to the next, and the steps are added up. Differences between samples close together are
 * what they are on the sphere of rotations; far apart they drift, so that only local shapes may be read from it.
 * @param orientation quaternions [x, y, z, w], 4 numbers per sample
 * @param shown samples to use, ascending
 * @returns 3 numbers per shown sample, or null where nothing turns
 */
export function tangents(orientation: Float64Array, shown: Int32Array): Float64Array | null {
  const path = floats(3 * shown.length);
  return unroll(orientation, shown, path, 1, shown.length - 1) > 0 ? path : null;
}

/**
 * Works out a path of {@link tangents} again from a place on, where orientations have changed up to another one. Behind
 * that it goes on only while the path comes out otherwise than it was.
 * @param path 3 numbers per shown sample, brought up to date in place
 * @param from index into `shown` of the first step that may have changed
 * @param to index of the last one
 * @returns the index behind the last pose that may have changed; with a minus where nothing that was looked at turns
 */
export function unroll(
  orientation: Float64Array,
  shown: Int32Array,
  path: Float64Array,
  from: number,
  to: number,
): number {
  let turning = false;
  let i = Math.max(1, from);
  for (; i < shown.length; i++) {
    const a = 4 * shown[i - 1];
    const b = 4 * shown[i];
    const ax = orientation[a];
    const ay = orientation[a + 1];
    const az = orientation[a + 2];
    const aw = orientation[a + 3];
    const bx = orientation[b];
    const by = orientation[b + 1];
    const bz = orientation[b + 2];
    const bw = orientation[b + 3];
    // b · a⁻¹, on the shorter way round.
    let x = -bw * ax + bx * aw - by * az + bz * ay;
    let y = -bw * ay + by * aw - bz * ax + bx * az;
    let z = -bw * az + bz * aw - bx * ay + by * ax;
    let w = bw * aw + bx * ax + by * ay + bz * az;
    if (w < 0) {
      x = -x;
      y = -y;
      z = -z;
      w = -w;
    }
    const sine2 = x * x + y * y + z * z;
    let factor = 2;
    if (sine2 > 1e-18) {
      turning = true;
      const sine = Math.sqrt(sine2);
      // asin(s)/s by its series while turns are small; within 1e-9 up to 14°.
      factor =
        sine2 < 0.015
          ? 2 + sine2 * (1 / 3 + sine2 * (0.15 + sine2 * (5 / 56)))
          : (2 * Math.atan2(sine, w)) / sine;
    }
    const px = path[3 * i - 3] + x * factor;
    const py = path[3 * i - 2] + y * factor;
    const pz = path[3 * i - 1] + z * factor;
    if (
      i > to &&
      Object.is(path[3 * i], px) &&
      Object.is(path[3 * i + 1], py) &&
      Object.is(path[3 * i + 2], pz)
    )
      break;
    path[3 * i] = px;
    path[3 * i + 1] = py;
    path[3 * i + 2] = pz;
  }
  return turning ? i : -i;
}
