// @ts-check
/** Slips of the hand, put into keyed curves the way they happen: one key off, a run of keys held, a course shifted. */
import { curveAt } from "../motion/keys.mjs";

/**
 * @param {import("../motion/keys.mjs").KeyedCurve[]} curves @param {string} node @param {string} channel
 * @returns {import("../motion/keys.mjs").KeyedCurve}
 */
export function curveNamed(curves, node, channel) {
  const found = curves.find((curve) => curve.node === node && curve.channel === channel);
  if (found === undefined) throw new Error(`${node} ${channel} has no curve to put a fault into.`);
  return found;
}

/**
 * A key that was meant for another pose: one frame away from the path, keys on both sides of it.
 * @param {import("../motion/keys.mjs").KeyedCurve} curve @param {number} frame @param {number} by
 */
export function pop(curve, frame, by) {
  const around = [frame - 1, frame, frame + 1].map((f) => ({ frame: f, value: curveAt(curve, f) }));
  const slope = (around[2].value - around[0].value) / 2;
  for (const key of around) put(curve, { ...key, slope });
  put(curve, { frame, value: around[1].value + by, slope: 0 });
}

/**
 * A breakdown keyed one frame late: the value of one frame stays for the next, and the move makes up for it over the
 * frames that follow.
 * @param {import("../motion/keys.mjs").KeyedCurve} curve @param {number} frame the frame that repeats the one before
 */
export function hitch(curve, frame) {
  const course = { ...curve, keys: curve.keys.map((key) => ({ ...key })) };
  const late = [0, 0, 1, 0.62, 0.36, 0.14, 0];
  late.forEach((frames, i) => {
    const f = frame - 2 + i;
    const at = f - frames;
    const slope = i === 1 || i === 2 ? 0 : (curveAt(course, at + 0.5) - curveAt(course, at - 0.5)) * 1.2;
    put(curve, { frame: f, value: curveAt(course, at), slope });
  });
}

/**
 * A heading typed on the wrong side of the circle: from this frame on, the same direction by another number.
 * @param {import("../motion/keys.mjs").KeyedCurve} curve @param {number} from @param {number} by ±360
 */
export function wrap(curve, from, by) {
  for (const key of curve.keys) if (key.frame >= from) key.value += by;
}

/**
 * Keys of an interval taken out, its ends joined by a straight or a flat line.
 * @param {import("../motion/keys.mjs").KeyedCurve} curve @param {number} from @param {number} to
 * @param {"linear" | "step"} mode
 */
export function flatten(curve, from, to, mode) {
  const ends = [from, to].map((frame) => ({ frame, value: curveAt(curve, frame) }));
  curve.keys = curve.keys.filter((key) => key.frame < from || key.frame > to);
  put(curve, { ...ends[0], slope: 0, interpolation: mode });
  put(curve, { ...ends[1], slope: 0 });
}

/** Puts a key in, or in place of the one there. @param {import("../motion/keys.mjs").KeyedCurve} curve @param {import("../motion/keys.mjs").Key} key */
export function put(curve, key) {
  curve.keys = [...curve.keys.filter((one) => one.frame !== key.frame), key].sort(
    (a, b) => a.frame - b.frame,
  );
}
