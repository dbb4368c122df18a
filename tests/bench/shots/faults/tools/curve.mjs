// @ts-check
/**
 * Keyed curves as an animator handles them: reading a value, setting a key on the curve, drawing a segment anew.
 * How curves run is told by docs/document.md; the slopes of smooth keys are those of Steffen 1990, as told there.
 * @import { Interpolation, Key, KeyedCurve } from "../../types.d.ts"
 */
import { valueAt } from "../../poses.mjs";

/** Two keys nearer than this many frames count as one. */
const sameFrame = 1e-6;

/** @param {KeyedCurve} curve @param {number} i @returns {Interpolation} of the segment behind key i */
export const modeAt = ({ keys, interpolation }, i) => keys[i].interpolation ?? interpolation;

/** Index of the key on a frame, or -1. @param {KeyedCurve} curve @param {number} frame */
export const keyIndex = ({ keys }, frame) => keys.findIndex((key) => Math.abs(key.frame - frame) < sameFrame);

/** Index of the last key at or before a frame, or -1. @param {KeyedCurve} curve @param {number} frame */
export function keyBefore({ keys }, frame) {
  let low = 0;
  let high = keys.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (keys[middle].frame <= frame + sameFrame) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** Limited slope of a smooth key (Steffen 1990), value per frame. @param {KeyedCurve} curve @param {number} i */
function smoothSlope(curve, i) {
  const { keys } = curve;
  if (i === 0 || i === keys.length - 1) return 0;
  if (modeAt(curve, i - 1) === "step" || modeAt(curve, i) === "step") return 0;
  const [a, b, c] = [keys[i - 1], keys[i], keys[i + 1]];
  const before = (b.value - a.value) / (b.frame - a.frame);
  const after = (c.value - b.value) / (c.frame - b.frame);
  if (before * after <= 0) return 0;
  const share = (c.frame - b.frame) / (c.frame - a.frame);
  const parabola = before * share + after * (1 - share);
  const limit = 2 * Math.min(Math.abs(before), Math.abs(after));
  return Math.max(-limit, Math.min(limit, parabola));
}

/**
 * The segment behind key i as a cubic in time and value.
 * @param {KeyedCurve} curve @param {number} i
 * @returns {[frame: number, value: number][]} four control points
 */
function controls(curve, i) {
  const [a, b] = [curve.keys[i], curve.keys[i + 1]];
  const span = b.frame - a.frame;
  const mode = modeAt(curve, i);
  let out = [span / 3, (b.value - a.value) / 3];
  let into = [-span / 3, (a.value - b.value) / 3];
  if (mode === "smooth" || mode === "bezier") {
    out = (mode === "bezier" ? a.out : undefined) ?? [span / 3, (smoothSlope(curve, i) * span) / 3];
    into = (mode === "bezier" ? b.in : undefined) ?? [-span / 3, (-smoothSlope(curve, i + 1) * span) / 3];
  }
  // Time never runs back: an overlong handle is shortened, one that points back stands upright.
  const within = (/** @type {number[]} */ [run, rise], /** @type {number} */ sign) =>
    run * sign > span ? [span * sign, (rise * span) / (run * sign)] : [run * sign < 0 ? 0 : run, rise];
  [out, into] = [within(out, 1), within(into, -1)];
  return [
    [a.frame, a.value],
    [a.frame + out[0], a.value + out[1]],
    [b.frame + into[0], b.value + into[1]],
    [b.frame, b.value],
  ];
}

const cubic = (/** @type {number[]} */ [p, q, r, s], /** @type {number} */ t) => {
  const u = 1 - t;
  return u * u * (u * p + 3 * t * q) + t * t * (3 * u * r + t * s);
};

/** Where on a segment its time is `frame`. @param {[number, number][]} points @param {number} frame */
function solved(points, frame) {
  const times = points.map(([time]) => time);
  let [low, high] = [0, 1];
  let t = (frame - times[0]) / (times[3] - times[0]);
  for (let round = 0; round < 60; round++) {
    const error = cubic(times, t) - frame;
    if (Math.abs(error) < 1e-10) break;
    if (error > 0) high = t;
    else low = t;
    const slope =
      3 * ((1 - t) ** 2 * (times[1] - times[0]) + t ** 2 * (times[3] - times[2])) +
      6 * t * (1 - t) * (times[2] - times[1]);
    const newton = t - error / slope;
    t = newton > low && newton < high ? newton : (low + high) / 2;
  }
  return t;
}

/** Slope over a whole frame, from half a frame before to half a frame after. @param {KeyedCurve} curve @param {number} frame */
export const meanSlope = (curve, frame) => valueAt(curve, frame + 0.5) - valueAt(curve, frame - 0.5);

/** Whether a curve says anything: a value that changes. @param {KeyedCurve} curve */
export const moves = ({ keys }) => keys.some(({ value }) => Math.abs(value - keys[0].value) > 1e-6);

/** Whether a curve has a key on every frame of a stretch. @param {KeyedCurve} curve @param {number} from @param {number} to */
export function denseIn(curve, from, to) {
  const start = keyIndex(curve, from);
  if (start < 0 || to - from < 2) return false;
  return Math.abs((curve.keys[start + to - from]?.frame ?? Number.NaN) - to) < sameFrame;
}

/**
 * Sets a key on the curve, so that it runs on as before.
 * @param {KeyedCurve} curve @param {number} frame
 * @returns {Key} the key on this frame
 */
export function cutAt(curve, frame) {
  const { keys } = curve;
  const there = keyIndex(curve, frame);
  if (there >= 0) return keys[there];
  fasten(curve, frame, frame);
  const i = keyBefore(curve, frame);
  /** @type {Key} */
  const key = { frame, value: valueAt(curve, frame) };
  if (i < 0 || i === keys.length - 1) {
    const neighbour = i < 0 ? keys[0] : keys[i];
    if (neighbour.interpolation !== undefined && i >= 0) key.interpolation = neighbour.interpolation;
    const reach = Math.abs(neighbour.frame - frame) / 3;
    if (i < 0)
      [key.out, neighbour.in] = [
        [reach, 0],
        [-reach, 0],
      ];
    else
      [key.in, neighbour.out] = [
        [-reach, 0],
        [reach, 0],
      ];
    keys.splice(i + 1, 0, key);
    return key;
  }
  const [a, b] = [keys[i], keys[i + 1]];
  const mode = modeAt(curve, i);
  if (mode !== curve.interpolation) key.interpolation = mode;
  if (mode === "bezier" || mode === "smooth") {
    const points = controls(curve, i);
    const t = solved(points, frame);
    const mix = (/** @type {number[]} */ p, /** @type {number[]} */ q) => [
      p[0] + (q[0] - p[0]) * t,
      p[1] + (q[1] - p[1]) * t,
    ];
    const [p, q, r] = [0, 1, 2].map((n) => mix(points[n], points[n + 1]));
    const [left, right] = [mix(p, q), mix(q, r)];
    a.out = [p[0] - a.frame, p[1] - a.value];
    key.in = [left[0] - frame, left[1] - key.value];
    key.out = [right[0] - frame, right[1] - key.value];
    b.in = [r[0] - b.frame, r[1] - b.value];
    if (curve.interpolation !== "bezier") a.interpolation = key.interpolation = "bezier";
  }
  keys.splice(i + 1, 0, key);
  return key;
}

/** Takes out the keys strictly between two frames. @param {KeyedCurve} curve @param {number} from @param {number} to */
export function clearBetween(curve, from, to) {
  curve.keys = curve.keys.filter(({ frame }) => frame < from + sameFrame || frame > to - sameFrame);
}

/**
 * Draws the curve anew between the keys on two frames: one segment with these slopes at its ends. A curve with a key
 * on every frame keeps them all.
 * @param {KeyedCurve} curve @param {number} from @param {number} to
 * @param {number} slopeFrom value per frame @param {number} slopeTo
 */
export function reshape(curve, from, to, slopeFrom, slopeTo) {
  fasten(curve, from, to);
  const [a, b] = [cutAt(curve, from), cutAt(curve, to)];
  const span = to - from;
  const course = (/** @type {number} */ frame) => {
    const t = (frame - from) / span;
    return cubic([a.value, a.value + (slopeFrom * span) / 3, b.value - (slopeTo * span) / 3, b.value], t);
  };
  if (denseIn(curve, from, to)) {
    const start = keyIndex(curve, from);
    for (let i = start + 1; curve.keys[i].frame < to - sameFrame; i++) {
      const key = curve.keys[i];
      key.value = course(key.frame);
      const slope = (course(key.frame + 0.01) - course(key.frame - 0.01)) / 0.02;
      if (key.in !== undefined) key.in = [-1 / 3, -slope / 3];
      if (key.out !== undefined) key.out = [1 / 3, slope / 3];
    }
    if (a.out !== undefined) a.out = [1 / 3, slopeFrom / 3];
    if (b.in !== undefined) b.in = [-1 / 3, -slopeTo / 3];
    return;
  }
  clearBetween(curve, from, to);
  a.out = [span / 3, (slopeFrom * span) / 3];
  b.in = [-span / 3, (-slopeTo * span) / 3];
  if (curve.interpolation !== "bezier" || a.interpolation !== undefined) {
    if (curve.interpolation === "bezier") delete a.interpolation;
    else a.interpolation = "bezier";
  }
}

/**
 * Adds straight pieces to the curve: nothing outside the knots, between them what they give, exactly. Sets keys on the
 * knots; keys between them are moved along with their handles.
 * @param {KeyedCurve} curve
 * @param {readonly [frame: number, by: number][]} knots in order of time; the first and the last give 0
 */
export function addKnots(curve, knots) {
  for (const [frame] of knots) cutAt(curve, frame);
  const last = knots.length - 1;
  fasten(curve, knots[0][0], knots[last][0]);
  const pitch = (/** @type {number} */ n) =>
    n < 0 || n >= last ? 0 : (knots[n + 1][1] - knots[n][1]) / (knots[n + 1][0] - knots[n][0]);
  let n = -1;
  for (const key of curve.keys) {
    while (n < last && knots[n + 1][0] < key.frame + sameFrame) n++;
    if (n < 0) continue;
    const on = Math.abs(knots[n][0] - key.frame) < sameFrame;
    const [before, after] = [pitch(on ? n - 1 : n), pitch(n)];
    if (n < last || on) key.value += knots[n][1] + pitch(n) * (key.frame - knots[n][0]);
    if (key.in !== undefined) key.in = [key.in[0], key.in[1] + before * key.in[0]];
    if (key.out !== undefined) key.out = [key.out[0], key.out[1] + after * key.out[0]];
  }
}

/**
 * Writes down the handles of smooth segments from one frame to another, and of those beside them, which would else find
 * other slopes when a neighbour moves.
 * @param {KeyedCurve} curve @param {number} from @param {number} to
 */
function fasten(curve, from, to) {
  const { keys } = curve;
  if (curve.interpolation === "linear" || curve.interpolation === "step") return;
  /** @type {[number, [number, number][]][]} */
  const found = [];
  for (let i = Math.max(0, keyBefore(curve, from) - 1); i + 1 < keys.length; i++) {
    const mode = modeAt(curve, i);
    const open = mode === "bezier" && (keys[i].out === undefined || keys[i + 1].in === undefined);
    if (mode === "smooth" || open) found.push([i, controls(curve, i)]);
    if (keys[i].frame > to) break;
  }
  for (const [i, [p, q, r, s]] of found) {
    keys[i].out = [q[0] - p[0], q[1] - p[1]];
    keys[i + 1].in = [r[0] - s[0], r[1] - s[1]];
    if (curve.interpolation !== "bezier") keys[i].interpolation = "bezier";
  }
}

/** A copy with keys of its own. @param {KeyedCurve} curve @returns {KeyedCurve} */
export const copyOf = (curve) => ({ ...curve, keys: curve.keys.map((key) => ({ ...key })) });

/**
 * Draws the curve anew through points with slopes, from the first to the last of them.
 * @param {KeyedCurve} curve @param {readonly { frame: number, value: number, slope: number }[]} points
 */
export function redraw(curve, points) {
  const ends = [points[0], points[points.length - 1]].map(({ frame }) => frame);
  const isDense = denseIn(curve, ends[0], ends[1]);
  for (const { frame } of points) cutAt(curve, frame);
  if (!isDense) {
    const kept = new Set(points.map(({ frame }) => frame));
    curve.keys = curve.keys.filter(({ frame }) => frame < ends[0] || frame > ends[1] || kept.has(frame));
  }
  for (const { frame, value } of points) cutAt(curve, frame).value = value;
  for (let n = 0; n + 1 < points.length; n++) {
    reshape(curve, points[n].frame, points[n + 1].frame, points[n].slope, points[n + 1].slope);
  }
}
