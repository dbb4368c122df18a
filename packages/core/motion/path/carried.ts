import { conjugateInto, multiplyQuaternions, rotateVector } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";

/** What a part does in the frame of a node that carries it. Series are 3 or 4 numbers per sample. */

/** Where and how a carrier stands at each sample of the grid. */
interface Carrier {
  readonly position: Float64Array;
  readonly orientation: Float64Array;
}

/**
 * A path in the axes of what carries it, seen from its place.
 * @param path 3 numbers per sample, world, metres
 * @param carrier its motion in the world, over the whole grid
 * @param first grid sample of the path's first one
 * @returns 3 numbers per sample, metres
 */
export function carriedPath(path: Float64Array, carrier: Carrier, first = 0): Float64Array {
  const out = floats(path.length);
  for (let k = 0, i = first; k < path.length; k += 3, i++) {
    offset[0] = path[k] - carrier.position[3 * i];
    offset[1] = path[k + 1] - carrier.position[3 * i + 1];
    offset[2] = path[k + 2] - carrier.position[3 * i + 2];
    conjugateInto(carrier.orientation, 4 * i, inverse, 0);
    rotateVector(inverse, 0, offset, 0, out, k);
  }
  return out;
}

/**
 * Orientations against those of what carries them.
 * @param orientation 4 numbers per sample, world
 * @param carrier the carrier's world orientations over the whole grid
 * @param first grid sample of the first orientation
 * @returns 4 numbers per sample
 */
export function carriedTurns(orientation: Float64Array, carrier: Float64Array, first = 0): Float64Array {
  const out = floats(orientation.length);
  for (let k = 0, i = first; k < orientation.length; k += 4, i++) {
    conjugateInto(carrier, 4 * i, inverse, 0);
    multiplyQuaternions(inverse, 0, orientation, k, out, k);
  }
  return out;
}

// Written anew for each sample.
const inverse = new Float64Array(4);
const offset = new Float64Array(3);
