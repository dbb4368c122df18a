// @ts-check
/**
 * Fitting keys to a track: given frames first, then one more wherever the curve strays from the track, in value or in speed,
 * until it follows.
 * @import { ChannelName, Interpolation, Key, KeyedCurve } from "../types.d.ts"
 */
import { sampled } from "../poses.mjs";

/**
 * A curve in the making; handles come out of the slopes.
 * @typedef {object} Fitted
 * @property {number[]} at indices into the track, ascending
 * @property {number[]} values rounded
 * @property {number[]} slopes value per frame
 * @property {Interpolation[]} modes of the segment that starts at each key
 */

/**
 * @typedef {object} FitOptions
 * @property {readonly number[]} at indices that get a key in any case, ascending, the ends included
 * @property {Float64Array} tolerance per index: by how much the curve may be off
 * @property {Float64Array} speed per index: by how much its step from the frame before may be off
 * @property {number} decimals to which values are rounded, in units of `unit`
 * @property {number} unit length of a document's unit in metres, for lengths; else 1
 * @property {(index: number, next: number) => Interpolation} mode of the segment from a key to the next one
 * @property {{ fitted: Fitted, from: number, to: number }} [before] an earlier fit and the indices from..to (both included)
 *   where the track is another now: keys outside keep their values and slopes
 */

/**
 * Fits keys.
 * @param {Float64Array} track @param {FitOptions} options
 * @returns {Fitted}
 */
export function fitted(track, options) {
  const { before, tolerance, speed } = options;
  // A channel that rested may have one key only; one that no longer rests needs both ends.
  const chosen = new Set(before === undefined ? options.at : [0, ...before.fitted.at, track.length - 1]);
  const [from, to] = before === undefined ? [0, track.length - 1] : [before.from, before.to];
  for (;;) {
    const fit = fittedAt(
      track,
      [...chosen].sort((a, b) => a - b),
      options,
    );
    const curve = sampled(curveOf(fit, 0, "bezier", options), 0, track.length);
    let isNew = false;
    for (let k = 0; k + 1 < fit.at.length; k++) {
      const [a, b] = [fit.at[k], fit.at[k + 1]];
      if (b < from || a > to || b - a < 2) continue;
      const stray = worstIn(track, curve, a, b, tolerance, speed);
      const where = stray >= 0 ? stray : extremeIn(track, a, b, tolerance);
      if (where < 0) continue;
      chosen.add(where);
      isNew = true;
    }
    if (!isNew) return fit;
  }
}

/**
 * The frame between two keys that needs a key most; -1 where none does.
 * @param {Float64Array} track @param {Float64Array} curve @param {number} a @param {number} b
 * @param {Float64Array} tolerance @param {Float64Array} speed
 */
function worstIn(track, curve, a, b, tolerance, speed) {
  let [worst, where] = [1, -1];
  for (let i = a + 1; i < b; i++) {
    const off = Math.abs(curve[i] - track[i]) / tolerance[i];
    if (off > worst) [worst, where] = [off, i];
  }
  if (where >= 0) return nearTurn(track, a, b, where);
  for (let i = a + 1; i <= b; i++) {
    const off = Math.abs(curve[i] - curve[i - 1] - track[i] + track[i - 1]) / speed[i];
    if (off > worst) [worst, where] = [off, i];
  }
  if (where < 0) return -1;
  const middle = Math.round((a + b) / 2);
  return nearTurn(track, a, b, where <= middle ? where : where - 1);
}

/**
 * The frame between two keys at which the track goes farthest out of the band of their values, where it does so by more
 * than a curve may stray; -1 where it stays in. Extremes are keyed: whoever looks for the top of a move finds a key there.
 * @param {Float64Array} track @param {number} a @param {number} b @param {Float64Array} tolerance
 */
function extremeIn(track, a, b, tolerance) {
  const [low, high] = [Math.min(track[a], track[b]), Math.max(track[a], track[b])];
  let [worst, where] = [1, -1];
  for (let i = a + 1; i < b; i++) {
    const out = Math.max(low - track[i], track[i] - high) / tolerance[i];
    if (out > worst) [worst, where] = [out, i];
  }
  return where;
}

/**
 * A turning point of the track beside an index, if there is one, as keys stand at extremes; in a segment of five frames or more
 * not beside its own keys, as nobody sets keys on neighbouring frames without need.
 * @param {Float64Array} track @param {number} a @param {number} b @param {number} index */
function nearTurn(track, a, b, index) {
  const room = b - a >= 5 ? 2 : 1;
  const kept = Math.max(a + room, Math.min(b - room, index));
  for (const i of [kept, kept - 1, kept + 1])
    if (i >= a + room && i <= b - room && turnsAt(track, i)) return i;
  return kept;
}

/** @param {Float64Array} track @param {number} i */
const turnsAt = (track, i) =>
  i > 0 && i + 1 < track.length && (track[i] - track[i - 1]) * (track[i + 1] - track[i]) <= 0;

/** @param {Float64Array} track @param {number[]} at @param {FitOptions} options @returns {Fitted} */
function fittedAt(track, at, options) {
  const { before, mode } = options;
  /** @type {Map<number, { value: number, slope: number }>} */
  const kept = new Map();
  before?.fitted.at.forEach((index, k) => {
    if (index >= before.from && index <= before.to) return;
    kept.set(index, { value: before.fitted.values[k], slope: before.fitted.slopes[k] });
  });
  const values = at.map((index) => kept.get(index)?.value ?? rounded(track[index], options));
  const modes = at.map((index, k) => mode(index, at[k + 1] ?? index));
  const slopes = at.map((index) => kept.get(index)?.slope ?? (turnsAt(track, index) ? 0 : Number.NaN));
  solveSlopes(track, at, values, modes, slopes);
  return { at, values, slopes, modes };
}

/** A value as it would be written: so many decimals of a document's unit. @param {number} value
 * @param {{ decimals: number, unit: number }} how */
export function rounded(value, { decimals, unit }) {
  const scale = 10 ** decimals / unit;
  return Math.round(value * scale) / scale + 0;
}

/**
 * Fills in slopes that are NaN: those for which the Hermite curve through the keys is nearest to the track (least squares),
 * held a little to the track's own slope. The equations are tridiagonal.
 * @param {Float64Array} track @param {readonly number[]} at @param {readonly number[]} values
 * @param {readonly Interpolation[]} modes @param {number[]} slopes
 */
function solveSlopes(track, at, values, modes, slopes) {
  const n = at.length;
  const [diagonal, beside, right] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  for (let k = 0; k < n; k++) {
    const [a, b] = [Math.max(0, at[k] - 1), Math.min(track.length - 1, at[k] + 1)];
    const own = b > a ? (track[b] - track[a]) / (b - a) : 0;
    const reach = Math.max(1, (at[Math.min(n - 1, k + 1)] - at[Math.max(0, k - 1)]) / 2);
    const hold = 1e-3 * reach ** 3;
    diagonal[k] += hold;
    right[k] += hold * own;
  }
  for (let k = 0; k + 1 < n; k++) {
    if (modes[k] !== "bezier") continue;
    const span = at[k + 1] - at[k];
    for (let i = 1; i < span; i++) {
      const u = i / span;
      const r = 1 - u;
      const [p, q] = [u * r * r * span, -u * u * r * span];
      const off = track[at[k] + i] - values[k] * r * r * (1 + 2 * u) - values[k + 1] * u * u * (3 - 2 * u);
      diagonal[k] += p * p;
      diagonal[k + 1] += q * q;
      beside[k] += p * q;
      right[k] += p * off;
      right[k + 1] += q * off;
    }
  }
  for (let k = 0; k < n; k++) {
    if (Number.isNaN(slopes[k])) continue;
    if (k > 0) right[k - 1] -= beside[k - 1] * slopes[k];
    if (k + 1 < n) right[k + 1] -= beside[k] * slopes[k];
    if (k > 0) beside[k - 1] = 0;
    beside[k] = 0;
    diagonal[k] = 1;
    right[k] = slopes[k];
  }
  for (let k = 1; k < n; k++) {
    const factor = beside[k - 1] / diagonal[k - 1];
    diagonal[k] -= factor * beside[k - 1];
    right[k] -= factor * right[k - 1];
  }
  for (let k = n - 1; k >= 0; k--) {
    slopes[k] = (right[k] - (k + 1 < n ? beside[k] * slopes[k + 1] : 0)) / diagonal[k];
  }
}

/**
 * A fit as a curve; handles reach a third of the way to their neighbours.
 * @param {Fitted} fit @param {number} first frame of the track's first value
 * @param {Interpolation} interpolation the curve's own
 * @param {{ decimals: number, unit: number, joint?: string, channel?: ChannelName }} how
 * @returns {KeyedCurve}
 */
export function curveOf({ at, values, slopes, modes }, first, interpolation, how) {
  const handle = (/** @type {number} */ k, /** @type {number} */ span) =>
    /** @type {[number, number]} */ ([
      Math.round((1000 * span) / 3) / 1000,
      rounded((slopes[k] * span) / 3, how),
    ]);
  const last = at.length - 1;
  // Beside a smooth segment a key has the slope of smooth: a handle would say the same again.
  const isSmooth = (/** @type {number} */ k) => modes[k] === "smooth" || modes[k - 1] === "smooth";
  const keys = at.map((index, k) => {
    /** @type {Key} */
    const key = { frame: first + index, value: values[k] };
    if (k > 0 && modes[k - 1] === "bezier" && !isSmooth(k)) key.in = handle(k, at[k - 1] - index);
    if (k < last && modes[k] === "bezier" && !isSmooth(k)) key.out = handle(k, at[k + 1] - index);
    if (modes[k] !== interpolation) key.interpolation = modes[k];
    return key;
  });
  return { joint: how.joint ?? "", channel: how.channel ?? "rotation.x", interpolation, keys };
}
