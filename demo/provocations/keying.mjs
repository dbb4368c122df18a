// @ts-check
/** What an animator's hand does to keys, as lists of edits: set, move, take out. */
import { valueAt } from "@keyside/core";

/**
 * A key of a curve of one number; slopes in value per frame, level where they are left out, `leaves` only behind the key.
 * @typedef {{ frame: number, value: number, slope?: number, leaves?: number, interpolation?: "linear" }} Key
 * @typedef {import("@keyside/core").KeyEdit} KeyEdit
 * @typedef {import("@keyside/core").Shot} Shot
 * @typedef {import("@keyside/core").Channel} Channel
 */

/** @param {Shot} shot @param {string} node @param {Channel} channel */
export const curveIn = (shot, node, channel) =>
  shot.curves.find((curve) => curve.node === node && curve.channel === channel);

/** A channel's value; at rest where it has no curve. @param {Shot} shot @param {string} node @param {Channel} channel @param {number} frame */
export function valueIn(shot, node, channel, frame) {
  const curve = curveIn(shot, node, channel);
  if (curve !== undefined) return valueAt(curve, frame);
  const spec = shot.header.nodes.find(({ id }) => id === node);
  const [kind, axis] = channel.split(".");
  return (kind === "rotation" ? spec?.rotation : spec?.translation)?.["xyz".indexOf(axis)] ?? 0;
}

/**
 * New keys for a stretch of a curve: those that stood between the first and the last of them go, the curve beside them
 * stays as it was.
 * @param {Shot} shot @param {string} node @param {Channel} channel @param {readonly Key[]} keys @returns {KeyEdit[]}
 */
export function rekeyed(shot, node, channel, keys) {
  const curve = curveIn(shot, node, channel);
  const [first, last] = [keys[0].frame, keys[keys.length - 1].frame];
  const frames = [...(curve?.frames ?? [])];
  const wanted = new Set(keys.map(({ frame }) => frame));
  const gone = frames.filter((frame) => frame >= first && frame <= last && !wanted.has(frame));
  const eased = curve?.interpolation === "bezier";
  const beside = [frames.filter((frame) => frame < first).at(-1), frames.find((frame) => frame > last)];
  const [before, after] = beside.map((frame) =>
    frame === undefined ? undefined : keyAt(shot, node, channel, frame),
  );
  /** @type {KeyEdit[]} */
  const edits = gone.map((frame) => ({ kind: "remove", node, channel, frame }));
  const row = [before, ...keys, after];
  row.forEach((key, i) => {
    if (key === undefined || (!eased && (i === 0 || i === row.length - 1))) return;
    const [left, right] = [row[i - 1], row[i + 1]];
    const handles = {
      ...(left === undefined ? {} : { in: handle(key.frame, key.slope, left.frame) }),
      ...(right === undefined ? {} : { out: handle(key.frame, key.leaves ?? key.slope, right.frame) }),
    };
    const { frame, value, interpolation = null } = key;
    edits.push({ kind: "set", node, channel, frame, value, ...(eased ? { handles } : {}), interpolation });
  });
  return edits;
}

/** A handle a third of the way to the neighbour. @param {number} frame @param {number | undefined} slope @param {number} to @returns {[number, number]} */
function handle(frame, slope = 0, to) {
  const third = (to - frame) / 3;
  return [third, slope * third];
}

/** A key on the curve as it runs there. @param {Shot} shot @param {string} node @param {Channel} channel @param {number} frame @returns {Key} */
export function keyAt(shot, node, channel, frame) {
  const at = (/** @type {number} */ f) => valueIn(shot, node, channel, f);
  const step = 1 / 64;
  const slope = (at(frame) - at(frame - step)) / step;
  return { frame, value: at(frame), slope, leaves: (at(frame + step) - at(frame)) / step };
}

/**
 * A stretch keyed on every frame.
 * @param {Shot} shot @param {string} node @param {Channel} channel @param {number} from @param {number} to
 * @param {(value: number, frame: number) => number} change of what the curve has there
 */
export function onEveryFrame(shot, node, channel, from, to, change) {
  const value = (/** @type {number} */ frame) => change(valueIn(shot, node, channel, frame), frame);
  /** @type {Key[]} */
  const keys = [];
  for (let frame = from; frame <= to; frame++) {
    keys.push({ frame, value: value(frame), slope: (value(frame + 1) - value(frame - 1)) / 2 });
  }
  return rekeyed(shot, node, channel, keys);
}

/**
 * Moves the values of the keys that stand in a stretch; their handles stay.
 * @param {Shot} shot @param {string} node @param {Channel} channel @param {number} from @param {number} to
 * @param {(value: number, frame: number) => number} change @returns {KeyEdit[]}
 */
export const revalued = (shot, node, channel, from, to, change) =>
  framesIn(shot, node, channel, from, to).map((frame) => {
    const value = change(valueIn(shot, node, channel, frame), frame);
    return { kind: "set", node, channel, frame, value };
  });

/**
 * Frames on which a curve has keys. @param {Shot} shot @param {string} node @param {Channel} channel
 * @param {number} from @param {number} to
 */
export const framesIn = (shot, node, channel, from, to) =>
  [...(curveIn(shot, node, channel)?.frames ?? [])].filter((frame) => frame >= from && frame <= to);

/** Minimum-jerk course of a move from 0 to 1 (Flash & Hogan 1985). @param {number} t */
export const eased = (t) => (t <= 0 ? 0 : t >= 1 ? 1 : t * t * t * (10 - 15 * t + 6 * t * t));
