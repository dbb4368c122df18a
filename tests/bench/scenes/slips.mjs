// @ts-check
/** Slips of the hand in the keys of a document, for scenes of both kits. Each changes the document that it is given. */
import { valueAt } from "./people/kit/curve.mjs";

const round = (/** @type {number} */ v) => Number(v.toFixed(4)) + 0;
const how = (/** @type {any} */ c) => c.interpolation ?? "linear";
/** The curves of nodes whose channels begin so. @param {any} doc @param {string[]} nodes @param {string} start */
const pick = (doc, nodes, start) =>
  doc.curves.filter((/** @type {any} */ c) => nodes.includes(c.node) && c.channel.startsWith(start));

/** Sets a key on a curve where it runs, with the slope that it has there. @param {any} c @param {number} f */
export function keyAt(c, f) {
  const there = c.keys.find((/** @type {any} */ k) => k[0] === f);
  if (there) return there;
  const v = (/** @type {number} */ t) => valueAt(c.keys, how(c), t);
  const m = (v(f + 0.25) - v(f - 0.25)) * 2;
  const key = /** @type {any[]} */ ([f, round(v(f))]);
  if (how(c) === "bezier") key.push({ in: [-1, round(-m)], out: [1, round(m)] });
  if (how(c) === "cubic") key.push({ in: round(m), out: round(m) });
  c.keys = [...c.keys, key].sort((/** @type {any} */ a, /** @type {any} */ b) => a[0] - b[0]);
  thirds(c);
  return key;
}

/** Handles a third of the way to the next key, with the slope that they have. @param {any} c */
function thirds(c) {
  c.keys.forEach((/** @type {any} */ k, /** @type {number} */ i) => {
    for (const [side, other] of /** @type {[string, any][]} */ ([
      ["in", c.keys[i - 1]],
      ["out", c.keys[i + 1]],
    ])) {
      const h = k[2]?.[side];
      if (!Array.isArray(h) || !other || !h[0]) continue;
      const run = (other[0] - k[0]) / 3;
      k[2] = { ...k[2], [side]: [round(run), round((h[1] / h[0]) * run)] };
    }
  });
}

/** One frame that stands apart from its neighbours. @param {any} doc @param {string} node @param {string} channel @param {number} f @param {number} by */
export function pop(doc, node, channel, f, by) {
  let [c] = pick(doc, [node], channel);
  if (!c) {
    c = { node, channel, interpolation: "linear", keys: [[f - 1, 0]] };
    doc.curves.push(c);
  }
  for (const t of [f - 1, f + 1, f]) keyAt(c, t);
  for (const k of c.keys) {
    if (k[0] === f) k[1] = round(k[1] + by);
    if (k[0] === f || k[0] === f - 1) k[2] = { ...k[2], interpolation: "linear" };
  }
}

/** Runs straight at full speed from `a` into a stand at `b`, and stays there. @param {any} doc @param {string[]} nodes @param {string} start @param {number} a @param {number} b @param {number} until */
export function stopDead(doc, nodes, start, a, b, until) {
  for (const c of pick(doc, nodes, start)) {
    const end = valueAt(c.keys, how(c), until);
    keyAt(c, a);
    keyAt(c, until);
    c.keys = c.keys.filter((/** @type {any} */ k) => k[0] <= a || k[0] >= until);
    for (const k of c.keys) if (k[0] === a) k[2] = { ...k[2], interpolation: "linear" };
    c.keys.push([b, round(end), { interpolation: "linear" }]);
    c.keys.sort((/** @type {any} */ x, /** @type {any} */ y) => x[0] - y[0]);
    thirds(c);
  }
}

/** Plays the curves from `a` to `b` at other times: a key on each frame shows what was at `when(f)`. @param {any} doc @param {string[]} nodes @param {string} start @param {number} a @param {number} b @param {(f: number) => number} when */
export function retime(doc, nodes, start, a, b, when) {
  for (const c of pick(doc, nodes, start)) {
    const was = structuredClone(c.keys);
    keyAt(c, a);
    keyAt(c, b);
    c.keys = c.keys.filter((/** @type {any} */ k) => k[0] <= a || k[0] >= b);
    for (let f = a; f < b; f++) {
      const v = round(valueAt(was, how(c), when(f)));
      const k = c.keys.find((/** @type {any} */ q) => q[0] === f);
      if (k) {
        k[1] = v;
        k[2] = { ...k[2], interpolation: "linear" };
      } else c.keys.push([f, v, { interpolation: "linear" }]);
    }
    c.keys.sort((/** @type {any} */ x, /** @type {any} */ y) => x[0] - y[0]);
  }
}

/** A time that creeps, and covers most of the way in one frame at `at`. @param {number} a @param {number} b @param {number} at @param {number} share */
export const leap = (a, b, at, share) => (/** @type {number} */ f) => {
  const slow = 1 - share;
  const u = f < at ? (slow * (f - a)) / (b - a - 1) : share + (slow * (f - 1 - a)) / (b - a - 1);
  return a + u * (b - a);
};

/** Adds to every key in a stretch. @param {any} doc @param {string[]} nodes @param {string} start @param {number} a @param {number} b @param {number} by */
export function raise(doc, nodes, start, a, b, by) {
  for (const c of pick(doc, nodes, start))
    for (const k of c.keys) if (k[0] >= a && k[0] <= b) k[1] = round(k[1] + by);
}

/** Makes what a curve does in a stretch smaller or larger about its value at the start of it. @param {any} doc @param {string[]} nodes @param {string} start @param {number} a @param {number} b @param {number} by */
export function scale(doc, nodes, start, a, b, by) {
  for (const c of pick(doc, nodes, start)) {
    const v0 = valueAt(c.keys, how(c), a);
    for (const k of c.keys) {
      if (k[0] < a || k[0] > b) continue;
      k[1] = round(v0 + (k[1] - v0) * by);
      for (const h of ["in", "out"]) {
        const v = k[2]?.[h];
        if (Array.isArray(v)) k[2] = { ...k[2], [h]: [v[0], round(v[1] * by)] };
        else if (typeof v === "number") k[2] = { ...k[2], [h]: round(v * by) };
      }
    }
  }
}

/** Curves that were never set. @param {any} doc @param {string[]} nodes @param {string} start */
export function leaveOut(doc, nodes, start) {
  const gone = pick(doc, nodes, start);
  doc.curves = doc.curves.filter((/** @type {any} */ c) => !gone.includes(c));
}
