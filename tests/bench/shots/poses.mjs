// @ts-check
/**
 * Poses of a shot: of its keyed curves, as a player of the document would show them, or of its dense table.
 * Curves are evaluated by this file's own reading of docs/document.md; the tests hold it against the core.
 * @import { ChannelName, Key, KeyedCurve, KeyedShot, KeyingStyle, Performance, Poses } from "./types.d.ts"
 */
import { framesOf, restOf } from "./motion/performance.mjs";
import { massCentreInto, pointInto, sourceOf, worldSeries } from "./motion/world.mjs";

/**
 * Poses of a keyed shot. What is asked for is worked out once; a later change of its curves is not seen.
 * @param {KeyedShot} shot
 * @returns {Poses}
 */
export function posesOf(shot) {
  const count = framesOf(shot.performance);
  const { first } = shot.performance;
  /** @type {Map<string, Float64Array>} */
  const tracks = new Map();
  for (const [name, curve] of shot.curves) {
    if (curve.keys.length > 0) tracks.set(name, sampled(curve, first, count));
  }
  return posesOfTracks(shot.performance, tracks, shot);
}

/**
 * Poses of a dense table as it stands now (it is read as it is asked; make new ones after a change).
 * @param {Performance} performance @returns {Poses}
 */
export const densePosesOf = (performance) =>
  posesOfTracks(performance, performance.tracks, { performance, style: unkeyed, curves: new Map() });

/** @type {KeyingStyle} */
const unkeyed = { stage: "dense", spacing: 1, interpolation: "linear", offset: 0 };

/**
 * Poses for other tracks than a performance's own.
 * @param {Performance} performance @param {ReadonlyMap<string, Float64Array>} tracks
 * @param {KeyedShot} keyed what they were sampled from @returns {Poses}
 */
export function posesOfTracks(performance, tracks, keyed) {
  const { first, last } = performance;
  const source = sourceOf(performance, tracks);
  const { rig } = source;
  const of = worldSeries(source);
  const count = last - first + 1;
  // Frames outside are those of the ends, fractions go to the nearest: a pose is asked for on a frame of the shot.
  const indexOf = (/** @type {number} */ frame) =>
    Math.max(0, Math.min(count - 1, Math.round(frame) - first));
  const out = new Float64Array(3);
  return {
    first,
    count,
    performance,
    keyed,
    position(joint, frame) {
      const { position } = of(rig.require(joint));
      const i = 3 * indexOf(frame);
      return [position[i], position[i + 1], position[i + 2]];
    },
    orientation(joint, frame) {
      const { orientation } = of(rig.require(joint));
      const i = 4 * indexOf(frame);
      return [orientation[i], orientation[i + 1], orientation[i + 2], orientation[i + 3]];
    },
    point(joint, at, frame) {
      pointInto(of(rig.require(joint)), indexOf(frame), Float64Array.from(at), out);
      return [out[0], out[1], out[2]];
    },
    massCentre(figure, frame) {
      massCentreInto(rig, of, figure, indexOf(frame), out);
      return [out[0], out[1], out[2]];
    },
    channel: (joint, channel, frame) =>
      tracks.get(`${joint} ${channel}`)?.[indexOf(frame)] ?? restOf(performance, joint, channel),
  };
}

/**
 * Values of a curve on whole frames; before its first and behind its last key it holds.
 * @param {KeyedCurve} curve at least one key, in order of time @param {number} first @param {number} count
 * @returns {Float64Array}
 */
export function sampled({ keys, interpolation }, first, count) {
  const values = new Float64Array(count);
  let k = -1;
  for (let i = 0; i < count; i++) {
    const frame = first + i;
    while (k + 1 < keys.length && keys[k + 1].frame <= frame) k++;
    if (k < 0) values[i] = keys[0].value;
    else if (k + 1 >= keys.length || keys[k].frame === frame) values[i] = keys[k].value;
    else values[i] = between(keys, k, frame, keys[k].interpolation ?? interpolation, interpolation);
  }
  return values;
}

/** Value of a curve at any frame, fractions too. @param {KeyedCurve} curve @param {number} frame */
export const valueAt = (curve, frame) => sampled(curve, frame, 1)[0];

/** @param {readonly Key[]} keys @param {number} k key before the frame @param {number} frame
 * @param {string} mode of this segment @param {string} usual the curve's */
function between(keys, k, frame, mode, usual) {
  const [a, b] = [keys[k], keys[k + 1]];
  const span = b.frame - a.frame;
  const u = (frame - a.frame) / span;
  if (mode === "step") return a.value;
  if (mode === "linear") return a.value + (b.value - a.value) * u;
  if (mode === "smooth") {
    return hermite(
      a.value,
      span * smoothSlope(keys, k, usual),
      b.value,
      span * smoothSlope(keys, k + 1, usual),
      u,
    );
  }
  const [x1, y1] = handle(a.out, span, 1, () => smoothSlope(keys, k, usual));
  const [x2, y2] = handle(b.in, span, -1, () => smoothSlope(keys, k + 1, usual));
  const s = timeAt(x1, 1 - x2, u);
  const r = 1 - s;
  return r * r * (r * a.value + 3 * s * (a.value + y1)) + s * s * (3 * r * (b.value + y2) + s * b.value);
}

/** @param {number} a @param {number} slopeA per segment @param {number} b @param {number} slopeB @param {number} u */
function hermite(a, slopeA, b, slopeB, u) {
  const rise = b - a;
  return a + u * (slopeA + u * (3 * rise - 2 * slopeA - slopeB + u * (slopeA + slopeB - 2 * rise)));
}

/**
 * A handle as a share of the segment's time, and a value. One that points back in time stands upright; one that is too
 * long is shortened along its direction; one that is left out has a third of the segment and the slope of smooth.
 * @param {[number, number] | undefined} given @param {number} span @param {1 | -1} way @param {() => number} slope
 * @returns {[number, number]}
 */
function handle(given, span, way, slope) {
  if (given === undefined) return [1 / 3, (way * slope() * span) / 3];
  const run = given[0] * way;
  if (run <= 0) return [0, given[1]];
  return run > span ? [1, (given[1] * span) / run] : [run / span, given[1]];
}

/** The parameter at which a cubic from 0 to 1 with inner values x1 and x2 is x. @param {number} x1 @param {number} x2
 * @param {number} x */
function timeAt(x1, x2, x) {
  if (Math.abs(x1 - 1 / 3) < 1e-12 && Math.abs(x2 - 2 / 3) < 1e-12) return x;
  let low = 0;
  let high = 1;
  let s = x;
  for (let n = 0; n < 60; n++) {
    const off = s * (3 * x1 * (1 - s) * (1 - s) + s * (3 * x2 * (1 - s) + s)) - x;
    if (Math.abs(off) < 1e-15) break;
    if (off > 0) high = s;
    else low = s;
    const r = 1 - s;
    const slope = 3 * (r * r * x1 + 2 * r * s * (x2 - x1) + s * s * (1 - x2));
    const newton = s - off / slope;
    s = newton > low && newton < high ? newton : (low + high) / 2;
  }
  return s;
}

/**
 * Slope of a smooth key: that of the parabola through its neighbours, at most twice the flatter way to one of them; level
 * where the curve turns back, at its ends and beside a step (the limited slope of M. Steffen 1990).
 * @param {readonly Key[]} keys @param {number} k @param {string} usual the curve's interpolation
 */
function smoothSlope(keys, k, usual) {
  if (k <= 0 || k >= keys.length - 1) return 0;
  if ([k - 1, k].some((n) => (keys[n].interpolation ?? usual) === "step")) return 0;
  const [before, after] = [keys[k].frame - keys[k - 1].frame, keys[k + 1].frame - keys[k].frame];
  if (!(before > 0) || !(after > 0)) return 0;
  const a = (keys[k].value - keys[k - 1].value) / before;
  const b = (keys[k + 1].value - keys[k].value) / after;
  if (a * b <= 0) return 0;
  const parabola = (a * after + b * before) / (before + after);
  return Math.sign(parabola) * Math.min(Math.abs(parabola), 2 * Math.abs(a), 2 * Math.abs(b));
}
