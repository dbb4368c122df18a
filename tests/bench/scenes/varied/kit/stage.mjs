// @ts-check
// What these scenes are acted with: loose parts on springs, bodies that bounce, tracks of several numbers, reaches that fell short.
import { valueAt } from "../../creatures/kit/curve.mjs";
import { toEuler } from "../../creatures/kit/math.mjs";
import { makeRig, Pose } from "../../creatures/kit/rig.mjs";
import { perform } from "../../creatures/kit/take.mjs";

/** Reaches that fell short, of the last builds. @type {string[]} */
export const missed = [];

/** A take; what a leg could not reach is kept in `missed`. @param {any} rig @param {[number, number]} range @param {(p: any, f: number) => void} act */
export const played = (rig, range, act) =>
  perform(rig, range, (p, f) => {
    act(p, f);
    if (p.missed > 0.002) missed.push(`frame ${f}: a limb is ${(p.missed * 1000).toFixed(0)} mm short`);
  });

const LEGS = /^(thigh|shin|hock|upper|lower|wrist)/;
/** A rig with more joints; legs turn about x first. @param {any} rig @param {any[]} rows */
export const withMore = (rig, rows) =>
  makeRig([
    ...rig.joints.map((/** @type {any} */ j) => [
      j.id,
      j.parent,
      j.at,
      j.mass,
      LEGS.test(j.id) ? "xzy" : j.order,
    ]),
    ...rows,
  ]);

/** A number or several from rows of a frame and values, eased through. @param {any[][]} rows @param {string} [how] */
export const tracks = (rows, how = "smooth") => {
  const n = rows[0].length - 1;
  const lists = Array.from({ length: n }, (_, i) => rows.map((r) => [r[0], r[i + 1]]));
  return (/** @type {number} */ f) => lists.map((keys) => valueAt(/** @type {any} */ (keys), f, how));
};
/** One number. @param {any[][]} rows @param {string} [how] */
export const one =
  (rows, how = "smooth") =>
  (/** @type {number} */ f) =>
    valueAt(/** @type {any} */ (rows), f, how);

/**
 * What hangs on something and comes after it: a spring of `hz` towards `drive`, from its rest.
 * @param {[number, number]} range @param {number} fps @param {(f: number) => number} drive @param {number} hz @param {number} damp 1 does not swing over
 */
export function loose([a, b], fps, drive, hz, damp) {
  const w = 2 * Math.PI * hz;
  const steps = 16;
  const lead = 90;
  let x = drive(a - lead);
  let v = 0;
  const out = /** @type {number[]} */ ([]);
  for (let f = a - lead; f <= b; f++) {
    if (f >= a) out.push(x);
    for (let i = 0; i < steps; i++) {
      v += ((drive(f + i / steps) - x) * w * w - 2 * damp * w * v) / fps / steps;
      x += v / fps / steps;
    }
  }
  return (/** @type {number} */ f) => {
    const i = Math.min(out.length - 1, Math.max(0, f - a));
    const k = Math.floor(i);
    return out[k] + (out[Math.min(k + 1, out.length - 1)] - out[k]) * (i - k);
  };
}

/** A chain of loose parts, each after the one before. @param {[number, number]} range @param {number} fps @param {(f: number) => number} drive @param {number} n @param {number} hz @param {number} damp */
export function chain(range, fps, drive, n, hz, damp) {
  const out = [];
  for (let i = 0; i < n; i++) out.push(loose(range, fps, i ? out[i - 1] : drive, hz, damp));
  return out;
}

/**
 * Height of a body that is thrown and caught in a cycle, about its mean: free fall but for the stances, each of which gives its share.
 * @param {number} period frames @param {number} fps @param {number[][]} stances from, to, as shares of the period; may pass 1
 */
export function bounce(period, fps, stances) {
  const n = 2400;
  const g = 9.81 / fps / fps;
  const a = new Array(n).fill(-g);
  const whole = stances.reduce((s, [p, q]) => s + q - p, 0);
  for (const [p, q] of stances) {
    const push = (g * period * (q - p)) / whole;
    for (let i = Math.ceil(p * n); i < q * n; i++) {
      const u = (i / n - p) / (q - p);
      a[i % n] += (push * 2 * Math.sin(Math.PI * u) ** 2) / ((q - p) * period);
    }
  }
  const dt = period / n;
  const sum = (/** @type {number[]} */ list) => {
    let s = 0;
    return list.map((x) => {
      const was = s;
      s += x * dt;
      return was;
    });
  };
  const mean = (/** @type {number[]} */ list) => list.reduce((s, x) => s + x, 0) / n;
  const a0 = mean(a);
  const v = sum(a.map((x) => x - a0));
  const v0 = mean(v);
  const y = sum(v.map((x) => x - v0));
  const y0 = mean(y);
  return (/** @type {number} */ f) => {
    const u = (((f / period) % 1) + 1) % 1;
    const i = u * n;
    const k = Math.floor(i);
    return y[k % n] + (y[(k + 1) % n] - y[k % n]) * (i - k) - y0;
  };
}

/** Curves of a thing that is placed frame by frame. @param {string} node @param {[number, number]} range @param {Record<string, (f: number) => number>} channels @param {number} [every] @param {string} [interpolation] */
export const thing = (node, [a, b], channels, every = 1, interpolation = "linear") =>
  Object.entries(channels).map(([channel, at]) => ({
    node,
    channel,
    interpolation,
    keys: Array.from({ length: Math.floor((b - a) / every) + 1 }, (_, i) => [
      a + i * every,
      Number(at(a + i * every).toFixed(4)) + 0,
    ]),
  }));
/** A wave of a period: 1 at `at` periods. @param {number} f @param {number} T @param {number} [at] */
export const wave = (f, T, at = 0) => Math.cos(2 * Math.PI * (f / T - at));

/** The share of the way that a foot has made: speeds up over `r` of the time, and slows down over as much. @param {number} u @param {number} r @param {number} [end] */
export function stride(u, r, end = r) {
  const top = 1 / (1 - (r + end) / 2);
  const up = (/** @type {number} */ t, /** @type {number} */ q) => top * q * (t ** 3 - t ** 4 / 2);
  if (u <= 0) return 0;
  if (u >= 1) return 1;
  if (u < r) return up(u / r, r);
  if (u > 1 - end) return 1 - up((1 - u) / end, end);
  return (top * r) / 2 + top * (u - r);
}
/** A foot on its plants, and between them on its way. @param {any[]} plants @param {number} f @param {number} lift @param {number} r @param {number} [skew] */
export function footOn(plants, f, lift, r, skew = 0.8, end = r) {
  const k = plants.findIndex((p) => f <= p.to);
  const b = plants[k < 0 ? plants.length - 1 : k];
  if (k <= 0 || f >= b.from) return { at: b.at, up: 0, u: -1 };
  const a = plants[k - 1];
  const u = (f - a.to) / (b.from - a.to);
  const e = stride(u, r, end);
  const up = Math.sin(Math.PI * u ** skew) ** 2;
  const at = a.at.map((/** @type {number} */ v, /** @type {number} */ i) => v + (b.at[i] - v) * e);
  at[1] += lift * up;
  return { at, up, u };
}
/**
 * Four legs of three bones. Off the ground a leg folds, and comes no further than it reaches.
 * @param {any} p @param {number} f @param {Record<string, any[]>} plants @param {any} o
 */
export function onFours(p, f, plants, o) {
  for (const s of ["L", "R"])
    for (const end of ["hind", "fore"]) {
      const hind = end === "hind";
      const [a, b, c, tip] = (
        hind ? ["thigh", "shin", "hock", "hoof"] : ["upper", "lower", "wrist", "pad"]
      ).map((j) => j + s);
      const lift = o.lifts?.[end + s] ?? o.lift;
      const step = footOn(plants[end + s], f, lift, o.ramp, 0.8, o.arrive ?? o.ramp);
      const top = p.world(a).p;
      const lean =
        (hind ? o.hindLean : o.foreLean) +
        (o.swing * (top[2] - step.at[2])) / o.hip +
        o.fold * step.up * (hind ? 1 : (o.foreFold ?? 1));
      const length = (/** @type {string} */ j) => Math.hypot(...p.rig.by.get(j).at);
      const h = (lean * Math.PI) / 180;
      const cannon = length(tip);
      const off = [0, cannon * Math.cos(h), cannon * Math.sin(h)];
      const goal = step.at.map((/** @type {number} */ v, /** @type {number} */ i) => v + off[i]);
      const d = goal.map((v, i) => v - top[i]);
      const far = Math.hypot(...d);
      const most = (length(b) + length(c)) * (0.998 - 0.01 * Math.min(1, step.up * 3));
      if (step.up > 0 && far > most) for (let i = 0; i < 3; i++) goal[i] = top[i] + (d[i] * most) / far;
      p.reach(a, b, c, goal, hind ? [0, 0, 1] : [0, 0, -1]);
      p.face(c, [Math.sin(h / 2), 0, 0, Math.cos(h / 2)]);
    }
}

/** Plants of the cycles for the kit's measure. @param {Record<string, any[]>} plants @param {(role: string) => string} n @param {[number, number]} range @param {number} limit */
export const truly = (plants, n, [a, b], limit) =>
  Object.entries(plants).flatMap(([leg, list]) =>
    list
      .map((q) => ({
        node: n(`${leg.startsWith("h") ? "hoof" : "pad"}${leg.slice(-1)}`),
        frames: [Math.max(a, Math.ceil(q.from)), Math.min(b, Math.floor(q.to))],
        limit,
      }))
      .filter((q) => q.frames[1] > q.frames[0]),
  );

/** The pose of a frame of a take. @param {any} take @param {number} f */
export function poseOf(take, f) {
  const p = new Pose(take.rig);
  const i = f - take.range[0];
  for (const j of take.rig.joints) {
    const [r, t] = ["rotation", "translation"].map((kind) =>
      ["x", "y", "z"].map((c) => take.samples.get(`${j.id}|${kind}.${c}`)[i]),
    );
    p.r[j.id] = r;
    p.t[j.id] = t;
  }
  return p;
}
/**
 * Curves of a thing that is somewhere with some turn on each frame.
 * @param {string} node @param {[number, number]} range @param {number} unit @param {string} order @param {(f: number) => { p: number[], q: number[] }} at
 */
export function carried(node, range, unit, order, at) {
  const rows = new Map();
  let was = [0, 0, 0];
  for (let f = range[0]; f <= range[1]; f++) {
    const w = at(f);
    was = toEuler(w.q, order).map((v, i) => v - 360 * Math.round((v - was[i]) / 360));
    rows.set(f, { translation: w.p.map((v) => v / unit), rotation: was });
  }
  return thing(
    node,
    range,
    Object.fromEntries(
      ["translation", "rotation"].flatMap((kind) =>
        [0, 1, 2].map((i) => [`${kind}.${"xyz"[i]}`, (f) => rows.get(f)[kind][i]]),
      ),
    ),
  );
}

/**
 * A limb of two bones whose end stands on plants, and is given in the space of a joint between them.
 * @param {any} p @param {number} f @param {{ limb: string[], pole: number[], plants: any[], air: (f: number) => number[], from: string, blend: [number, number] }} o
 *   blend: frames over which it leaves a plant, and comes to one
 */
export function paddle(p, f, { limb, pole, plants, air, from, blend }) {
  const stood = plants.find(([a, b]) => f >= a && f <= b);
  let goal = stood?.[2];
  if (!goal) {
    const before = plants.filter(([, b]) => b < f).pop();
    const after = plants.find(([a]) => a > f);
    goal = p.point(from, air(f));
    const soft = (/** @type {number} */ u) => u * u * (3 - 2 * u);
    const pull = (/** @type {any} */ to, /** @type {number} */ w) => {
      if (to && w > 0)
        goal = goal.map((/** @type {number} */ v, /** @type {number} */ i) => v + (to[2][i] - v) * w);
    };
    pull(before, before ? 1 - soft(Math.min(1, (f - before[1]) / blend[0])) : 0);
    pull(after, after ? 1 - soft(Math.min(1, (after[0] - f) / blend[1])) : 0);
    const top = p.world(limb[0]).p;
    const most = 0.985 * (Math.hypot(...p.rig.by.get(limb[1]).at) + Math.hypot(...p.rig.by.get(limb[2]).at));
    const d = goal.map((/** @type {number} */ v, /** @type {number} */ i) => v - top[i]);
    const far = Math.hypot(...d);
    if (far > most)
      goal = top.map((/** @type {number} */ v, /** @type {number} */ i) => v + (d[i] * most) / far);
  }
  p.reach(limb[0], limb[1], limb[2], goal, pole);
}
