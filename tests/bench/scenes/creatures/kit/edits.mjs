// @ts-check
// What animators do to keys by mistake, done to the curves of a document.
import { valueAt } from "./curve.mjs";

/** @param {any} doc @param {string} node @param {string} channel */
export const curveOf = (doc, node, channel) => {
  const c = doc.curves.find((/** @type {any} */ x) => x.node === node && x.channel === channel);
  if (!c) throw new Error(`no curve ${node} ${channel}`);
  return c;
};
/** Curves of nodes; channels by their beginning, such as "rotation". @param {any} doc @param {string[]} nodes @param {string} [start] */
export const curvesOf = (doc, nodes, start = "") =>
  doc.curves.filter((/** @type {any} */ c) => nodes.includes(c.node) && c.channel.startsWith(start));
/** @param {any} c @param {number} t */
export const at = (c, t) => valueAt(c.keys, t, c.interpolation ?? "linear");

/** Adds to one key, or sets one where there was none. @param {any} doc @param {string} node @param {string} channel @param {number} frame @param {number} by */
export function bump(doc, node, channel, frame, by) {
  const c = curveOf(doc, node, channel);
  const key = c.keys.find((/** @type {any} */ k) => k[0] === frame);
  if (key) key[1] = Number((key[1] + by).toFixed(4));
  else {
    const v = Number((at(c, frame) + by).toFixed(4));
    c.keys.push([frame, v]);
    c.keys.sort((/** @type {any} */ a, /** @type {any} */ b) => a[0] - b[0]);
  }
}
/** Leaves keys out. @param {any[]} curves @param {[number, number]} frames */
export function drop(curves, [a, b]) {
  for (const c of curves) {
    const keys = c.keys.filter((/** @type {any} */ k) => k[0] < a || k[0] > b);
    if (keys.length) c.keys = keys;
  }
}
/** Moves keys in time; those that they run into are lost. @param {any[]} curves @param {[number, number]} frames @param {number} by */
export function shift(curves, [a, b], by) {
  for (const c of curves) {
    const inside = c.keys
      .filter((/** @type {any} */ k) => k[0] >= a && k[0] <= b)
      .map((/** @type {any} */ k) => [k[0] + by, ...k.slice(1)]);
    if (!inside.length) continue;
    const [lo, hi] = [inside[0][0], inside[inside.length - 1][0]];
    const rest = c.keys.filter((/** @type {any} */ k) => (k[0] < a || k[0] > b) && (k[0] < lo || k[0] > hi));
    c.keys = [...rest, ...inside].sort((x, y) => x[0] - y[0]);
  }
}
/** Holds the value of the first frame until the last. @param {any[]} curves @param {[number, number]} frames */
export function hold(curves, [a, b]) {
  for (const c of curves) {
    const v = Number(at(c, a).toFixed(4));
    const end = Number(at(c, b + 1).toFixed(4));
    const keys = c.keys.filter((/** @type {any} */ k) => k[0] < a || k[0] > b + 1);
    c.keys = [
      ...keys,
      [a, v, { interpolation: "linear" }],
      [b, v, { interpolation: "linear" }],
      [b + 1, end],
    ].sort((x, y) => x[0] - y[0]);
  }
}
/** A straight run between two frames. @param {any[]} curves @param {[number, number]} frames */
export function straight(curves, [a, b]) {
  for (const c of curves) {
    const v0 = Number(at(c, a).toFixed(4));
    const v1 = Number(at(c, b).toFixed(4));
    const keys = c.keys.filter((/** @type {any} */ k) => k[0] < a || k[0] > b);
    c.keys = [...keys, [a, v0, { interpolation: "linear" }], [b, v1]].sort((x, y) => x[0] - y[0]);
  }
}
/** A curve that was deleted. @param {any} doc @param {string[]} nodes @param {string} [start] */
export function erase(doc, nodes, start = "") {
  const gone = curvesOf(doc, nodes, start);
  doc.curves = doc.curves.filter((/** @type {any} */ c) => !gone.includes(c));
}
/** Shortens handles that are longer than their segment after keys were set or moved. @param {any} doc */
export function tidy(doc) {
  for (const c of doc.curves) {
    c.keys.forEach((/** @type {any} */ k, /** @type {number} */ i) => {
      for (const [side, other] of /** @type {[string, any][]} */ ([
        ["in", c.keys[i - 1]],
        ["out", c.keys[i + 1]],
      ])) {
        const hand = k[2]?.[side];
        if (!Array.isArray(hand)) continue;
        const most = other ? Math.abs(other[0] - k[0]) * 0.99 : 0;
        if (!other) delete k[2][side];
        else if (Math.abs(hand[0]) > most)
          k[2][side] = hand.map((v) => Number(((v * most) / Math.abs(hand[0])).toFixed(4)));
      }
    });
  }
  return doc;
}
