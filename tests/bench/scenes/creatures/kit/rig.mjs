// @ts-check
// Skeletons and poses. All in metres, y up, forward +z, left +x; every joint is unturned at rest.
import {
  add,
  aim,
  axisTurn,
  clamp,
  cross,
  dot,
  fromEuler,
  len,
  mul,
  qinv,
  qmul,
  sub,
  toEuler,
  turn,
  unit,
} from "./math.mjs";

/** @typedef {{ id: string, parent: string | null, at: number[], mass: number, order: string }} Joint */
/** @typedef {{ joints: Joint[], by: Map<string, Joint>, mass: number }} Rig */

/**
 * @param {[string, string | null, number[], number?, string?][]} rows joint, parent, place, mass at it, order of turns
 * @returns {Rig}
 */
export function makeRig(rows) {
  const joints = rows.map(([id, parent, at, mass = 0, order = "yxz"]) => ({ id, parent, at, mass, order }));
  return { joints, by: new Map(joints.map((j) => [j.id, j])), mass: joints.reduce((s, j) => s + j.mass, 0) };
}

/** Rows for both sides: a "*" in a name stands for L and R, and x is mirrored. @param {any[]} rows @returns {any[]} */
export function bothSides(rows) {
  return ["L", "R"].flatMap((s) =>
    rows.map(([id, parent, at, ...more]) => [
      id.replace("*", s),
      parent.replace("*", s),
      [s === "L" ? at[0] : -at[0], at[1], at[2]],
      ...more,
    ]),
  );
}

export class Pose {
  /** @param {Rig} rig */
  constructor(rig) {
    this.rig = rig;
    /** @type {Record<string, number[]>} */ this.t = {};
    /** @type {Record<string, number[]>} */ this.r = {};
    this.missed = 0;
  }
  /** Turns a joint, in degrees. @param {string} id @param {number} x @param {number} [y] @param {number} [z] */
  rot(id, x, y = 0, z = 0) {
    this.r[id] = [x, y, z];
    return this;
  }
  /** @param {string} id @param {number} x @param {number} y @param {number} z */
  move(id, x, y, z) {
    this.t[id] = [x, y, z];
    return this;
  }
  /** @param {string} id @returns {{ p: number[], q: number[] }} */
  world(id) {
    const j = this.rig.by.get(id);
    if (!j) throw new Error(`no joint ${id}`);
    const t = this.t[id] ?? j.at;
    const q = fromEuler(this.r[id] ?? [0, 0, 0], j.order);
    if (!j.parent) return { p: t, q };
    const up = this.world(j.parent);
    return { p: add(up.p, turn(up.q, t)), q: qmul(up.q, q) };
  }
  /** @param {string} id @param {number[]} [at] */
  point(id, at = [0, 0, 0]) {
    const w = this.world(id);
    return add(w.p, turn(w.q, at));
  }
  /** Gives a joint an orientation in the world. @param {string} id @param {number[]} q */
  face(id, q) {
    const j = /** @type {Joint} */ (this.rig.by.get(id));
    const up = j.parent ? this.world(j.parent).q : [0, 0, 0, 1];
    this.r[id] = toEuler(qmul(qinv(up), q), j.order);
  }
  /**
   * Two bones that reach a point: joints a and b, the end c; the middle bends towards `pole`.
   * @param {string} a @param {string} b @param {string} c @param {number[]} goal @param {number[]} pole @param {number[]} [hinge]
   */
  reach(a, b, c, goal, pole, hinge = [1, 0, 0]) {
    const off1 = /** @type {Joint} */ (this.rig.by.get(b)).at;
    const off2 = /** @type {Joint} */ (this.rig.by.get(c)).at;
    const [l1, l2] = [len(off1), len(off2)];
    const from = this.world(a).p;
    const line = sub(goal, from);
    const most = (l1 + l2) * 0.9985;
    if (len(line) > most + 1e-9) this.missed = Math.max(this.missed, len(line) - most);
    const d = clamp(len(line), Math.abs(l1 - l2) + 1e-6, most);
    const dir = unit(line);
    const side = unit(sub(pole, mul(dir, dot(pole, dir))));
    const along = (l1 * l1 - l2 * l2 + d * d) / (2 * d);
    const off = Math.sqrt(Math.max(0, l1 * l1 - along * along));
    const knee = add(from, add(mul(dir, along), mul(side, off)));
    // The hinge points where the bend's own axis does at rest, so that the middle joint turns about one axis.
    const axis = cross(dir, side);
    const sign = dot(cross(unit(add(off1, off2)), this.bendOf(off1, off2, hinge)), hinge) < 0 ? -1 : 1;
    const normal = mul(axis, sign);
    this.face(a, aim(off1, hinge, sub(knee, from), normal));
    this.face(b, aim(off2, hinge, sub(add(from, mul(dir, d)), knee), normal));
  }
  /** Which way the middle joint lies at rest. @param {number[]} o1 @param {number[]} o2 @param {number[]} hinge */
  bendOf(o1, o2, hinge) {
    const d = unit(add(o1, o2));
    const s = sub(o1, mul(d, dot(o1, d)));
    return len(s) > 1e-6 ? unit(s) : cross(hinge, d);
  }
  /** Centre of mass; a joint's mass lies half way to its children. */
  com() {
    let sum = [0, 0, 0];
    for (const j of this.rig.joints) {
      if (!j.mass) continue;
      const kid = this.rig.joints.find((k) => k.parent === j.id);
      sum = add(sum, mul(this.point(j.id, kid ? mul(kid.at, 0.5) : [0, 0, 0]), j.mass));
    }
    return mul(sum, 1 / this.rig.mass);
  }
}

/**
 * Moves the root until the centre of mass is where it must be, while the legs stay on their marks.
 * @param {Pose} pose @param {number[]} goal @param {() => void} solve poses the legs
 */
export function centreAt(pose, goal, solve) {
  const root = pose.rig.joints[0];
  for (let i = 0; i < 5; i++) {
    solve();
    pose.t[root.id] = add(pose.t[root.id] ?? root.at, sub(goal, pose.com()));
  }
  pose.missed = 0;
  solve();
}

/** A turn by heading, then pitch, then bank. @param {number} yaw @param {number} pitch @param {number} [roll] */
export const heading = (yaw, pitch, roll = 0) =>
  qmul(axisTurn(1, yaw), qmul(axisTurn(0, pitch), axisTurn(2, roll)));
