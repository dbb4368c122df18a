// @ts-check
import { fit, valueAt } from "./curve.mjs";
import { conj, fromEuler, qmul, slerp, toEuler } from "./math.mjs";

/**
 * @typedef {{ first: number, last: number, fps: number, unit: number, up: string, poses?: number[], every?: boolean }} Shot
 * `poses` are the frames of a blocking; with `every` each frame has a key that repeats its pose.
 */

/** The frame whose pose is shown at `f`. @param {Shot} shot @param {number} f */
export const held = (shot, f) =>
  shot.poses ? Math.max(shot.poses[0], ...shot.poses.filter((p) => p <= f)) : f;

/** @param {Shot} shot */
export const framesOf = (shot) =>
  Array.from({ length: shot.last - shot.first + 1 }, (_, i) => shot.first + i);

/** Keys of one channel and what they give on each frame. */
export function bakeNumber(shot, v, o) {
  if (shot.poses) {
    const at = shot.every ? framesOf(shot) : shot.poses;
    const flat = Math.max(...v) - Math.min(...v) < 1e-4;
    const keys = (flat ? at.slice(0, 1) : at).map((f) => [
      f,
      Number(v[f - shot.first].toFixed(o.digits)) + 0,
    ]);
    return { keys, values: v };
  }
  const keys =
    o.kind === "linear" && o.ones
      ? v.map((x, i) => [shot.first + i, Number(x.toFixed(o.digits)) + 0])
      : fit(v, shot.first, o);
  return { keys, values: framesOf(shot).map((f) => valueAt(keys, o.kind, f)) };
}

/** A joint's turns as curves by axis. Returns curves and the turns that they give. */
export function bakeTurn(shot, id, order, qsDense, o) {
  if (o.quat) return bakeQuat(shot, id, qsDense, o);
  let last = [0, 0, 0];
  const eul = qsDense.map((q) => (last = toEuler(order, q, last)));
  const parts = [0, 1, 2].map((ax) =>
    bakeNumber(
      shot,
      eul.map((e) => e[ax]),
      { digits: 2, ...o },
    ),
  );
  const curves = parts.flatMap((p, ax) =>
    p.keys.length === 1 && Math.abs(p.keys[0][1]) < 0.02
      ? []
      : [curve(shot, id, `rotation.${"xyz"[ax]}`, o.kind, p.keys)],
  );
  return {
    curves,
    turns: qsDense.map((_, i) =>
      fromEuler(
        order,
        parts.map((p) => p.values[i]),
      ),
    ),
  };
}

/** @param {Shot} shot */
export const curve = (shot, node, channel, kind, keys) => ({
  node,
  channel,
  interpolation: shot.poses ? "step" : kind,
  keys,
});

/** Quaternion keys, straight from key to key, wherever they stray by more than the tolerance. */
function bakeQuat(shot, id, dense, o) {
  const q = [];
  for (const v of dense) {
    const b = q[q.length - 1];
    q.push(b && b.reduce((s, x, i) => s + x * v[i], 0) < 0 ? v.map((x) => -x) : v);
  }
  const err = (a, b) => 2 * Math.acos(Math.min(1, Math.abs(qmul(conj(a), b)[3]))) * 57.2958;
  const at = new Set([0, q.length - 1]);
  const posed = shot.poses ? (shot.every ? framesOf(shot) : shot.poses) : [];
  for (const f of posed) at.add(f - shot.first);
  const walk = (visit) => {
    const idx = [...at].sort((a, b) => a - b);
    for (let n = 0; n < idx.length - 1; n++) {
      for (let f = idx[n]; f < idx[n + 1]; f++)
        visit(
          f,
          shot.poses ? q[f] : slerp(q[idx[n]], q[idx[n + 1]], (f - idx[n]) / (idx[n + 1] - idx[n])),
          idx[n],
        );
    }
  };
  for (let grew = !shot.poses; grew; ) {
    grew = false;
    const worst = new Map();
    walk((f, got, seg) => {
      const e = err(got, q[f]);
      if (e > Math.max(o.tol, 0.08) && e > (worst.get(seg)?.e ?? 0)) worst.set(seg, { f, e });
    });
    for (const w of worst.values()) {
      at.add(w.f);
      grew = true;
    }
  }
  const turns = [];
  walk((_f, got) => turns.push(got));
  turns.push(q[q.length - 1]);
  const keys = [...at]
    .sort((a, b) => a - b)
    .map((i) => [shot.first + i, q[i].map((x) => Number(x.toFixed(5)) + 0)]);
  return { curves: [curve(shot, id, "rotation", "linear", keys)], turns };
}
