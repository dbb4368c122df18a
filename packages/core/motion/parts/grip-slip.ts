import { conjugate, rotated } from "../../base/quaternion.ts";
import type { Study } from "../../base/study.ts";
import { lengthOf, scaled, type Vector } from "../../base/vector.ts";
import { statureOf } from "../../rig/body.ts";
import { lengthShare } from "../../rig/proportions.ts";
import { rigOf } from "../../rig/rig.ts";
import type { World } from "../../rig/world.ts";

/**
 * How far a thing shifts in a hand from one sample to another, metres: the least way, over all points of the triangle of the
 * hand's joint, its finger tips and the thing's own place, by which the point goes apart as the hand carries it and as the
 * thing carries it. A hand that turns about any of them lets nothing slip: a palm pivots on what it holds, a wrist bends
 * over it.
 * @param tip finger tips in the hand's space, metres
 */
export function slipBetween(hand: World, thing: World, tip: Vector, i: number, k: number): number {
  const w = hand.position;
  const c = thing.position;
  const q = hand.orientation;
  const a = 3 * i;
  const b = 3 * k;
  const x = c[a] - w[a];
  const y = c[a + 1] - w[a + 1];
  const z = c[a + 2] - w[a + 2];
  turnInto(q[4 * i], q[4 * i + 1], q[4 * i + 2], q[4 * i + 3], tip[0], tip[1], tip[2]);
  const fx = out[0];
  const fy = out[1];
  const fz = out[2];
  // At the hand's joint: where it is now, against where the thing would have carried it.
  turnedFrom(thing.orientation, i, k, -x, -y, -z);
  const px = w[b] - c[b] - out[0];
  const py = w[b + 1] - c[b + 1] - out[1];
  const pz = w[b + 2] - c[b + 2] - out[2];
  // At the thing: where the hand would have carried it, against where it is now.
  turnedFrom(q, i, k, x, y, z);
  const ux = out[0] + w[b] - c[b] - px;
  const uy = out[1] + w[b + 1] - c[b + 1] - py;
  const uz = out[2] + w[b + 2] - c[b + 2] - pz;
  // At the finger tips.
  turnedFrom(q, i, k, fx, fy, fz);
  const tx = out[0];
  const ty = out[1];
  const tz = out[2];
  turnedFrom(thing.orientation, i, k, fx, fy, fz);
  const vx = tx - out[0];
  const vy = ty - out[1];
  const vz = tz - out[2];
  const uu = ux * ux + uy * uy + uz * uz;
  const uv = ux * vx + uy * vy + uz * vz;
  const vv = vx * vx + vy * vy + vz * vz;
  const pu = px * ux + py * uy + pz * uz;
  const pv = px * vx + py * vy + pz * vz;
  let least = Number.POSITIVE_INFINITY;
  const look = (s: number, t: number) => {
    const x = px + s * ux + t * vx;
    const y = py + s * uy + t * vy;
    const z = pz + s * uz + t * vz;
    const way = lengthOf(x, y, z);
    if (way >= least) return;
    least = way;
    slipWay[0] = x;
    slipWay[1] = y;
    slipWay[2] = z;
  };
  // Inside of the triangle, where the least lies there; else along its three edges.
  const det = uu * vv - uv * uv;
  if (det > 1e-12 * uu * vv) {
    const s = (uv * pv - vv * pu) / det;
    const t = (uv * pu - uu * pv) / det;
    if (s >= 0 && t >= 0 && s + t <= 1) look(s, t);
  }
  const along = (share: number) => Math.min(1, Math.max(0, share));
  look(uu > 0 ? along(-pu / uu) : 0, 0);
  look(0, vv > 0 ? along(-pv / vv) : 0);
  const ww = uu - 2 * uv + vv;
  const t = ww > 0 ? along(-(pv - pu + uv - uu) / ww) : 0;
  look(1 - t, t);
  return least;
}

/** Where the last {@link slipBetween} found the least way: how far the hand is ahead of the thing there, metres. */
export const slipWay = new Float64Array(3);

/** A hand's finger tips in its own space, metres: where its bones lead, else on along the forearm, a hand's length away. */
export function fingerTipsOf(study: Study, figure: number, hand: number): Vector {
  const rig = rigOf(study);
  const sum: [number, number, number] = [0, 0, 0];
  for (const child of rig.children[hand])
    for (let k = 0; k < 3; k++) sum[k] += rig.translation[3 * child + k];
  let way: Vector = sum;
  if (!(lengthOf(...sum) > 0)) {
    const own = 3 * hand;
    const back = conjugate(rig.fixedRotation, 4 * hand);
    way = rotated(back, [rig.translation[own], rig.translation[own + 1], rig.translation[own + 2]]);
  }
  const length = lengthOf(...way);
  return length > 0 ? scaled(way, (lengthShare.hand * statureOf(study, figure)) / length) : way;
}

/** How far a thing turns in a hand from one sample to another, radians. */
export function turnBetween(hand: World, thing: World, i: number, k: number): number {
  const h = hand.orientation;
  const t = thing.orientation;
  relative(h, t, i, before);
  relative(h, t, k, now);
  const dot = Math.abs(before[0] * now[0] + before[1] * now[1] + before[2] * now[2] + before[3] * now[3]);
  return 2 * Math.acos(Math.min(1, dot));
}

const out = new Float64Array(3);
const before = new Float64Array(4);
const now = new Float64Array(4);

/** Turns a vector as an orientation turned from one sample to another, into {@link out}. */
function turnedFrom(q: Float64Array, i: number, k: number, x: number, y: number, z: number): void {
  turnInto(-q[4 * i], -q[4 * i + 1], -q[4 * i + 2], q[4 * i + 3], x, y, z);
  turnInto(q[4 * k], q[4 * k + 1], q[4 * k + 2], q[4 * k + 3], out[0], out[1], out[2]);
}

function turnInto(qx: number, qy: number, qz: number, qw: number, x: number, y: number, z: number): void {
  const tx = 2 * (qy * z - qz * y);
  const ty = 2 * (qz * x - qx * z);
  const tz = 2 * (qx * y - qy * x);
  out[0] = x + qw * tx + qy * tz - qz * ty;
  out[1] = y + qw * ty + qz * tx - qx * tz;
  out[2] = z + qw * tz + qx * ty - qy * tx;
}

/** A thing's turn as its hand sees it. */
function relative(h: Float64Array, t: Float64Array, i: number, into: Float64Array): void {
  const ax = -h[4 * i];
  const ay = -h[4 * i + 1];
  const az = -h[4 * i + 2];
  const aw = h[4 * i + 3];
  const bx = t[4 * i];
  const by = t[4 * i + 1];
  const bz = t[4 * i + 2];
  const bw = t[4 * i + 3];
  into[0] = aw * bx + ax * bw + ay * bz - az * by;
  into[1] = aw * by - ax * bz + ay * bw + az * bx;
  into[2] = aw * bz + ax * by - ay * bx + az * bw;
  into[3] = aw * bw - ax * bx - ay * by - az * bz;
}
