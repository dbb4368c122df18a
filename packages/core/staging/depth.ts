import { lengthOf } from "../base/vector.ts";

/** A solid in the shot, as its depth in others is measured: the hull of balls about 1, 2 or (a box's corners) 8 points. */
export interface Hull {
  /** One path for each point, 3 numbers per sample, metres. */
  readonly paths: readonly Float64Array[];
  /** Metres. */
  readonly radius: number;
}

/** The unit way by which the first of the two leaves the second soonest, as the last depth that was measured found it. */
export const wayOut = new Float64Array(3);

/** Middle of a hull's core and its half edges, 3 numbers each; what a ball or a capsule lacks is 0. */
const one = new Float64Array(12);
const two = new Float64Array(12);
/** How many half edges the cores have: 0 for a ball, 1 for a capsule, 3 for a box. */
const edges = [0, 0];

/**
 * How deep two solids are in each other at a sample, metres: the shortest way by which they come apart; 0 and less where
 * they are apart. Boxes that a shear has made slanted are taken as they are along their edges.
 */
export function depthBetween(a: Hull, b: Hull, sample: number): number {
  edges[0] = coreOf(a, sample, one);
  edges[1] = coreOf(b, sample, two);
  const x = one[0] - two[0];
  const y = one[1] - two[1];
  const z = one[2] - two[2];
  const apart = lengthOf(x, y, z);
  const room = a.radius + b.radius;
  if (apart >= halfLength(one) + halfLength(two) + room) return Number.NEGATIVE_INFINITY;
  if (edges[0] < 3 && edges[1] < 3) return room - betweenLines();
  if (edges[0] === 3 && edges[1] === 3) return room + overlap();
  const gap = edges[0] === 3 ? gapOfLine(two, one, -1) : gapOfLine(one, two, 1);
  return gap > 0 ? room - gap : room + overlap();
}

/** How deep a solid is beneath a plane (normal · p = height) at a sample, metres; less than 0 where it is over it. */
export function depthUnder(hull: Hull, normal: ArrayLike<number>, height: number, sample: number): number {
  let lowest = Number.POSITIVE_INFINITY;
  for (const path of hull.paths) lowest = Math.min(lowest, over(path, normal, height, sample));
  return hull.radius - lowest;
}

/** How far the highest point of a solid is over a plane at a sample, metres. */
export function heightOver(hull: Hull, normal: ArrayLike<number>, height: number, sample: number): number {
  let highest = Number.NEGATIVE_INFINITY;
  for (const path of hull.paths) highest = Math.max(highest, over(path, normal, height, sample));
  return hull.radius + highest;
}

function over(path: Float64Array, normal: ArrayLike<number>, height: number, sample: number): number {
  const k = 3 * sample;
  return normal[0] * path[k] + normal[1] * path[k + 1] + normal[2] * path[k + 2] - height;
}

/** Writes a hull's core; returns how many half edges it has. */
function coreOf({ paths }: Hull, sample: number, core: Float64Array): number {
  const k = 3 * sample;
  const first = paths[0];
  const last = paths[paths.length - 1];
  core.fill(0, 3);
  for (let axis = 0; axis < 3; axis++) core[axis] = (first[k + axis] + last[k + axis]) / 2;
  if (paths.length === 1) return 0;
  if (paths.length === 2) {
    for (let axis = 0; axis < 3; axis++) core[3 + axis] = (last[k + axis] - first[k + axis]) / 2;
    return 1;
  }
  // Corners are in the order of their bits: the second, third and fifth are beside the first one.
  for (let edge = 0; edge < 3; edge++) {
    const corner = paths[1 << edge];
    for (let axis = 0; axis < 3; axis++) core[3 + 3 * edge + axis] = (corner[k + axis] - first[k + axis]) / 2;
  }
  return 3;
}

function halfLength(core: Float64Array): number {
  let sum = 0;
  for (let k = 3; k < 12; k += 3) sum += lengthOf(core[k], core[k + 1], core[k + 2]) ** 2;
  return Math.sqrt(sum);
}

/** Distance of two lines of given length (or points), metres: the least of a quadratic function of two bounded numbers. */
function betweenLines(): number {
  const rx = one[0] - two[0];
  const ry = one[1] - two[1];
  const rz = one[2] - two[2];
  const ax = one[3];
  const ay = one[4];
  const az = one[5];
  const bx = two[3];
  const by = two[4];
  const bz = two[5];
  const aa = ax * ax + ay * ay + az * az;
  const bb = bx * bx + by * by + bz * bz;
  const ab = ax * bx + ay * by + az * bz;
  const ar = ax * rx + ay * ry + az * rz;
  const br = bx * rx + by * ry + bz * rz;
  // Points one + s·a and two + t·b, with s and t from −1 to 1.
  const det = aa * bb - ab * ab;
  let s = det > 1e-12 * aa * bb ? clamped((ab * br - bb * ar) / det) : 0;
  const t = bb > 0 ? clamped((ab * s + br) / bb) : 0;
  s = aa > 0 ? clamped((ab * t - ar) / aa) : 0;
  const x = rx + s * ax - t * bx;
  const y = ry + s * ay - t * by;
  const z = rz + s * az - t * bz;
  const distance = lengthOf(x, y, z);
  if (distance > 0) setWay(x / distance, y / distance, z / distance);
  else acrossBoth(ax, ay, az, bx, by, bz);
  return distance;
}

const clamped = (value: number) => Math.min(1, Math.max(-1, value));

function setWay(x: number, y: number, z: number): void {
  wayOut[0] = x;
  wayOut[1] = y;
  wayOut[2] = z;
}

/** Across two lines that cross; up where they lie along each other. */
function acrossBoth(ax: number, ay: number, az: number, bx: number, by: number, bz: number): void {
  const x = ay * bz - az * by;
  const y = az * bx - ax * bz;
  const z = ax * by - ay * bx;
  const length = lengthOf(x, y, z);
  if (length > 1e-12) setWay(x / length, y / length, z / length);
  else setWay(0, 1, 0);
}

/** Steps of the search along a line: to a thousandth of it. */
const searches = 18;
const golden = (Math.sqrt(5) - 1) / 2;

/**
 * Least distance of a line's points from a box, metres; less than 0 where one is inside. The distance from a convex body
 * is convex along a line, so that narrowing down finds its least.
 * @param sign −1 where the box is the first of the two
 */
function gapOfLine(line: Float64Array, box: Float64Array, sign: number): number {
  let low = -1;
  let high = 1;
  let s = high - golden * (high - low);
  let t = low + golden * (high - low);
  let atS = gapAt(line, s, box);
  let atT = gapAt(line, t, box);
  for (let n = 0; n < searches && line[3] ** 2 + line[4] ** 2 + line[5] ** 2 > 0; n++) {
    if (atS < atT) {
      [high, t, atT] = [t, s, atS];
      s = high - golden * (high - low);
      atS = gapAt(line, s, box);
    } else {
      [low, s, atS] = [s, t, atT];
      t = low + golden * (high - low);
      atT = gapAt(line, t, box);
    }
  }
  const gap = gapAt(line, atS < atT ? s : t, box);
  if (gap > 0) setWay((sign * out[0]) / gap, (sign * out[1]) / gap, (sign * out[2]) / gap);
  return gap;
}

/** From the nearest point of a box to the point that was looked at last, metres; nothing where it is inside. */
const out = new Float64Array(3);

function gapAt(line: Float64Array, s: number, box: Float64Array): number {
  const x = line[0] + s * line[3] - box[0];
  const y = line[1] + s * line[4] - box[1];
  const z = line[2] + s * line[5] - box[2];
  let inside = Number.NEGATIVE_INFINITY;
  out[0] = 0;
  out[1] = 0;
  out[2] = 0;
  for (let k = 3; k < 12; k += 3) {
    const half = lengthOf(box[k], box[k + 1], box[k + 2]);
    const along = (x * box[k] + y * box[k + 1] + z * box[k + 2]) / half;
    const beyond = Math.abs(along) - half;
    inside = Math.max(inside, beyond);
    if (beyond <= 0) continue;
    const by = (Math.sign(along) * beyond) / half;
    for (let axis = 0; axis < 3; axis++) out[axis] += by * box[k + axis];
  }
  return inside <= 0 ? inside : lengthOf(out[0], out[1], out[2]);
}

/**
 * The shortest way by which two cores, one of them a box, come apart, metres; less than 0 where some plane parts them. It
 * is along the normal of a face, or across two edges (the separating axis theorem).
 */
function overlap(): number {
  least = Number.POSITIVE_INFINITY;
  for (let e = 0; e < 2; e++) {
    const core = e === 0 ? one : two;
    if (edges[e] < 3) continue;
    for (let k = 3; k < 12; k += 3) tryAxis(core[k], core[k + 1], core[k + 2]);
  }
  for (let k = 3; k < 3 + 3 * edges[0]; k += 3) {
    for (let m = 3; m < 3 + 3 * edges[1]; m += 3) {
      const x = one[k + 1] * two[m + 2] - one[k + 2] * two[m + 1];
      const y = one[k + 2] * two[m] - one[k] * two[m + 2];
      const z = one[k] * two[m + 1] - one[k + 1] * two[m];
      // Edges that lie along each other part nothing.
      const limit =
        1e-6 * lengthOf(one[k], one[k + 1], one[k + 2]) * lengthOf(two[m], two[m + 1], two[m + 2]);
      if (lengthOf(x, y, z) > limit) tryAxis(x, y, z);
    }
  }
  return least;
}

let least = 0;

function tryAxis(x: number, y: number, z: number): void {
  const length = lengthOf(x, y, z);
  let room = 0;
  let between = 0;
  for (let k = 3; k < 12; k += 3) {
    room += Math.abs(one[k] * x + one[k + 1] * y + one[k + 2] * z);
    room += Math.abs(two[k] * x + two[k + 1] * y + two[k + 2] * z);
  }
  between = (one[0] - two[0]) * x + (one[1] - two[1]) * y + (one[2] - two[2]) * z;
  const depth = (room - Math.abs(between)) / length;
  if (depth >= least) return;
  least = depth;
  const sign = between < 0 ? -1 : 1;
  setWay((sign * x) / length, (sign * y) / length, (sign * z) / length);
}
