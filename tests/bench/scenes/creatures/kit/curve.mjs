// @ts-check
// Values between keys, by the formulas of the document format.

/** @typedef {{ interpolation?: string, in?: any, out?: any }} Extra */
/** @typedef {[number, number] | [number, number, Extra]} Key */

/** @param {Key[]} keys @param {number} i @param {string} base */
function slope(keys, i, base) {
  const how = (/** @type {number} */ k) => keys[k][2]?.interpolation ?? base;
  if (i === 0 || i === keys.length - 1 || how(i - 1) === "step" || how(i) === "step") return 0;
  const ha = keys[i][0] - keys[i - 1][0];
  const hb = keys[i + 1][0] - keys[i][0];
  const a = (keys[i][1] - keys[i - 1][1]) / ha;
  const b = (keys[i + 1][1] - keys[i][1]) / hb;
  if (a * b <= 0) return 0;
  const p = (a * hb + b * ha) / (ha + hb);
  const most = 2 * Math.min(Math.abs(a), Math.abs(b));
  return Math.abs(p) > most ? Math.sign(p) * most : p;
}

/** @param {number} u @param {number} h @param {number} v0 @param {number} s0 @param {number} v1 @param {number} s1 */
function hermite(u, h, v0, s0, v1, s1) {
  const u2 = u * u;
  const u3 = u2 * u;
  return (
    (2 * u3 - 3 * u2 + 1) * v0 + (u3 - 2 * u2 + u) * h * s0 + (3 * u2 - 2 * u3) * v1 + (u3 - u2) * h * s1
  );
}

/** @param {any} hand @param {number} h @param {number} s @param {number} way */
function handle(hand, h, s, way) {
  if (!Array.isArray(hand)) {
    const k = typeof hand === "number" ? hand : s;
    return [h / 3, (way * k * h) / 3];
  }
  const run = Math.max(0, way * hand[0]);
  return run > h ? [h, (hand[1] * h) / run] : [run, hand[1]];
}

/** @param {number} u @param {number} h @param {number} v0 @param {number[]} out @param {number} v1 @param {number[]} inn */
function bezier(u, h, v0, out, v1, inn) {
  const x1 = out[0] / h;
  const x2 = 1 - inn[0] / h;
  let lo = 0;
  let hi = 1;
  for (let i = 0; i < 60; i++) {
    const s = (lo + hi) / 2;
    const x = 3 * (1 - s) ** 2 * s * x1 + 3 * (1 - s) * s * s * x2 + s ** 3;
    if (x < u) lo = s;
    else hi = s;
  }
  const s = (lo + hi) / 2;
  return (
    (1 - s) ** 3 * v0 +
    3 * (1 - s) ** 2 * s * (v0 + out[1]) +
    3 * (1 - s) * s * s * (v1 + inn[1]) +
    s ** 3 * v1
  );
}

/** The value of sorted keys at a time. @param {Key[]} keys @param {number} t @param {string} [base] */
export function valueAt(keys, t, base = "linear") {
  const last = keys.length - 1;
  if (t <= keys[0][0]) return keys[0][1];
  if (t >= keys[last][0]) return keys[last][1];
  let i = 0;
  while (keys[i + 1][0] <= t) i++;
  const [f0, v0, e0] = keys[i];
  const [f1, v1, e1] = keys[i + 1];
  const h = f1 - f0;
  const u = (t - f0) / h;
  const how = e0?.interpolation ?? base;
  if (how === "step") return v0;
  if (how === "linear") return v0 + u * (v1 - v0);
  const s0 = slope(keys, i, base);
  const s1 = slope(keys, i + 1, base);
  if (how === "smooth") return hermite(u, h, v0, s0, v1, s1);
  if (how === "cubic") return hermite(u, h, v0, e0?.out ?? s0, v1, e1?.in ?? s1);
  return bezier(u, h, v0, handle(e0?.out, h, s0, 1), v1, handle(e1?.in, h, s1, -1));
}

/**
 * A track: keys as a function of time.
 * @param {Key[]} keys @param {string} [base]
 */
export function track(keys, base = "smooth") {
  const at = (/** @type {number} */ t) => valueAt(keys, t, base);
  return Object.assign(at, { keys, base });
}
/** Shorthand for a single number out of flat key lists. @param {number} t @param {Key[]} keys */
export const val = (t, keys) => valueAt(keys, t, "smooth");
