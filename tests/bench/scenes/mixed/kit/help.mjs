// @ts-check
// Short ways to write what scenes of people are made of.
import { track } from "../../people/kit/curve.mjs";

const ROLES = "root spine neck head end clav up fore hand fing thigh shin foot toe tip".split(" ");

/** Words for the joints of a person, in the order of the roles; "a/b" is a back of several joints. @param {string} list */
export const wordsOf = (list) =>
  Object.fromEntries(
    list.split(" ").map((word, i) => [ROLES[i], word.includes("/") ? word.split("/") : word]),
  );

/** A track with something added to what it gives. @param {any} keys @param {(f: number) => number[]} more */
export function plus(keys, more) {
  const t = typeof keys === "function" ? keys : track(keys);
  const out = (/** @type {number} */ f) => {
    const b = more(f);
    return t(f).map((/** @type {number} */ v, /** @type {number} */ i) => v + (b[i] ?? 0));
  };
  out.frames = t.frames;
  return out;
}

/** Sets keys of a performance's tracks and takes others away: `null` takes one. @param {any} perf @param {Record<string, any>} changes */
export function change(perf, changes) {
  for (const [name, keys] of Object.entries(changes)) {
    for (const [f, v] of Object.entries(keys)) {
      if (v === null) delete perf[name][f];
      else perf[name][f] = v;
    }
  }
}

/** Takes the keys of a track away between two frames. @param {any} keys @param {number} a @param {number} b */
export function without(keys, a, b) {
  for (const f of Object.keys(keys).map(Number)) if (f >= a && f <= b) delete keys[f];
}

/** The other side's keys, some frames later. @param {any} keys @param {number} a @param {number} b @param {number} [late] */
export const copied = (keys, a, b, late = 0) =>
  Object.fromEntries(
    Object.entries(keys)
      .filter(([f]) => Number(f) >= a && Number(f) <= b)
      .map(([f, v]) => [Number(f) + late, structuredClone(v)]),
  );
