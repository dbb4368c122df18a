// @ts-check
// From a performance to keys: the act is posed frame by frame, and each channel gets as few keys as it needs.
import { valueAt } from "./curve.mjs";
import { add, sub } from "./math.mjs";
import { Pose } from "./rig.mjs";

/** @typedef {{ node: string, channel: string, keys: any[], interpolation?: string }} Curve */
/** @typedef {Map<string, number[]>} Samples channel to values, one a frame */

/** Nearest of the ways to write the same turn. @param {number[]} r @param {number[]} was @param {string} order */
function nearest(r, was, order) {
  const j = "xyz".indexOf(order[1]);
  const wrap = (/** @type {number[]} */ a) => a.map((v, i) => v - 360 * Math.round((v - was[i]) / 360));
  const one = wrap(r);
  const two = wrap(r.map((v, i) => (i === j ? 180 - v : v + 180)));
  const far = (/** @type {number[]} */ a) => a.reduce((s, v, i) => s + Math.abs(v - was[i]), 0);
  return far(one) <= far(two) ? one : two;
}

/**
 * @param {import('./rig.mjs').Rig} rig @param {[number, number]} range @param {(pose: Pose, f: number) => void} act
 * @param {((f: number) => number[] | null)} [fly] where the centre of mass must be, in the air; moves the root
 * @param {string[]} [aloft] the legs' joints that are solved again after the root moved are up to the act
 */
export function perform(rig, range, act, fly, _aloft = []) {
  const n = range[1] - range[0] + 1;
  /** @type {Samples} */ const samples = new Map();
  const root = rig.joints[0].id;
  /** @type {Record<string, number[]>} */ const was = {};
  for (let i = 0; i < n; i++) {
    const f = range[0] + i;
    const pose = new Pose(rig);
    act(pose, f);
    const com = fly?.(f);
    if (com) pose.t[root] = add(pose.t[root] ?? rig.joints[0].at, sub(com, pose.com()));
    for (const j of rig.joints) {
      const r = nearest(pose.r[j.id] ?? [0, 0, 0], was[j.id] ?? [0, 0, 0], j.order);
      was[j.id] = r;
      put(samples, `${j.id}|translation`, pose.t[j.id] ?? j.at, i, n);
      put(samples, `${j.id}|rotation`, r, i, n);
    }
  }
  return { rig, range, samples };
}

/** @param {Samples} samples @param {string} name @param {number[]} v @param {number} i @param {number} n */
function put(samples, name, v, i, n) {
  v.forEach((x, k) => {
    const id = `${name}.${"xyz"[k]}`;
    if (!samples.has(id)) samples.set(id, new Array(n).fill(0));
    /** @type {number[]} */ (samples.get(id))[i] = x;
  });
}

/** @param {number[]} s @param {number} i */
function slopeAt(s, i) {
  const a = s[Math.max(0, i - 1)];
  const b = s[Math.min(s.length - 1, i + 1)];
  return (b - a) / (Math.min(s.length - 1, i + 1) - Math.max(0, i - 1));
}

/** @param {number[]} s @param {number[]} at indexes @param {string} how @param {number} first frame of index 0 */
function keysAt(s, at, how, first) {
  return at.map((i, k) => {
    const key = /** @type {any[]} */ ([first + i, s[i]]);
    if (how === "cubic") key.push({ in: slopeAt(s, i), out: slopeAt(s, i) });
    if (how === "bezier") {
      const m = slopeAt(s, i);
      const before = k > 0 ? (i - at[k - 1]) / 3 : 0;
      const after = k < at.length - 1 ? (at[k + 1] - i) / 3 : 0;
      const e = /** @type {any} */ ({});
      if (before) e.in = [-before, -m * before];
      if (after) e.out = [after, m * after];
      key.push(e);
    }
    return key;
  });
}

/** Frames that an animator would key first: both ends and the turns. @param {number[]} s */
function turns(s) {
  const out = [0];
  for (let i = 1; i < s.length - 1; i++) {
    if ((s[i] - s[i - 1]) * (s[i + 1] - s[i]) < 0) out.push(i);
  }
  out.push(s.length - 1);
  return out;
}

/** @param {number[]} s @param {string} how @param {number} tolerance @param {number} first */
function fit(s, how, tolerance, first) {
  let at = turns(s);
  for (let round = 0; round < s.length; round++) {
    const keys = keysAt(s, at, how, first);
    const more = new Set(at);
    for (let k = 0; k + 1 < at.length; k++) {
      let worst = tolerance;
      let where = -1;
      for (let i = at[k] + 1; i < at[k + 1]; i++) {
        const err = Math.abs(valueAt(keys, first + i, how) - s[i]);
        if (err > worst) {
          worst = err;
          where = i;
        }
      }
      if (where >= 0) more.add(where);
    }
    if (more.size === at.length) return keys;
    at = [...more].sort((a, b) => a - b);
  }
  return keysAt(s, at, how, first);
}

/**
 * Keys for all channels that move.
 * @param {ReturnType<typeof perform>} take
 * @param {{ how: string, turn?: number, place?: number, poses?: number[], only?: (id: string) => string | undefined }} habit
 *   how: smooth, linear, bezier, cubic, step (at `poses`), every, twos; `only` may say another way for one joint
 * @returns {Curve[]}
 */
export function keyed(take, habit) {
  const first = take.range[0];
  /** @type {Curve[]} */ const curves = [];
  for (const [id, s] of take.samples) {
    const [node, channel] = id.split("|");
    const rest = channel.startsWith("t")
      ? /** @type {any} */ (take.rig.by.get(node)).at["xyz".indexOf(channel.slice(-1))]
      : 0;
    const eps = channel.startsWith("t") ? 1e-5 : 1e-3;
    if (s.every((v) => Math.abs(v - rest) < eps)) continue;
    const how = habit.only?.(node) ?? habit.how;
    const tolerance = channel.startsWith("t") ? (habit.place ?? 0.001) : (habit.turn ?? 0.1);
    if (how === "step" || how === "twos") {
      const frames =
        how === "step" ? (habit.poses ?? []) : s.map((_, i) => first + i).filter((_, i) => i % 2 === 0);
      curves.push({ node, channel, interpolation: "step", keys: frames.map((f) => [f, s[f - first]]) });
    } else if (how === "every") {
      curves.push({ node, channel, keys: s.map((v, i) => [first + i, v]) });
    } else {
      curves.push({ node, channel, interpolation: how, keys: fit(s, how, tolerance, first) });
    }
  }
  return curves;
}
