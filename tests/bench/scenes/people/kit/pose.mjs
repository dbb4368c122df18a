// @ts-check
import {
  about,
  add,
  between,
  conj,
  cross,
  dot,
  fromAxes,
  len,
  lerp,
  mul,
  norm,
  ONE,
  qmul,
  qs,
  slerp,
  sub,
  turn,
} from "./math.mjs";

/**
 * The pose of a figure from what its animator keys: hips, back, arms and hands, feet, look.
 * Frames of joints are "hanging" frames: x to the left, y up, z ahead, when standing at rest.
 * @typedef {Record<string, { p: number[], q: number[] }>} World
 */

const call = (/** @type {any} */ tr, /** @type {number} */ f, /** @type {any} */ other) =>
  tr ? tr(f) : other;
const sway = (/** @type {number} */ f, /** @type {number} */ n, period = 71) =>
  Math.sin((f / period + n * 0.37) * 2 * Math.PI);

/** Two bones from `a` to `b`; `axis` is the local x that the bend turns about. */
function twoBones(a, b, l1, l2, pole, sign) {
  const d = Math.min(len(sub(b, a)), (l1 + l2) * 0.9995);
  const l = norm(sub(b, a));
  const p = norm(sub(pole, mul(l, dot(pole, l))));
  const c = (l1 * l1 + d * d - l2 * l2) / (2 * l1 * d);
  const mid = add(a, add(mul(l, l1 * c), mul(p, l1 * Math.sqrt(Math.max(0, 1 - c * c)))));
  const x = mul(cross(p, l), sign);
  const frame = (/** @type {number[]} */ u) => fromAxes(x, mul(u, -1), cross(x, mul(u, -1)));
  const u1 = norm(sub(mid, a));
  const end = add(a, mul(l, d));
  return { q1: frame(u1), q2: frame(norm(sub(end, mid))), mid, end, over: len(sub(b, a)) - (l1 + l2) };
}

/** Hips in the world. */
export function poseRoot(sk, perf, f) {
  const z = sk.size;
  const k = (perf.alive ?? 1) * sk.H;
  const o = perf.hips(f);
  const r = call(perf.hipsRot, f, [0, 0, 0]);
  return {
    p: [
      o[0] + 0.0022 * k * sway(f, 1, 97),
      z.ankle + z.shin + z.thigh + z.root + o[1],
      o[2] + 0.0015 * k * sway(f, 2, 83),
    ],
    q: qs(about(1, r[1]), about(0, r[0]), about(2, r[2])),
  };
}

/** Local turns of the back, neck and head. */
export function poseBack(sk, perf, f) {
  const n = sk.spine.length;
  const k = perf.alive ?? 1;
  const out = /** @type {Record<string, number[]>} */ ({});
  const q = (/** @type {number[]} */ r) => qs(about(1, r[1]), about(0, r[0]), about(2, r[2]));
  const low = call(perf.spine, f, [0, 0, 0]);
  const top = call(perf.chest, f, low);
  sk.spine.forEach((key, i) => {
    const t = n === 1 ? 0.5 : i / (n - 1);
    const r = lerp(low, top, t);
    const breath = key === "chest" ? 0.9 * k * sway(f, 3) : 0.5 * k * sway(f, 4, 89);
    out[key] = q([(r[0] / n) * 2 + breath, (r[1] / n) * 2 + 0.4 * k * sway(f, 5, 103), (r[2] / n) * 2]);
  });
  const nk = call(perf.neck, f, [0, 0, 0]);
  const hd = call(perf.head, f, [0, 0, 0]);
  out.neck = q([nk[0] - 0.6 * k * sway(f - 4, 3), nk[1] - 0.4 * k * sway(f - 5, 5, 103), nk[2]]);
  out.head = q([hd[0] + 0.7 * k * sway(f, 6, 79), hd[1] + 0.8 * k * sway(f, 7, 113), hd[2]]);
  for (const s of ["L", "R"]) {
    const m = s === "L" ? 1 : -1;
    const c = call(perf[`clav${s}`], f, [0, 0]);
    out[`clav${s}`] = qs(about(1, -m * c[1]), about(2, m * c[0]));
  }
  return out;
}

/** Turns the head to what it looks at; the neck takes half. Returns local turns. */
export function poseLook(perf, f, base, neck, head, at) {
  const w = call(perf.look?.w, f, 0);
  const c = qs(base.q, neck, head);
  if (w <= 0) return { neck, head };
  const want = qmul(between(turn(c, [0, 0, 1]), sub(perf.look.at(f), at)), c);
  const d = slerp(ONE, qmul(want, conj(c)), w);
  const half = slerp(ONE, d, 0.45);
  const nq = qmul(conj(base.q), qs(half, base.q, neck));
  return { neck: nq, head: qmul(conj(qmul(base.q, nq)), qmul(d, c)) };
}

/** A leg: where the foot stands, and the bones that reach it. Returns world turns. */
export function poseLeg(sk, perf, s, f, root, lift = 0) {
  const z = sk.size;
  const m = s === "L" ? 1 : -1;
  const [x, y, zz, yaw] = perf[`foot${s}`](f);
  const roll = call(perf[`roll${s}`], f, 0);
  const face = about(1, yaw);
  const q = qmul(face, about(0, roll));
  const pivot = roll > 0 ? [0, 0.012 * sk.H, z.ball] : [0, 0, -z.heel];
  const low = add([x, y + lift, zz], turn(face, pivot));
  const ankle = add(low, turn(q, sub([0, z.ankle, 0], pivot)));
  const hip = add(root.p, turn(root.q, [m * z.hip, -z.root, 0]));
  const out = call(perf[`knee${s}`], f, 4) * m;
  const fwd = norm(
    add(turn(qmul(face, about(1, out)), [0, 0, 1]), add(turn(root.q, [0, 0, 0.8]), [0, 0.01, 0])),
  );
  const b = twoBones(hip, ankle, z.thigh, z.shin, fwd, 1);
  const ground = Math.max(
    0,
    Math.min(1, 1 - (y + lift - call(perf.floor, f, perf[`ground${s}`]?.(f) ?? y + lift)) / 0.06),
  );
  const toe = roll > 0 ? -Math.min(roll, 55) * ground : Math.min(0, -roll * 0.15);
  return {
    thigh: b.q1,
    shin: b.q2,
    foot: q,
    toe: qmul(q, about(0, toe + call(perf[`toes${s}`], f, 0))),
    over: b.over,
    ankle,
  };
}

/** An arm: turned joint by joint, drawn towards a place by `hand.w`. Returns world turns. */
export function poseArm(sk, perf, s, f, shoulder, base, env, goal) {
  const z = sk.size;
  const m = s === "L" ? 1 : -1;
  const k = perf.alive ?? 1;
  const a = call(perf[`arm${s}`], f, [3, 7, 0, 14]);
  const wr = call(perf[`wrist${s}`], f, [4, 0, 0]);
  const curl = call(perf[`fing${s}`], f, 18) + 1.5 * k * sway(f, 8 + m, 67);
  let up = qs(base, about(0, -a[0] - 0.9 * k * sway(f - 3, 9 + m)), about(2, m * a[1]), about(1, m * a[2]));
  let fore = qmul(up, about(0, -a[3] + 0.8 * k * sway(f - 6, 9 + m)));
  const bend = qs(about(1, m * wr[2]), about(0, -wr[1]), about(2, -m * (wr[0] + k * sway(f - 9, 9 + m))));
  let hand = qmul(fore, bend);
  let over = -1;
  const ik = perf[`hand${s}`];
  const w = ik ? ik.w(f) : 0;
  if (w > 0 && w < 1 && goal) {
    up = slerp(up, qmul(base, goal.up), w);
    fore = slerp(fore, qmul(base, goal.fore), w);
    hand = qmul(fore, slerp(bend, goal.hand, w));
  } else if (w > 0) {
    const turnTo = ik.rot ? ik.rot(f, env) : null;
    const grip = ik.at(f, env);
    const wrist = turnTo ? sub(grip, turn(turnTo, palmAt(sk, s))) : grip;
    const pole = turn(base, norm(ik.pole ?? [m * 0.5, -0.6, -0.6]));
    const b = twoBones(shoulder, wrist, z.up, z.fore, pole, -1);
    over = w > 0.99 ? b.over : -1;
    // Turns are blended, not places: an elbow opens evenly on its way.
    up = slerp(up, b.q1, w);
    fore = slerp(fore, b.q2, w);
    hand = turnTo ? slerp(qmul(fore, bend), turnTo, w) : qmul(fore, bend);
  }
  return { up, fore, hand, fing: qmul(hand, about(2, -m * curl)), over };
}

/** The middle of the palm in the hand's frame. */
export const palmAt = (sk, s) => [(s === "L" ? -1 : 1) * 0.018 * sk.H, -0.05 * sk.H, 0];

/** The turn of a hand whose fingers and palm face these ways. */
export function handTurn(s, fingers, palm) {
  const y = mul(norm(fingers), -1);
  const p = norm(sub(palm, mul(y, dot(palm, y))));
  const x = mul(p, s === "L" ? -1 : 1);
  return fromAxes(x, y, cross(x, y));
}

/** Hair as hung points: gravity, drag, links of one length. Returns directions per frame and link. */
export function hangHair(sk, roots, fps) {
  const L = 0.05 * sk.H;
  const n = sk.hair.length;
  let pts = sk.hair.map((_, i) => add(roots[0], [0, -L * (i + 1), 0]));
  let old = pts.map((p) => p);
  const sub8 = 8;
  const dt = 1 / fps / sub8;
  const out = [];
  for (let f = -40; f < roots.length; f++) {
    const a = roots[Math.max(0, f - 1)];
    const b = roots[Math.max(0, f)];
    for (let i = 1; i <= sub8; i++) {
      const anchor = lerp(a, b, i / sub8);
      const next = pts.map((p, j) => add(add(p, mul(sub(p, old[j]), 1 - 11 * dt)), [0, -9.8 * dt * dt, 0]));
      old = pts;
      pts = next;
      for (let j = 0; j < n; j++) {
        const from = j ? pts[j - 1] : anchor;
        // Hair bends with the link above it, a little.
        if (j) pts[j] = lerp(pts[j], add(from, sub(from, j > 1 ? pts[j - 2] : anchor)), 0.03);
        pts[j] = add(from, mul(norm(sub(pts[j], from)), L));
      }
    }
    if (f >= 0) out.push(pts.map((p, j) => norm(sub(p, j ? pts[j - 1] : b))));
  }
  return out;
}
