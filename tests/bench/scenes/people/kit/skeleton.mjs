// @ts-check
import { about, ONE, turn } from "./math.mjs";

/**
 * @typedef {{ key: string, id: string, parent: string | null, at: number[], bind: number[], order: string }} Joint
 * `at` is in the parent's frame with arms hanging, `bind` the turn from hanging arms to the rest pose.
 * @typedef {{ joints: Joint[], by: Record<string, Joint>, H: number, size: any, id: string, spine: string[], hair: string[], parts: any }} Skeleton
 */

const ENGLISH = {
  root: "hips",
  spine: "spine",
  neck: "neck",
  head: "head",
  end: "head_end",
  clav: "clavicle",
  up: "upper_arm",
  fore: "forearm",
  hand: "hand",
  fing: "fingers",
  thigh: "thigh",
  shin: "shin",
  foot: "foot",
  toe: "toes",
  tip: "toe_end",
  hair: "hair",
};

/** Lengths as parts of the stature. @param {number} H @param {any} [build] */
function sizes(H, build = {}) {
  const b = {
    ankle: 0.045,
    shin: 0.24,
    thigh: 0.235,
    root: 0.02,
    back: 0.28,
    neck: 0.05,
    head: 0.13,
    shoulder: 0.105,
    up: 0.165,
    fore: 0.145,
    palm: 0.05,
    fing: 0.05,
    hip: 0.052,
    ball: 0.075,
    tip: 0.04,
    heel: 0.03,
    ...build,
  };
  return Object.fromEntries(Object.entries(b).map(([k, v]) => [k, v * H]));
}

/**
 * @param {{ id: string, stature: number, words?: any, side?: (word: string, s: string) => string, spines?: number, clav?: boolean, fingers?: boolean, tips?: boolean, hair?: number, armRest?: number, orders?: any, build?: any, space?: string }} o
 * @returns {Skeleton}
 */
export function skeleton(o) {
  const w = { ...ENGLISH, ...o.words };
  const side = o.side ?? ((word, s) => `${word}_${s.toLowerCase()}`);
  const z = sizes(o.stature, o.build);
  const name = (/** @type {string} */ id) => (o.space ? `${o.space}:${id}` : id);
  /** @type {Joint[]} */
  const joints = [];
  const put = (key, id, parent, at, group, bind = ONE) =>
    joints.push({ key, id: name(id), parent, at, bind, order: o.orders?.[group] ?? o.orders?.all ?? "xyz" });
  put("root", w.root, null, [0, 0, 0], "root");
  const n = o.spines ?? 2;
  const spine = Array.from({ length: n }, (_, i) => (i === n - 1 ? "chest" : `spine${i}`));
  spine.forEach((k, i) => {
    const word = Array.isArray(w.spine) ? w.spine[i] : `${w.spine}_${i + 1}`;
    put(k, word, i ? spine[i - 1] : "root", [0, i ? z.back / (n + 1) : (z.back / (n + 1)) * 0.6, 0], "spine");
  });
  const top = z.back - (z.back / (n + 1)) * (n - 0.4);
  put("neck", w.neck, "chest", [0, top, 0], "neck");
  put("head", w.head, "neck", [0, z.neck, 0], "neck");
  put("end", w.end, "head", [0, z.head, 0], "neck");
  for (const s of ["L", "R"]) {
    const m = s === "L" ? 1 : -1;
    const bind = about(2, m * (o.armRest ?? 0));
    const sh = [m * z.shoulder, top - 0.015 * o.stature, 0];
    if (o.clav ?? true)
      put(`clav${s}`, side(w.clav, s), "chest", [m * z.shoulder * 0.25, sh[1], 0.01 * o.stature], "clav");
    put(
      `up${s}`,
      side(w.up, s),
      (o.clav ?? true) ? `clav${s}` : "chest",
      (o.clav ?? true) ? [m * z.shoulder * 0.75, 0, -0.01 * o.stature] : sh,
      "arm",
      bind,
    );
    put(`fore${s}`, side(w.fore, s), `up${s}`, [0, -z.up, 0], "arm", bind);
    put(`hand${s}`, side(w.hand, s), `fore${s}`, [0, -z.fore, 0], "arm", bind);
    if (o.fingers ?? true) put(`fing${s}`, side(w.fing, s), `hand${s}`, [0, -z.palm, 0], "arm", bind);
    if (o.fingers ?? true)
      put(`fingEnd${s}`, side(`${w.fing}_end`, s), `fing${s}`, [0, -z.fing, 0], "arm", bind);
    put(`thigh${s}`, side(w.thigh, s), "root", [m * z.hip, -z.root, 0], "leg");
    put(`shin${s}`, side(w.shin, s), `thigh${s}`, [0, -z.thigh, 0], "leg");
    put(`foot${s}`, side(w.foot, s), `shin${s}`, [0, -z.shin, 0], "leg");
    put(`toe${s}`, side(w.toe, s), `foot${s}`, [0, -z.ankle + 0.012 * o.stature, z.ball], "leg");
    if (o.tips ?? true) put(`tip${s}`, side(w.tip, s), `toe${s}`, [0, 0, z.tip], "leg");
  }
  const hair = Array.from({ length: o.hair ?? 0 }, (_, i) => `hair${i}`);
  hair.forEach((k, i) => {
    put(
      k,
      `${w.hair}_${i + 1}`,
      i ? hair[i - 1] : "head",
      i ? [0, -0.05 * o.stature, 0] : [0, 0.075 * o.stature, -0.06 * o.stature],
      "hair",
    );
  });
  const by = Object.fromEntries(joints.map((j) => [j.key, j]));
  return { joints, by, H: o.stature, size: z, id: o.id, spine, hair, parts: partsOf(by, spine) };
}

/** @param {Record<string, Joint>} by @param {string[]} spine */
function partsOf(by, _spine) {
  const p = /** @type {any} */ ({ root: by.root.id, head: by.head.id });
  const put = (part, key) => {
    if (by[key]) p[part] = by[key].id;
  };
  for (const [s, word] of [
    ["L", "left"],
    ["R", "right"],
  ]) {
    put(`${word}Thigh`, `thigh${s}`);
    put(`${word}Shin`, `shin${s}`);
    put(`${word}Foot`, `foot${s}`);
    put(`${word}Toes`, `toe${s}`);
  }
  return p;
}

/** Where a joint stands in its parent's own axes. @param {Skeleton} sk @param {Joint} j */
export const restAt = (sk, j) => (j.parent ? turn(sk.by[j.parent].bind, j.at) : j.at);

const MASS = {
  root: 0.14,
  chest: 0.36,
  head: 0.08,
  up: 0.027,
  fore: 0.016,
  hand: 0.006,
  thigh: 0.1,
  shin: 0.045,
  foot: 0.015,
};
/** Centre of mass of a posed figure. @param {Skeleton} sk @param {Record<string, { p: number[] }>} w */
export function massCentre(_sk, w) {
  const c = [0, 0, 0];
  let sum = 0;
  const put = (/** @type {number} */ m, /** @type {number[]} */ a, b = a) => {
    for (let i = 0; i < 3; i++) c[i] += (m * (a[i] + b[i])) / 2;
    sum += m;
  };
  put(MASS.root, w.root.p);
  put(MASS.chest, w.root.p, w.neck.p);
  put(MASS.head, w.head.p, w.end.p);
  for (const s of ["L", "R"]) {
    put(MASS.up, w[`up${s}`].p, w[`fore${s}`].p);
    put(MASS.fore, w[`fore${s}`].p, w[`hand${s}`].p);
    put(MASS.hand, w[`hand${s}`].p);
    put(MASS.thigh, w[`thigh${s}`].p, w[`shin${s}`].p);
    put(MASS.shin, w[`shin${s}`].p, w[`foot${s}`].p);
    put(MASS.foot, w[`foot${s}`].p, w[`toe${s}`].p);
  }
  return c.map((v) => v / sum);
}
