import { conjugateInto, multiplyQuaternions, rotationVectorInto } from "../base/quaternion.ts";
import { lengthOf } from "../base/vector.ts";
import { cubicMode, type Keys, keyAfter, keyAtOrBefore, keyBefore, linearMode, stepMode } from "./keys.ts";

/**
 * Samples quaternion keys, at least one, at ascending times; every value is a unit quaternion.
 *
 * - step: the key's quaternion.
 * - linear: along the shortest arc at even speed (spherical linear interpolation, glTF 2.0 Appendix C).
 * - cubic: the cubic of glTF 2.0 Appendix C on the four numbers as they are given, then brought to length 1.
 * - smooth (and bezier, whose handles mean nothing for four numbers): along q₀·exp(v(u)), where v runs from 0 to the
 *   rotation vector of q₀⁻¹·q₁ (the shortest way) as a Hermite cubic. The angular velocity at a key is limited like the
 *   slope of a smooth scalar key ({@link smoothVelocity}), so that turns about one axis come out exactly as smooth
 *   scalar keys of the angle would; it does not depend on the choice of axes and has no jump in angular velocity.
 */
export function sampleQuaternions(keys: Keys, times: Float64Array, out: Float64Array): void {
  const { frames, modes } = keys.curve;
  const { start, end } = keys;
  const count = times.length;
  let key = count > 0 ? Math.max(start, keyAtOrBefore(keys, times[0])) : start;
  let prepared = -1;
  for (let i = 0; i < count; i++) {
    const time = times[i];
    let next = keyAfter(keys, key);
    while (next <= end && frames[next] <= time) {
      key = next;
      next = keyAfter(keys, key);
    }
    if (next > end || !(frames[key] < time) || modes[key] === stepMode) {
      copyUnit(keys, key, out, 4 * i);
      continue;
    }
    if (prepared !== key) {
      prepare(keys, key, next);
      prepared = key;
    }
    const u = (time - frames[key]) / (frames[next] - frames[key]);
    if (modes[key] === cubicMode) cubicAt(keys, key, next, u, out, 4 * i);
    else turnAt(u, out, 4 * i);
  }
}

// Scratch of the segment that is being sampled: filled by `prepare`, read by `turnAt` and `cubicAt`.
const base = new Float64Array(4);
/** Coefficients of u, u² and u³ of the rotation vector. */
const turn = new Float64Array(9);
const arc = new Float64Array(3);
const startVelocity = new Float64Array(3);
const endVelocity = new Float64Array(3);
/** Slopes of a cubic segment, 4 numbers each, in parts per segment. */
const outSlope = new Float64Array(4);
const inSlope = new Float64Array(4);

function prepare(keys: Keys, key: number, next: number): void {
  const { frames, modes } = keys.curve;
  const span = frames[next] - frames[key];
  if (modes[key] === cubicMode) {
    readSlope(keys, key, 4, span, outSlope);
    readSlope(keys, next, 0, span, inSlope);
    return;
  }
  copyUnit(keys, key, base, 0);
  relativeTurn(keys, key, next, arc);
  if (modes[key] === linearMode) {
    turn.fill(0);
    turn.set(arc);
    return;
  }
  smoothVelocity(keys, key, startVelocity);
  smoothVelocity(keys, next, endVelocity);
  toVectorRate(arc, endVelocity);
  for (let k = 0; k < 3; k++) {
    const m0 = startVelocity[k] * span;
    const m1 = endVelocity[k] * span;
    turn[k] = m0;
    turn[3 + k] = 3 * arc[k] - 2 * m0 - m1;
    turn[6 + k] = m0 + m1 - 2 * arc[k];
  }
}

/** out = base · exp(v(u)). */
function turnAt(u: number, out: Float64Array, io: number): void {
  const x = u * (turn[0] + u * (turn[3] + u * turn[6]));
  const y = u * (turn[1] + u * (turn[4] + u * turn[7]));
  const z = u * (turn[2] + u * (turn[5] + u * turn[8]));
  const angle = lengthOf(x, y, z);
  const w = Math.cos(0.5 * angle);
  const share = angle < 1e-9 ? 0.5 : Math.sin(0.5 * angle) / angle;
  const bx = base[0];
  const by = base[1];
  const bz = base[2];
  const bw = base[3];
  const ex = share * x;
  const ey = share * y;
  const ez = share * z;
  out[io] = bw * ex + bx * w + by * ez - bz * ey;
  out[io + 1] = bw * ey - bx * ez + by * w + bz * ex;
  out[io + 2] = bw * ez + bx * ey - by * ex + bz * w;
  out[io + 3] = bw * w - bx * ex - by * ey - bz * ez;
}

/** glTF 2.0 Appendix C, cubic spline interpolation, normalised after. */
function cubicAt(keys: Keys, key: number, next: number, u: number, out: Float64Array, io: number): void {
  const { values } = keys.curve;
  const u2 = u * u;
  const u3 = u2 * u;
  for (let k = 0; k < 4; k++) {
    out[io + k] =
      (2 * u3 - 3 * u2 + 1) * values[4 * key + k] +
      (u3 - 2 * u2 + u) * outSlope[k] +
      (3 * u2 - 2 * u3) * values[4 * next + k] +
      (u3 - u2) * inSlope[k];
  }
  normalise(out, io);
}

/** A key's slope on a side (0 in, 4 out) over a segment; that of a smooth key where it gives none. */
function readSlope(keys: Keys, key: number, side: 0 | 4, span: number, out: Float64Array): void {
  const { handles, values } = keys.curve;
  const at = 8 * key + side;
  if (handles !== null && !Number.isNaN(handles[at])) {
    for (let k = 0; k < 4; k++) out[k] = handles[at + k] * span;
    return;
  }
  // The rate of a quaternion that turns with the angular velocity w in its own axes is q·w/2.
  smoothVelocity(keys, key, startVelocity);
  const [x, y, z] = startVelocity;
  const [qx, qy, qz, qw] = values.subarray(4 * key, 4 * key + 4);
  const share = 0.5 * span;
  out[0] = share * (qw * x + qy * z - qz * y);
  out[1] = share * (qw * y - qx * z + qz * x);
  out[2] = share * (qw * z + qx * y - qy * x);
  out[3] = -share * (qx * x + qy * y + qz * z);
}

const arcBefore = new Float64Array(3);
const arcAfter = new Float64Array(3);

/**
 * Angular velocity of a smooth key in its own axes, radians per frame: the parabola through the neighbours, at most
 * twice the slower arc's speed times the cosine of the angle between the two arcs' axes. Arcs about one axis are
 * limited as in `smoothSlope`; the cosine lets the limit fall to zero steadily as the turn bends away from its axis.
 * Zero where the turn goes back, and beside a hold.
 */
function smoothVelocity(keys: Keys, key: number, out: Float64Array): void {
  const { frames, modes } = keys.curve;
  out.fill(0);
  const before = keyBefore(keys, key);
  const after = keyAfter(keys, key);
  if (before < keys.start || after > keys.end) return;
  if (modes[before] === stepMode || modes[key] === stepMode) return;
  const spanBefore = frames[key] - frames[before];
  const spanAfter = frames[after] - frames[key];
  if (!(spanBefore > 0) || !(spanAfter > 0)) return;
  relativeTurn(keys, before, key, arcBefore);
  relativeTurn(keys, key, after, arcAfter);
  let dot = 0;
  for (let k = 0; k < 3; k++) dot += arcBefore[k] * arcAfter[k];
  if (!(dot > 0)) return;
  const share = spanAfter / (spanBefore + spanAfter);
  for (let k = 0; k < 3; k++) {
    out[k] = (arcBefore[k] / spanBefore) * share + (arcAfter[k] / spanAfter) * (1 - share);
  }
  const limit =
    (2 * dot) /
    Math.max(
      lengthOf(arcBefore[0], arcBefore[1], arcBefore[2]) * spanAfter,
      lengthOf(arcAfter[0], arcAfter[1], arcAfter[2]) * spanBefore,
    );
  const speed = lengthOf(out[0], out[1], out[2]);
  if (speed > limit) for (let k = 0; k < 3; k++) out[k] *= limit / speed;
}

const from = new Float64Array(4);
const to = new Float64Array(4);

/** The rotation vector that leads from one key to another by the shortest way, in the axes of the first. */
function relativeTurn(keys: Keys, a: number, b: number, out: Float64Array): void {
  copyUnit(keys, a, from, 0);
  copyUnit(keys, b, to, 0);
  conjugateInto(from, 0, from, 0);
  multiplyQuaternions(from, 0, to, 0, from, 0);
  rotationVectorInto(from, 0, out, 0);
}

/**
 * Turns an angular velocity (in the axes of the end) into the rate of the rotation vector r there: the inverse of the
 * right Jacobian of the exponential, w + r×w/2 + (1/θ² − cot(θ/2)/(2θ))·r×(r×w) (G. S. Chirikjian 2012, "Stochastic
 * models, information theory, and Lie groups", volume 2, chapter 10).
 */
function toVectorRate(r: Float64Array, w: Float64Array): void {
  const angle = lengthOf(r[0], r[1], r[2]);
  const factor = angle < 1e-3 ? 1 / 12 : 1 / (angle * angle) - 1 / (2 * angle * Math.tan(0.5 * angle));
  const cx = r[1] * w[2] - r[2] * w[1];
  const cy = r[2] * w[0] - r[0] * w[2];
  const cz = r[0] * w[1] - r[1] * w[0];
  w[0] += 0.5 * cx + factor * (r[1] * cz - r[2] * cy);
  w[1] += 0.5 * cy + factor * (r[2] * cx - r[0] * cz);
  w[2] += 0.5 * cz + factor * (r[0] * cy - r[1] * cx);
}

/** A key's quaternion at length 1; no turn where it is zero. */
function copyUnit(keys: Keys, key: number, out: Float64Array, io: number): void {
  const { values } = keys.curve;
  for (let k = 0; k < 4; k++) out[io + k] = values[4 * key + k];
  normalise(out, io);
}

function normalise(q: Float64Array, at: number): void {
  const square = q[at] * q[at] + q[at + 1] * q[at + 1] + q[at + 2] * q[at + 2] + q[at + 3] * q[at + 3];
  if (Math.abs(square - 1) < 1e-15) return;
  if (square === 0) {
    q[at + 3] = 1;
    return;
  }
  const share = 1 / Math.sqrt(square);
  for (let k = 0; k < 4; k++) q[at + k] *= share;
}
