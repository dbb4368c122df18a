import { floats } from "../../base/room.ts";
import { distanceBetween, lengthOf } from "../../base/vector.ts";
/** Shape of a path: 3 numbers per sample, metres; ranges are sample indices, both included. */

/** Length of the path from the first sample of a range to each sample of it. */
export function arcLengths(path: Float64Array, from: number, to: number): Float64Array {
  const lengths = floats(Math.max(0, to - from + 1));
  for (let i = from + 1; i <= to; i++) {
    lengths[i - from] = lengths[i - from - 1] + distanceBetween(path, i - 1, path, i);
  }
  return lengths;
}

/** How far a path leaves the straight line between its ends. */
export interface Chord {
  /** Distance between the ends, metres. */
  readonly chord: number;
  /** Length along the path, metres. */
  readonly arc: number;
  /** Largest distance of a sample from the line through the ends (from the end itself where the ends coincide). */
  readonly deviation: number;
  /** Sample of the largest distance. */
  readonly at: number;
}

/** Chord, arc and largest deviation of a range of a path. */
export function chordOf(path: Float64Array, from: number, to: number): Chord {
  const dx = path[3 * to] - path[3 * from];
  const dy = path[3 * to + 1] - path[3 * from + 1];
  const dz = path[3 * to + 2] - path[3 * from + 2];
  const squared = dx * dx + dy * dy + dz * dz;
  let deviation = 0;
  let at = from;
  let arc = 0;
  for (let i = from + 1; i <= to; i++) {
    arc += distanceBetween(path, i - 1, path, i);
    const x = path[3 * i] - path[3 * from];
    const y = path[3 * i + 1] - path[3 * from + 1];
    const z = path[3 * i + 2] - path[3 * from + 2];
    const along = squared > 0 ? (x * dx + y * dy + z * dz) / squared : 0;
    const distance = lengthOf(x - along * dx, y - along * dy, z - along * dz);
    if (distance > deviation) {
      deviation = distance;
      at = i;
    }
  }
  return { chord: Math.sqrt(squared), arc, deviation, at };
}

/** How a path comes back from a reversal. */
export interface Retrace {
  /** Length of path that was compared on either side, metres: that of the shorter side. */
  readonly length: number;
  /** Mean distance between the way out and the way back at equal lengths of path from the reversal, metres. */
  readonly distance: number;
  /** The largest such distance. */
  readonly farthest: number;
}

/** Points at which a way out and a way back are compared: enough for the bow of an arc (our choice). */
const comparedPoints = 16;

/** Compares the path before a reversal with the path after it, matched by length of path from the reversal. */
export function retraceOf(path: Float64Array, from: number, reversal: number, to: number): Retrace {
  const ahead = arcLengths(path, reversal, to);
  const whole = arcLengths(path, from, reversal);
  const last = whole.length - 1;
  const back = floats(whole.length);
  for (let i = 0; i <= last; i++) back[i] = whole[last] - whole[last - i];
  const length = Math.min(ahead[ahead.length - 1] ?? 0, back[back.length - 1] ?? 0);
  if (!(length > 0)) return { length: 0, distance: 0, farthest: 0 };
  const out = new Float64Array(6);
  let sum = 0;
  let farthest = 0;
  let on = 1;
  let off = 1;
  for (let k = 1; k <= comparedPoints; k++) {
    const at = (length * k) / comparedPoints;
    on = pointAt(path, reversal, 1, ahead, at, on, out, 0);
    off = pointAt(path, reversal, -1, back, at, off, out, 3);
    const distance = distanceBetween(out, 0, out, 1);
    sum += distance;
    farthest = Math.max(farthest, distance);
  }
  return { length, distance: sum / comparedPoints, farthest };
}

/**
 * The point at a length of path from a sample, walking in a direction.
 * @param near step at which it lies or before it
 * @returns the step at which it lies
 */
function pointAt(
  path: Float64Array,
  start: number,
  direction: 1 | -1,
  lengths: Float64Array,
  at: number,
  near: number,
  out: Float64Array,
  io: number,
): number {
  let i = near;
  while (i < lengths.length - 1 && lengths[i] < at) i++;
  const step = lengths[i] - lengths[i - 1];
  const share = step > 0 ? Math.min(1, (at - lengths[i - 1]) / step) : 1;
  const a = 3 * (start + direction * (i - 1));
  const b = 3 * (start + direction * i);
  for (let axis = 0; axis < 3; axis++) {
    out[io + axis] = path[a + axis] + share * (path[b + axis] - path[a + axis]);
  }
  return i;
}
