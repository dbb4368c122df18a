// @ts-check
/**
 * One frame of one body while it is being made: local turns in, world poses out.
 * @import { Body, Vector } from "../../../types.d.ts"
 */
import {
  add,
  fromAngles,
  inverse,
  multiply,
  rotate,
  scale,
  toAngles,
} from "../../../../../../demo/motion/vector.mjs";

/**
 * What stays the same over a shot: the hierarchy by number, and where masses lie.
 * @param {Body} body
 */
export function frameOf(body) {
  const { joints } = body;
  const number = new Map(joints.map(({ id }, n) => [id, n]));
  const massAt = joints.map(({ id }) => {
    const given = body.massAt?.[id];
    if (given !== undefined) return given;
    const children = joints.filter(({ parent }) => parent === id);
    const sum = children.reduce((/** @type {number[]} */ total, child) => add(total, child.at), [0, 0, 0]);
    return children.length === 0 ? sum : scale(sum, 0.5 / children.length);
  });
  return {
    body,
    joints,
    number,
    parents: joints.map(({ parent }) => (parent === null ? -1 : /** @type {number} */ (number.get(parent)))),
    massAt,
    mass: joints.map(({ id }) => body.masses[id] ?? 0),
  };
}

/** @typedef {ReturnType<typeof frameOf>} Frame */

export class Pose {
  /** @param {Frame} frame @param {Pose | null} before the frame before, so that solved angles do not jump */
  constructor(frame, before = null) {
    this.frame = frame;
    this.place = /** @type {number[]} */ ([...frame.joints[0].at]);
    /** @type {number[][]} */
    this.angles = frame.joints.map((_, n) => (before === null ? [0, 0, 0] : before.angles[n]));
    /** Angles of the frame before: solved ones are to be the nearest to them. */
    this.near = [...this.angles];
    /** @type {(number[] | undefined)[]} local quaternions */
    this.local = [];
    /** @type {({ position: number[], orientation: number[] } | undefined)[]} */
    this.worlds = [];
  }

  /** @param {string} id */
  #number(id) {
    const n = this.frame.number.get(id);
    if (n === undefined) throw new Error(`The body has no joint "${id}".`);
    return n;
  }

  /** Forget world poses, after the root was moved. @param {number[]} place */
  moveTo(place) {
    this.place = place;
    this.worlds = [];
  }

  /** Sets a joint's angles. Joints below it must not have been asked for. @param {string} id @param {number[]} angles */
  turn(id, angles) {
    const n = this.#number(id);
    this.angles[n] = angles;
    this.local[n] = fromAngles(this.frame.joints[n].order, angles);
    this.worlds[n] = undefined;
  }

  /** Takes a joint that is turned already some of the way to other angles. @param {string} id @param {number[]} angles
   * @param {number} share */
  lean(id, angles, share) {
    const n = this.#number(id);
    const { order } = this.frame.joints[n];
    const [a, b] = [this.local[n] ?? [0, 0, 0, 1], fromAngles(order, angles)];
    const sign = a.reduce((sum, value, k) => sum + value * b[k], 0) < 0 ? -1 : 1;
    const mixed = a.map((value, k) => value * (1 - share) + sign * b[k] * share);
    const size = Math.hypot(...mixed);
    this.local[n] = mixed.map((value) => value / size);
    this.angles[n] = toAngles(order, this.local[n] ?? mixed, this.near[n]);
    this.worlds = [];
  }

  /** Turns a joint to a world orientation. @param {string} id @param {number[]} orientation */
  face(id, orientation) {
    const n = this.#number(id);
    const { joints, parents } = this.frame;
    const up = parents[n];
    const local = up < 0 ? orientation : multiply(inverse(this.#world(up).orientation), orientation);
    this.angles[n] = toAngles(joints[n].order, local, this.near[n]);
    this.local[n] = local;
    this.worlds[n] = undefined;
  }

  /** @param {number} n @returns {{ position: number[], orientation: number[] }} */
  #world(n) {
    const known = this.worlds[n];
    if (known !== undefined) return known;
    const { joints, parents } = this.frame;
    this.local[n] ??= fromAngles(joints[n].order, this.angles[n]);
    const local = /** @type {number[]} */ (this.local[n]);
    if (parents[n] < 0) {
      this.worlds[n] = { position: this.place, orientation: local };
    } else {
      const up = this.#world(parents[n]);
      this.worlds[n] = {
        position: add(up.position, rotate(up.orientation, joints[n].at)),
        orientation: multiply(up.orientation, local),
      };
    }
    return /** @type {{ position: number[], orientation: number[] }} */ (this.worlds[n]);
  }

  /** World pose of a joint. @param {string} id */
  of(id) {
    return this.#world(this.#number(id));
  }

  /** World place of a point in a joint's space. @param {string} id @param {number[]} at */
  point(id, at) {
    const { position, orientation } = this.of(id);
    return add(position, rotate(orientation, at));
  }

  /** Centre of mass. @returns {Vector} */
  centre() {
    const { mass, massAt } = this.frame;
    /** @type {Vector} */
    const sum = [0, 0, 0];
    for (let n = 0; n < mass.length; n++) {
      const share = mass[n];
      if (share === 0) continue;
      const { position, orientation } = this.#world(n);
      const off = rotate(orientation, massAt[n]);
      for (let k = 0; k < 3; k++) sum[k] += share * (position[k] + off[k]);
    }
    return sum;
  }
}
