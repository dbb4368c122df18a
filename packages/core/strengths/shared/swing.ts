import { conjugateInto, rotateVector } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import type { Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { worldOf } from "../../rig/pose.ts";

/** Directions of a bone in the world, unit vectors, 3 numbers per sample, from one sample to another. */
export function directionsOf(
  study: Study,
  node: number,
  end: number,
  from: number,
  to: number,
): Float64Array {
  const [a, b] = [worldOf(study, node).position, worldOf(study, end).position];
  const out = floats(3 * (to - from + 1));
  for (let k = 0; k < out.length; k += 3) {
    const at = 3 * from + k;
    const [x, y, z] = [b[at] - a[at], b[at + 1] - a[at + 1], b[at + 2] - a[at + 2]];
    const length = lengthOf(x, y, z);
    if (length > 0) [out[k], out[k + 1], out[k + 2]] = [x / length, y / length, z / length];
  }
  return out;
}

/** The directions that a bone would have if it were fixed to a carrier as it stands at the first sample. */
export function carriedDirections(
  study: Study,
  carrier: number,
  directions: Float64Array,
  from: number,
): Float64Array {
  const { orientation } = worldOf(study, carrier);
  const back = new Float64Array(4);
  const local = new Float64Array(3);
  conjugateInto(orientation, 4 * from, back, 0);
  rotateVector(back, 0, directions, 0, local, 0);
  const out = floats(directions.length);
  for (let k = 0, i = from; k < out.length; k += 3, i++) rotateVector(orientation, 4 * i, local, 0, out, k);
  return out;
}

/** Steps of the search for the axis along which directions swing: enough for three digits. */
const searches = 32;

/** The axis along which directions swing most about their mean, a unit vector (greatest variance, by powers). */
export function swingAxis(directions: Float64Array): readonly [number, number, number] {
  const count = directions.length / 3;
  const mean = [0, 0, 0];
  for (let k = 0; k < directions.length; k++) mean[k % 3] += directions[k] / count;
  let axis: [number, number, number] = [0.6, 0.5, 0.62];
  for (let n = 0; n < searches; n++) {
    const next: [number, number, number] = [0, 0, 0];
    for (let k = 0; k < directions.length; k += 3) {
      const off = [directions[k] - mean[0], directions[k + 1] - mean[1], directions[k + 2] - mean[2]];
      const along = off[0] * axis[0] + off[1] * axis[1] + off[2] * axis[2];
      for (let c = 0; c < 3; c++) next[c] += along * off[c];
    }
    const length = lengthOf(next[0], next[1], next[2]);
    if (!(length > 0)) break;
    axis = [next[0] / length, next[1] / length, next[2] / length];
  }
  return axis;
}

/** Directions along an axis: −1 to 1, one number per sample. */
export function along(directions: Float64Array, [x, y, z]: readonly [number, number, number]): Float64Array {
  const out = floats(directions.length / 3);
  for (let i = 0, k = 0; i < out.length; i++, k += 3)
    out[i] = directions[k] * x + directions[k + 1] * y + directions[k + 2] * z;
  return out;
}
