/**
 * Curves as lists of keys `{ frame, value, slope, interpolation }` (slope in value per frame), which injectors edit,
 * and their way from and to the typed arrays of the core.
 */
import { interpolations } from "@keyside/core";
import { curveAt } from "../../../demo/motion/keys.mjs";

export const nameOf = ({ node, channel }) => `${node} ${channel}`;

/** A core curve as a list of keys. Only channels of one number are taken. */
export function keyedOf(curve) {
  const keys = Array.from(curve.frames, (frame, i) => {
    const key = { frame, value: curve.values[i], interpolation: interpolations[curve.modes[i]] };
    const slope = slopeIn(curve, i);
    return slope === undefined ? key : { ...key, slope };
  });
  return { node: curve.node, channel: curve.channel, interpolation: curve.interpolation, keys };
}

function slopeIn({ handles }, i) {
  if (handles === null) return undefined;
  const [inFrames, inValue, outFrames, outValue] = handles.subarray(4 * i, 4 * i + 4);
  if (outFrames > 0) return outValue / outFrames;
  return inFrames < 0 ? inValue / inFrames : undefined;
}

/** A list of keys as a core curve; handles of bezier segments reach a third of the way to the neighbour. */
export function coreCurve({ node, channel, interpolation, keys }) {
  const count = keys.length;
  const curve = {
    node,
    channel,
    interpolation,
    width: 1,
    frames: Float64Array.from(keys, (key) => key.frame),
    values: Float64Array.from(keys, (key) => key.value),
    modes: Uint8Array.from(keys, (key) => interpolations.indexOf(key.interpolation ?? interpolation)),
    handles: null,
    ownModes: null,
    place: null,
  };
  if (!curve.modes.includes(interpolations.indexOf("bezier"))) return curve;
  const handles = new Float64Array(4 * count).fill(Number.NaN);
  keys.forEach((key, i) => {
    const slope = key.slope ?? 0;
    if (i > 0) set(handles, 4 * i, (keys[i - 1].frame - key.frame) / 3, slope);
    if (i + 1 < count) set(handles, 4 * i + 2, (keys[i + 1].frame - key.frame) / 3, slope);
    if (key.handles !== undefined) handles.set(key.handles, 4 * i);
  });
  return { ...curve, handles };
}

function set(handles, at, span, slope) {
  handles[at] = span;
  handles[at + 1] = slope * span;
}

export const copyOf = (curve) => ({ ...curve, keys: curve.keys.map((key) => ({ ...key })) });

/** Puts keys in, or in place of those at the same frames. */
export function put(curve, ...keys) {
  const frames = new Set(keys.map((key) => key.frame));
  const kept = curve.keys.filter((key) => !frames.has(key.frame));
  return { ...curve, keys: [...kept, ...keys].sort((a, b) => a.frame - b.frame) };
}

/** A key on the curve, so that what comes before and after stays as it was. */
export function onCurve(curve, frame) {
  return {
    frame,
    value: curveAt(curve, frame),
    slope: curveAt(curve, frame + 0.5) - curveAt(curve, frame - 0.5),
  };
}

/**
 * A curve whose value on each frame from `from` to `to` is given anew, keyed on every one of them; outside it stays.
 * @param {(frame: number, curve: object) => number} value
 */
export function rekeyed(curve, from, to, value) {
  const [first, last] = [curve.keys[0].frame, curve.keys[curve.keys.length - 1].frame];
  const keys = [];
  // The keys beside the stretch keep the curve outside of it as it was.
  for (const frame of [from - 1, to + 1]) if (frame > first && frame < last) keys.push(onCurve(curve, frame));
  const at = (frame) => (frame < from || frame > to ? curveAt(curve, frame) : value(frame, curve));
  for (let frame = from; frame <= to; frame++) {
    keys.push({ frame, value: at(frame), slope: (at(frame + 1) - at(frame - 1)) / 2 });
  }
  return put({ ...curve, keys: curve.keys.filter((key) => key.frame < from || key.frame > to) }, ...keys);
}

/** The same curve with a key on every frame and straight lines between them. */
export function densely(curve, from, to) {
  const [first] = curve.keys;
  if (curve.interpolation === "step" || curve.keys.every(({ value }) => value === first.value)) return curve;
  const keys = [];
  for (let frame = from; frame <= to; frame++) keys.push({ frame, value: curveAt(curve, frame) });
  return { ...curve, interpolation: "linear", keys };
}

export { curveAt };
