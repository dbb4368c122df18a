// @ts-check
/** What the scenes of this folder share. @typedef {boolean | number} Bad all flaws, none, or the one of that order */
import { wordsOf } from "../../mixed/kit/help.mjs";
import { track, valueAt } from "../../people/kit/curve.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";

/** Whether the flaw of this order is in. @param {Bad} bad @param {number} n */
export const has = (bad, n) => bad === true || bad === n;

/** @param {string} id @param {number} stature @param {string} words in the order of `wordsOf` @param {any} o */
export const person = (id, stature, words, o) =>
  skeleton({ id, stature, spines: 2, words: wordsOf(words), ...o });

/** A track that comes round again, keyed over one round of `n` frames from `first`. @param {Record<number, any>} keys @param {number} n @param {number} first @param {number} [late] */
export function round(keys, n, first, late = 0) {
  const all = /** @type {Record<string, any>} */ ({});
  for (let k = -2; k <= 2; k++) for (const [f, v] of Object.entries(keys)) all[Number(f) + k * n] = v;
  const t = track(all);
  return (/** @type {number} */ f) => t((((f - first - late) % n) + n) % n);
}

/** Between 0 and 1, eased. @param {number} f @param {number} a @param {number} b */
export function ease(f, a, b) {
  const u = Math.max(0, Math.min(1, (f - a) / (b - a)));
  return u * u * (3 - 2 * u);
}

/** A foot's stand: one place from frame to frame. @param {any} t @param {number} a @param {number} b @param {number[]} p */
export function stand(t, a, b, p) {
  const flat = p.map(() => 0);
  t[a] = { v: p, in: flat.map((_, i) => (i === 1 ? -0.006 : 0)), out: flat };
  t[b] = { v: p, s: flat };
}

/** Keys of a round that repeat exactly, on the frames of each round. @param {number[]} at @param {number} n @param {number} first @param {number} last */
export function everyRound(at, n, first, last) {
  const out = [];
  for (let k = first; k <= last; k += n) for (const f of at) if (k + f <= last) out.push(k + f);
  return out;
}

/** A key on each frame, straight from one to the next. @param {any} doc */
export function dense(doc) {
  const [a, b] = doc.shot.range;
  for (const c of doc.curves) {
    if (c.keys.length < 2 || c.channel === "rotation") continue;
    const how = c.interpolation;
    const was = c.keys;
    c.interpolation = "linear";
    c.keys = [];
    for (let f = a; f <= b; f++) c.keys.push([f, Number(valueAt(was, how, f).toFixed(4)) + 0]);
  }
}

/** Keys as a row of text: "1: 0 0.2 0 | 9: 0 0.1 0". @param {string} text @param {number} [shift] added to the frames */
export const keys = (text, shift = 0) =>
  Object.fromEntries(
    text.split("|").map((part) => {
      const [f, ...v] = part
        .trim()
        .split(/[:\s]+/)
        .map(Number);
      return [f + shift, v.length === 1 ? v[0] : v];
    }),
  );

/** A swing between two stands of a track. @param {any} t @param {number} a @param {number} b @param {number} lift @param {number[]} [by] */
export function swing(t, a, b, lift, by = []) {
  const [p, q] = [t[a].v, t[b].v];
  const v = p.map((/** @type {number} */ x, /** @type {number} */ i) =>
    i === 1 ? Math.max(x, q[1]) + lift : (x + q[i]) / 2 + (by[i] ?? 0),
  );
  const s = p.map((/** @type {number} */ x, /** @type {number} */ i) =>
    i === 1 ? 0 : ((q[i] - x) / (b - a)) * 1.4,
  );
  t[(a + b) / 2] = { v, s };
}
