// @ts-check
/** Short ways to write what these scenes are made of. */

import { add, turn } from "../../people/kit/math.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { keyAt } from "../../slips.mjs";

const ROLES = "root spine neck head end clav up fore hand fing thigh shin foot toe tip".split(" ");

/** Words for the joints in the order of the roles; "a/b" is a back of two. @param {string} list */
export const names = (list) =>
  Object.fromEntries(list.split(" ").map((w, i) => [ROLES[i], w.includes("/") ? w.split("/") : w]));

/** Ends every track of keys on the last frame as it stood. @param {any} perf @param {number} last @param {RegExp} [not] */
export function toEnd(perf, last, not = /^$/) {
  for (const [k, t] of Object.entries(perf)) {
    if (!t || typeof t !== "object" || Array.isArray(t) || t.at || k === "opts" || not.test(k)) continue;
    const fs = Object.keys(t).map(Number);
    const top = Math.max(...fs);
    if (Number.isFinite(top) && top < last) t[last] = t[top].v ?? t[top];
  }
  return perf;
}

/**
 * A hand on a thing: at a place in the thing's frame, its fingers and palm facing so there.
 * @param {string} id @param {string} s @param {number[]} at @param {number[]} fingers @param {number[]} palm @param {any} w @param {number[]} [pole]
 */
export const grip = (id, s, at, fingers, palm, w, pole) => ({
  w,
  pole,
  at: (/** @type {number} */ f, /** @type {any} */ env) => {
    const k = env.prop(id, f);
    return add(k.p, turn(k.q, at));
  },
  rot: (/** @type {number} */ f, /** @type {any} */ env) => {
    const q = env.prop(id, f).q;
    return handTurn(s, turn(q, fingers), turn(q, palm));
  },
});

/** Moves the keys of a track that lie in a stretch. @param {any} keys @param {number} a @param {number} b @param {number} by */
export const slide = (keys, a, b, by) =>
  Object.fromEntries(
    Object.entries(keys).map(([f, v]) => [Number(f) >= a && Number(f) <= b ? Number(f) + by : Number(f), v]),
  );

/** Takes the keys of a track in a stretch away. @param {any} keys @param {number} a @param {number} b */
export function without(keys, a, b) {
  for (const f of Object.keys(keys).map(Number)) if (f >= a && f <= b) delete keys[f];
}

/** A part of the document that was never keyed after a frame: the pose of that frame stays. @param {any} doc @param {(node: string) => boolean} which @param {number} at */
export function unkeyed(doc, which, at) {
  for (const c of doc.curves) {
    if (!which(c.node) || c.keys.length < 2 || c.keys[c.keys.length - 1][0] <= at) continue;
    const k = keyAt(c, at);
    c.keys = c.keys.filter((/** @type {any} */ x) => x[0] <= at);
    if (k[2]?.out) delete k[2].out;
  }
}
