// @ts-check
/**
 * From the dense table to keys, as an animator sets them: poses on shared frames, more keys where a curve strays, limbs that
 * stand or hold baked under the keyed body.
 * @import { ChannelName, Interpolation, KeyedCurve, KeyedShot, KeyingStyle, Performance, Random } from "../types.d.ts"
 * @import { Fitted } from "./fit.mjs"
 */
import { framesOf, restOf } from "../motion/performance.mjs";
import { allowancesOf } from "./allowances.mjs";
import { bakedUnder } from "./bake.mjs";
import { curveOf, fitted, rounded } from "./fit.mjs";
import { bakedFrames, partOffsets, poseFrames } from "./frames.mjs";

/**
 * A keyed shot together with how it came about, so that a shot with faults can be keyed alike.
 * @typedef {object} Keying
 * @property {KeyedShot} shot
 * @property {Random} random the stream of the shot's keying; curves fork it by name
 * @property {readonly number[]} poses shared pose frames
 * @property {ReadonlyMap<string, number>} offsets frames by which a joint's keys stand behind them
 * @property {ReadonlyMap<string, Uint8Array>} baked see `bakedFrames`
 * @property {number} unit metres per unit of the document
 * @property {ReadonlyMap<string, Float64Array>} followed the tracks that the curves follow: the table's, or, of solved
 *   limbs, those that meet the table's ends under the keyed body
 * @property {Map<string, Fitted>} fits
 */

/**
 * Keys a clean performance.
 * @param {Performance} performance @param {KeyingStyle} style @param {Random} random
 * @param {{ unit?: number }} [options] `unit`: metres per unit of the document, in which values are rounded (1)
 * @returns {Keying}
 */
export function keyed(performance, style, random, { unit = 1 } = {}) {
  const about = {
    random,
    poses: poseFrames(performance, style.spacing, random.fork("poses")),
    offsets: style.stage === "blocked" ? new Map() : partOffsets(performance, style),
    baked: style.stage === "splined" ? bakedFrames(performance) : new Map(),
    unit,
  };
  return keyedLike(performance, style, about, undefined);
}

/**
 * Keys a performance that came from a clean one by faults. Curves whose track is the clean one's are the clean one's curves;
 * of the others, the keys outside of the frames that differ are.
 * @param {Performance} performance @param {Keying} clean
 * @returns {Keying}
 */
export function keyedAfter(performance, clean) {
  return keyedLike(performance, clean.shot.style, clean, clean);
}

/** @param {Performance} performance @param {KeyingStyle} style
 * @param {Pick<Keying, "random" | "poses" | "offsets" | "baked" | "unit">} about @param {Keying | undefined} clean
 * @returns {Keying} */
function keyedLike(performance, style, about, clean) {
  /** @type {KeyedShot} */
  const shot = { performance, style, curves: new Map() };
  const { random, poses, offsets, baked, unit } = about;
  /** @type {Map<string, Float64Array>} */
  const followed = new Map(performance.tracks);
  /** @type {Keying} */
  const keying = { shot, random, poses, offsets, baked, unit, followed, fits: new Map() };
  const under = [];
  for (const name of performance.tracks.keys()) {
    if (baked.has(name)) under.push(name);
    else keyTrack(keying, name, clean);
  }
  if (style.stage === "splined") {
    for (const [name, track] of bakedUnder(performance, shot.curves, baked, clean?.shot.performance)) {
      followed.set(name, track);
      if (!baked.has(name)) keyTrack(keying, name, clean);
    }
  }
  for (const name of under) keyTrack(keying, name, clean);
  // Curves stand in the order of the tracks, whichever was keyed first.
  const order = [...performance.tracks.keys()];
  const curves = order.flatMap((name) => {
    const curve = shot.curves.get(name);
    return curve === undefined ? [] : [/** @type {const} */ ([name, curve])];
  });
  shot.curves.clear();
  for (const [name, curve] of curves) shot.curves.set(name, curve);
  return keying;
}

/** Keys one track. @param {Keying} keying @param {string} name @param {Keying | undefined} clean */
function keyTrack(keying, name, clean) {
  const { shot, fits } = keying;
  const track = /** @type {Float64Array} */ (keying.followed.get(name));
  const table = /** @type {Float64Array} */ (shot.performance.tracks.get(name));
  const before = clean?.shot.performance.tracks.get(name);
  if (clean !== undefined && before !== undefined && differing(before, table) === null) {
    reuse(keying, name, clean);
    return;
  }
  const earlier = clean?.fits.get(name);
  const was = clean?.followed.get(name);
  const range = was === undefined ? null : differing(was, track);
  if (clean !== undefined && was !== undefined && range === null) {
    reuse(keying, name, clean);
    return;
  }
  const change = earlier === undefined || range === null ? undefined : { fitted: earlier, ...range };
  const fit = fitOf(keying, name, track, change);
  if (fit === null) return;
  fits.set(name, fit);
  const [joint, channel] = /** @type {[string, ChannelName]} */ (name.split(" "));
  const how = { ...rounding(keying, channel), joint, channel };
  shot.curves.set(name, curveOf(fit, shot.performance.first, usualMode(shot.style), how));
}

/** Takes a curve over from the clean shot. @param {Keying} keying @param {string} name @param {Keying} clean */
function reuse(keying, name, clean) {
  const fit = clean.fits.get(name);
  if (fit !== undefined) keying.fits.set(name, fit);
  const followed = clean.followed.get(name);
  if (followed !== undefined) /** @type {Map<string, Float64Array>} */ (keying.followed).set(name, followed);
  const curve = clean.shot.curves.get(name);
  if (curve !== undefined) keying.shot.curves.set(name, copyOfCurve(curve));
}

/** A curve whose keys are its own. @param {KeyedCurve} curve @returns {KeyedCurve} */
export function copyOfCurve(curve) {
  return {
    ...curve,
    keys: curve.keys.map((key) => ({
      ...key,
      ...(key.in === undefined ? {} : { in: /** @type {[number, number]} */ ([...key.in]) }),
      ...(key.out === undefined ? {} : { out: /** @type {[number, number]} */ ([...key.out]) }),
    })),
  };
}

/** First and last index at which two tracks differ; null where they are the same.
 * @param {Float64Array} a @param {Float64Array} b */
function differing(a, b) {
  let from = 0;
  while (from < a.length && a[from] === b[from]) from++;
  if (from === a.length) return null;
  let to = a.length - 1;
  while (a[to] === b[to]) to--;
  return { from, to };
}

/** @param {KeyingStyle} style @returns {Interpolation} */
const usualMode = ({ stage, interpolation }) =>
  stage === "blocked" ? "step" : stage === "dense" ? "linear" : interpolation;

/** Decimals that artists' curve editors show: three, more where a unit is long. @param {Keying} keying
 * @param {string} channel */
function rounding({ unit }, channel) {
  if (channel.startsWith("rotation")) return { decimals: 3, unit: 1 };
  if (channel.startsWith("scale")) return { decimals: 4, unit: 1 };
  return { decimals: Math.max(3, Math.ceil(Math.log10(unit / 2e-5))), unit };
}

/**
 * @param {Keying} keying @param {string} name @param {Float64Array} track
 * @param {{ fitted: Fitted, from: number, to: number }} [before]
 * @returns {Fitted | null} null where the channel rests and nobody keyed it
 */
function fitOf(keying, name, track, before) {
  const { shot, offsets, poses, baked } = keying;
  const { performance, style } = shot;
  const [joint, channel] = /** @type {[string, ChannelName]} */ (name.split(" "));
  const how = rounding(keying, channel);
  const random = keying.random.fork(name);
  const count = framesOf(performance);
  const last = count - 1;
  const range = extent(track);
  const plain = (/** @type {number[]} */ at, /** @type {Interpolation} */ mode) => ({
    at,
    values: at.map((i) => rounded(track[i], how)),
    slopes: at.map(() => 0),
    modes: at.map(() => mode),
  });
  const offset = offsets.get(joint) ?? 0;
  const at = poses.map((frame) => frame - performance.first);
  const mode = usualMode(style);
  if (range < (channel.startsWith("rotation") ? 5e-4 : 2e-6)) {
    const rests = Math.abs(track[0] - restOf(performance, joint, channel)) < 1e-9;
    const draw = random.next();
    if (rests && draw < 0.6) return null;
    return plain(draw < 0.85 ? [0] : [0, last], mode);
  }
  if (style.stage === "dense")
    return plain(
      Array.from({ length: count }, (_, i) => i),
      mode,
    );
  if (style.stage === "blocked") return plain(at, mode);
  const flags = baked.get(name);
  const stride = mode === "bezier" && keying.random.fork("baking").chance(0.5) ? 2 : 1;
  const wanted = new Set([0, last]);
  for (const i of at) if (i > 0 && i < last) wanted.add(Math.min(last - 1, i + offset));
  if (flags !== undefined) for (const i of bakedIndices(flags, stride)) wanted.add(i);
  const { tolerance, speed } = allowancesOf(shot, name, track, flags);
  return fitted(track, {
    at: [...wanted].sort((a, b) => a - b),
    tolerance,
    speed,
    ...how,
    mode: (i, next) => {
      if (stride === 1 && flags !== undefined && flags[i] === 1 && flags[i + 1] === 1) return "linear";
      // A smooth curve lies level at its ends: where the shot cuts into a motion, its first and last handles are drawn.
      const isCut =
        (i === 0 && leaves(track, 0, channel)) || (next === last && leaves(track, last - 1, channel));
      return mode === "smooth" && isCut ? "bezier" : mode;
    },
    ...(before === undefined ? {} : { before }),
  });
}

/** @param {Float64Array} track */
function extent(track) {
  let [low, high] = [track[0], track[0]];
  for (const value of track) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return high - low;
}

/** Every frame, or every second one, of each baked stretch, and its ends. @param {Uint8Array} flags @param {number} stride */
function bakedIndices(flags, stride) {
  const found = [];
  let start = 0;
  for (let i = 0; i < flags.length; i++) {
    if (flags[i] === 0) continue;
    if (i === 0 || flags[i - 1] === 0) start = i;
    const ends = i + 1 === flags.length || flags[i + 1] === 0;
    if ((i - start) % stride === 0 || ends) found.push(i);
  }
  return found;
}

/** Whether a track is on its way from one frame to the next. @param {Float64Array} track @param {number} i
 * @param {string} channel */
const leaves = (track, i, channel) =>
  Math.abs(track[i + 1] - track[i]) > (channel.startsWith("rotation") ? 0.02 : 0.0001);
