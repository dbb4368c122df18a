// @ts-check
/** Slips of the hand in the keys of a document. Each changes the document and returns it. */
import { valueAt } from "../../people/kit/curve.mjs";

/** @param {any} doc @param {string} node @param {string} start */
const curvesOf = (doc, node, start) =>
  doc.curves.filter((/** @type {any} */ c) => c.node === node && c.channel.startsWith(start));
const round = (/** @type {number} */ v) => Number(v.toFixed(3)) + 0;
/** @param {any} c @param {number} f */
const at = (c, f) => valueAt(c.keys, c.interpolation ?? "linear", f);
const straight = { interpolation: "linear" };

/** Puts values on frames of a curve, straight from one to the next; what lies between goes. @param {any} c @param {number[][]} values */
function patch(c, values) {
  const [a, b] = [values[0][0], values[values.length - 1][0]];
  const after = c.keys.filter((/** @type {any} */ k) => k[0] > b);
  const how = c.interpolation === "step" ? undefined : straight;
  // From the patch to the next key the curve goes on as it did.
  const rest = [];
  if (after.length && how) {
    for (let f = b + 1; f < after[0][0]; f++) rest.push([f, round(at(c, f)), how]);
  }
  const before = c.keys.filter((/** @type {any} */ k) => k[0] < a);
  const lead = [];
  if (before.length && how) {
    for (let f = before[before.length - 1][0] + 1; f < a; f++) lead.push([f, round(at(c, f)), how]);
    const k = before[before.length - 1];
    before[before.length - 1] = [k[0], k[1], { ...k[2], interpolation: "linear" }];
  }
  const put = values.map(([f, v], i) =>
    how && (i < values.length - 1 || after.length) ? [f, round(v), how] : [f, round(v)],
  );
  c.keys = [...before, ...lead, ...put, ...rest, ...after];
}

/** One frame off, its neighbours as they were. @param {any} doc @param {string} node @param {string} channel @param {number} frame @param {number} by */
export function tick(doc, node, channel, frame, by) {
  for (const c of curvesOf(doc, node, channel)) {
    patch(
      c,
      [-1, 0, 1].map((d) => [frame + d, at(c, frame + d) + (d === 0 ? by : 0)]),
    );
  }
  return doc;
}

/** Every value of the curve stays at what it is at `from`, until `to`; then it goes on as it was. @param {any} doc @param {string} node @param {string} channel @param {number} from @param {number} to */
export function stand(doc, node, channel, from, to) {
  for (const c of curvesOf(doc, node, channel)) {
    const v = at(c, from);
    patch(c, [
      [from, v],
      [to, v],
    ]);
  }
  return doc;
}

/** Adds to the curve over a range by a function of the frame. @param {any} doc @param {string} node @param {string} channel @param {[number, number]} range @param {(f: number, v: number) => number} change */
export function redo(doc, node, channel, [a, b], change) {
  for (const c of curvesOf(doc, node, channel)) {
    const values = [];
    for (let f = a; f <= b; f++) values.push([f, change(f, at(c, f))]);
    patch(c, values);
  }
  return doc;
}

/** The curve comes late or early by some frames over a range. @param {any} doc @param {string} node @param {string} channel @param {[number, number]} range @param {number} by */
export function late(doc, node, channel, range, by) {
  for (const c of curvesOf(doc, node, channel)) {
    const was = { ...c, keys: c.keys };
    redo({ curves: [c] }, node, channel, range, (f) => at(was, f - by));
  }
  return doc;
}

/** A straight run from one frame's value to another's. @param {any} doc @param {string} node @param {string} channel @param {number} from @param {number} to */
export function straightRun(doc, node, channel, from, to) {
  for (const c of curvesOf(doc, node, channel)) {
    patch(c, [
      [from, at(c, from)],
      [to, at(c, to)],
    ]);
  }
  return doc;
}

/** Deletes curves. @param {any} doc @param {string[]} nodes @param {string} [start] */
export function erase(doc, nodes, start = "rotation") {
  doc.curves = doc.curves.filter(
    (/** @type {any} */ c) => !(nodes.includes(c.node) && c.channel.startsWith(start)),
  );
  return doc;
}

/** Held at what it is at `from`, and eased back to what it was between two frames. @param {any} doc @param {string} node @param {string} channel @param {number} from @param {number} until @param {number} back */
export function heldThen(doc, node, channel, from, until, back) {
  for (const c of curvesOf(doc, node, channel)) {
    const v0 = at(c, from);
    redo({ curves: [c] }, node, channel, [from, back], (f, v) => {
      const u = Math.max(0, Math.min(1, (f - until) / (back - until)));
      const w = u * u * (3 - 2 * u);
      return v0 + (v - v0) * w;
    });
  }
  return doc;
}

/** The curve keeps its values and gets other times over a range. @param {any} doc @param {string} node @param {string} channel @param {[number, number]} range @param {(f: number) => number} time whose value stands at a frame */
export function retime(doc, node, channel, range, time) {
  for (const c of curvesOf(doc, node, channel)) {
    const was = { ...c, keys: c.keys };
    redo({ curves: [c] }, node, channel, range, (f) => at(was, time(f)));
  }
  return doc;
}
