// @ts-check
import { track } from "../../people/kit/curve.mjs";

// Slips in step keys.

/** Takes the keys at some frames away. @param {any} doc @param {string[]} nodes @param {number[]} frames */
export function dropKeys(doc, nodes, frames) {
  for (const c of doc.curves)
    if (nodes.includes(c.node) && c.keys.length > 1)
      c.keys = c.keys.filter((/** @type {any} */ k) => !frames.includes(k[0]));
}

/** A key that adds to the pose which is held, from `a` to `b`. @param {any} doc @param {string} node @param {string} channel @param {number} a @param {number} b @param {number} by */
export function holdPose(doc, node, channel, a, b, by) {
  const c = doc.curves.find((/** @type {any} */ k) => k.node === node && k.channel === channel);
  const v = c.keys.filter((/** @type {any} */ k) => k[0] <= a).pop()[1];
  c.keys.push([a, Number((v + by).toFixed(3))], [b + 1, v]);
  c.keys.sort((/** @type {any} */ x, /** @type {any} */ y) => x[0] - y[0]);
}

/** What the last pose has; a foot that goes elsewhere leaves two frames before the next. @param {Record<number, any>} rows */
export function stepped(rows) {
  const frames = Object.keys(rows).map(Number);
  const out = /** @type {Record<number, any>} */ ({});
  frames.forEach((f, i) => {
    out[f] = rows[f];
    if (i + 1 < frames.length) out[frames[i + 1] - 2] = rows[f];
  });
  return track(out);
}
/** Rows of poses as tracks: frame, then a value for each name. @param {string[]} names @param {any[][]} rows */
export const sheet = (names, rows) =>
  Object.fromEntries(names.map((n, i) => [n, Object.fromEntries(rows.map((r) => [r[0], r[i + 1]]))]));
