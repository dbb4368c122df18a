import { conjugateInto, logBetween, multiplyQuaternions, rotated } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import type { Study } from "../../base/study.ts";
import { lengthOf, type Vector } from "../../base/vector.ts";
import { worldOf } from "../../rig/pose.ts";

/**
 * Turning about one axis: what answers a turn answers it along its own axis. A nod is no answer to a turn of the head,
 * and a sway none to a turn of the body.
 */

/** A node that turns, and what it turns against: a node above it, or −1 for the world. */
export interface Turning {
  readonly node: number;
  readonly against: number;
}

/** The turn of a node between two samples. */
export interface Turned {
  /** Unit vector in the world's axes, as it stands at the first sample. */
  readonly axis: Vector;
  /** Radians, 0 to π. */
  readonly angle: number;
}

/** Axis and angle by which a node turns between two samples; the axis is null where it hardly turns. */
export function turnBetween(study: Study, turning: Turning, from: number, to: number): Turned | null {
  return turnIn(worldOf(study, turning.node).orientation, carrierOf(study, turning), from, to);
}

/**
 * The same from series of orientations.
 * @param carrier what it turns against; null for the world
 */
export function turnIn(
  orientation: Float64Array,
  carrier: Float64Array | null,
  from: number,
  to: number,
): Turned | null {
  relativeInto(orientation, carrier, from, one);
  relativeInto(orientation, carrier, to, other);
  const way = logBetween(one, other);
  const angle = lengthOf(...way);
  if (angle < 1e-6) return null;
  const axis = way.map((part) => part / angle) as [number, number, number];
  return { axis: rotated(orientation, axis, 4 * from), angle };
}

/**
 * Angle in radians by which a node has turned about an axis at each sample from..to, against a sample of its own: the
 * twist of its turn. It runs on past half a turn.
 * @param axis unit vector in the world's axes as it stands at sample `at`
 */
export function twistAbout(
  study: Study,
  turning: Turning,
  axis: Vector,
  at: number,
  from: number,
  to: number,
): Float64Array {
  return twistIn(worldOf(study, turning.node).orientation, carrierOf(study, turning), axis, at, from, to);
}

/**
 * The same from series of orientations.
 * @param carrier what it turns against; null for the world
 */
export function twistIn(
  orientation: Float64Array,
  carrier: Float64Array | null,
  axis: Vector,
  at: number,
  from: number,
  to: number,
): Float64Array {
  conjugateInto(orientation, 4 * at, inverse, 0);
  const [x, y, z] = rotated(inverse, axis);
  relativeInto(orientation, carrier, at, start);
  conjugateInto(start, 0, inverse, 0);
  const angles = floats(to - from + 1);
  let before = 0;
  for (let i = from; i <= to; i++) {
    relativeInto(orientation, carrier, i, one);
    multiplyQuaternions(inverse, 0, one, 0, other, 0);
    let angle = 2 * Math.atan2(other[0] * x + other[1] * y + other[2] * z, other[3]);
    angle += 2 * Math.PI * Math.round((before - angle) / (2 * Math.PI));
    angles[i - from] = angle;
    before = angle;
  }
  return angles;
}

/** Largest value of a series less its smallest. */
export function rangeOf(series: Float64Array): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of series) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return Math.max(0, high - low);
}

// Written anew by each call that reads them.
const inverse = new Float64Array(4);
const start = new Float64Array(4);
const one = new Float64Array(4);
const other = new Float64Array(4);
const outer = new Float64Array(4);

/** Orientations of what a node turns against; null for the world. */
function carrierOf(study: Study, { against }: Turning): Float64Array | null {
  return against < 0 ? null : worldOf(study, against).orientation;
}

/** carrier⁻¹ · orientation at one sample. */
function relativeInto(
  orientation: Float64Array,
  carrier: Float64Array | null,
  at: number,
  out: Float64Array,
): void {
  if (carrier === null) {
    for (let k = 0; k < 4; k++) out[k] = orientation[4 * at + k];
    return;
  }
  conjugateInto(carrier, 4 * at, outer, 0);
  multiplyQuaternions(outer, 0, orientation, 4 * at, out, 0);
}
