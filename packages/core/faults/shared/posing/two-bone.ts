import { conjugate, multiplyQuaternions, rotated } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { cross, dot, minus, plus, pointAt, scaled, type Vector, vectorLength } from "../../../base/vector.ts";
import { worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import type { Samples } from "./offsets.ts";

/** Joints of a limb: hip or shoulder, knee or elbow, ankle or wrist. */
export interface LimbJoints {
  readonly root: number;
  readonly middle: number;
  readonly end: number;
}

/** Where the end of a limb is to be, and how it is to stand, per sample from lo to hi. */
export interface EndCourse {
  /** 3 numbers per sample, metres. */
  readonly position: Float64Array;
  /** 4 numbers per sample. */
  readonly orientation: Float64Array;
}

/** Local turns of a limb's joints, 4 numbers per sample, fixed rotations included. */
export interface LimbTurns {
  readonly root: Float64Array;
  readonly middle: Float64Array;
  readonly end: Float64Array;
}

/** A limb is never stretched beyond this share of its length: at full stretch its middle joint has no side to bend to. */
const longest = 0.9995;

/**
 * Turns of a limb's three joints that bring its end where it is asked for, or as near as the limb reaches: the middle
 * joint opens or closes in the plane in which the limb is bent in the world, and the whole limb turns about its root
 * the shortest way.
 * @param study of the shot as it is: the limb's own bend is taken from it
 * @param trial of the shot in which what the limb hangs on may move otherwise
 */
export function limbTo(
  study: Study,
  trial: Study,
  joints: LimbJoints,
  { lo, hi }: Samples,
  course: EndCourse,
): LimbTurns {
  const { parent } = rigOf(study);
  const count = hi - lo + 1;
  const turns = {
    root: new Float64Array(4 * count),
    middle: new Float64Array(4 * count),
    end: new Float64Array(4 * count),
  };
  const [root, middle, end] = [joints.root, joints.middle, joints.end].map((node) => worldOf(study, node));
  const above = parent[joints.root] < 0 ? null : worldOf(trial, parent[joints.root]).orientation;
  const hung = worldOf(trial, joints.root).position;
  const overMiddle = worldOf(study, parent[joints.middle]).orientation;
  const overEnd = worldOf(study, parent[joints.end]).orientation;
  const hinge = hingeOf(root.position, middle.position, end.position, root.orientation, lo, hi);
  const open = new Float64Array(4);
  const swing = new Float64Array(4);
  const both = new Float64Array(4);
  const outer = new Float64Array(4);
  for (let n = 0; n < count; n++) {
    const i = lo + n;
    const a = pointAt(root.position, i);
    const b = pointAt(middle.position, i);
    const c = pointAt(end.position, i);
    // The limb is carried over to where its root is, without a turn.
    const target = plus(pointAt(course.position, n), minus(a, pointAt(hung, i)));
    const [upper, lower] = [vectorLength(minus(a, b)), vectorLength(minus(c, b))];
    const least = 1.0001 * Math.abs(upper - lower);
    const reach = Math.min(longest * (upper + lower), Math.max(least, vectorLength(minus(target, a))));
    const axis = bendAxis(a, b, c) ?? turnedVector(root.orientation, i, hinge);
    const now = angleBetweenVectors(minus(a, b), minus(c, b));
    const cosine = (upper * upper + lower * lower - reach * reach) / (2 * upper * lower);
    aboutAxis(axis, Math.acos(Math.max(-1, Math.min(1, cosine))) - now, open);
    const reached = plus(b, rotated(open, minus(c, b)));
    shortestTurn(minus(reached, a), minus(target, a), swing);
    multiplyQuaternions(swing, 0, open, 0, both, 0);
    // Root: what it hangs on stays, its own world turn is swung.
    multiplyQuaternions(swing, 0, root.orientation, 4 * i, outer, 0);
    toLocal(above, i, outer, turns.root, n);
    // Middle: hangs on what was swung.
    multiplyQuaternions(both, 0, middle.orientation, 4 * i, outer, 0);
    multiplyQuaternions(swing, 0, overMiddle, 4 * i, swing, 0);
    toLocal(swing, 0, outer, turns.middle, n);
    multiplyQuaternions(both, 0, overEnd, 4 * i, both, 0);
    toLocal(both, 0, course.orientation.subarray(4 * n, 4 * n + 4), turns.end, n);
  }
  return turns;
}

/** out[n] = outer⁻¹ · world. */
function toLocal(
  outer: Float64Array | null,
  at: number,
  world: Float64Array,
  out: Float64Array,
  n: number,
): void {
  if (outer === null) out.set(world.subarray(0, 4), 4 * n);
  else multiplyQuaternions(conjugate(outer, 4 * at), 0, world, 0, out, 4 * n);
}

/** The axis about which the middle joint bends, in the axes of the limb's root: where it bends most. */
function hingeOf(
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  root: Float64Array,
  lo: number,
  hi: number,
): Vector {
  let most = 0;
  let found: Vector = [1, 0, 0];
  for (let i = lo; i <= hi; i++) {
    const [p, q, r] = [pointAt(a, i), pointAt(b, i), pointAt(c, i)];
    const axis = cross(minus(p, q), minus(r, q));
    const size = vectorLength(axis);
    if (size <= most) continue;
    most = size;
    found = rotated(conjugate(root, 4 * i), scaled(axis, 1 / size));
  }
  return found;
}

/** Unit axis that opens the middle joint; null where the limb is straight. */
function bendAxis(a: Vector, b: Vector, c: Vector): Vector | null {
  const [u, v] = [minus(a, b), minus(c, b)];
  const axis = cross(u, v);
  const size = vectorLength(axis);
  return size > 1e-3 * vectorLength(u) * vectorLength(v) ? scaled(axis, 1 / size) : null;
}

function angleBetweenVectors(u: Vector, v: Vector): number {
  return Math.atan2(vectorLength(cross(u, v)), dot(u, v));
}

function aboutAxis(axis: Vector, angle: number, out: Float64Array): void {
  const sine = Math.sin(0.5 * angle);
  out.set([sine * axis[0], sine * axis[1], sine * axis[2], Math.cos(0.5 * angle)]);
}

/** The shortest turn that brings the direction of one vector to that of another. */
export function shortestTurn(from: Vector, to: Vector, out: Float64Array): void {
  const axis = cross(from, to);
  const size = vectorLength(axis);
  const angle = angleBetweenVectors(from, to);
  if (size < 1e-15) out.set([0, 0, 0, 1]);
  else aboutAxis(scaled(axis, 1 / size), angle, out);
}

function turnedVector(q: Float64Array, sample: number, v: Vector): Vector {
  return rotated(q, v, 4 * sample);
}
