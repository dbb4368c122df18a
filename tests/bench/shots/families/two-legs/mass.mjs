// @ts-check
/** Where the mass of a posed body lies: the trunk with head and shoulders, the arms, the legs. */
import { add, multiply, rotate, scale } from "../../../../../demo/motion/vector.mjs";
import { sides } from "../../bodies/two-legs.mjs";

/** @import { Rig } from "../../bodies/two-legs.mjs" */

/** @typedef {{ mass: number[], poses: Map<string, { position: number[], orientation: number[] }> }} Upright */

/** Everything but arms and legs, with the root at the origin. @param {Rig} rig @param {Map<string, number[]>} turns
 * @returns {Upright} */
export function trunkOf(rig, turns) {
  /** @type {Upright["poses"]} */
  const poses = new Map();
  let mass = [0, 0, 0];
  const limbs = new Set(sides.flatMap((side) => [rig.sides[side].upper, rig.sides[side].thigh]));
  for (const joint of rig.body.joints) {
    const parent = joint.parent === null ? undefined : poses.get(joint.parent);
    if (limbs.has(joint.id) || (joint.parent !== null && parent === undefined)) continue;
    const pose = follow(parent, joint.parent === null ? [0, 0, 0] : joint.at, turns.get(joint.id));
    poses.set(joint.id, pose);
    mass = add(mass, weighed(rig, joint.id, pose));
  }
  return { mass, poses };
}

/** @param {{ position: number[], orientation: number[] } | undefined} parent @param {readonly number[]} at
 * @param {number[] | undefined} turn */
function follow(parent, at, turn = [0, 0, 0, 1]) {
  if (parent === undefined) return { position: [...at], orientation: turn };
  return {
    position: add(parent.position, rotate(parent.orientation, [...at])),
    orientation: multiply(parent.orientation, turn),
  };
}

/** A segment's share of the mass times its place. @param {Rig} rig @param {string} id
 * @param {{ position: number[], orientation: number[] }} pose */
function weighed({ body }, id, pose) {
  // A puppet may lack an arm: what is not there weighs nothing.
  const share = body.masses[id] ?? 0;
  if (share === 0) return [0, 0, 0];
  return scale(add(pose.position, rotate(pose.orientation, [...(body.massAt?.[id] ?? [0, 0, 0])])), share);
}

/** @param {Rig} rig @param {readonly string[]} ids a chain @param {Map<string, number[]>} turns
 * @param {{ position: number[], orientation: number[] } | undefined} pose what carries it */
export function chainMass(rig, ids, turns, pose) {
  let mass = [0, 0, 0];
  let above = pose;
  for (const id of ids) {
    above = follow(above, /** @type {readonly number[]} */ (restAt(rig, id)), turns.get(id));
    mass = add(mass, weighed(rig, id, above));
  }
  return mass;
}

/** @type {WeakMap<Rig, Map<string, readonly number[]>>} */
const rests = new WeakMap();
/** @param {Rig} rig @param {string} id */
export function restAt(rig, id) {
  let known = rests.get(rig);
  if (known === undefined) {
    known = new Map(rig.body.joints.map((joint) => [joint.id, joint.at]));
    rests.set(rig, known);
  }
  return known.get(id) ?? [0, 0, 0];
}

/** @param {Rig} rig @param {Map<string, number[]>} turns @param {Upright} upright */
export function armsOf(rig, turns, upright) {
  return sides.reduce(
    (sum, side) => {
      const { clavicle, upper, fore, hand } = rig.sides[side];
      return add(sum, chainMass(rig, [upper, fore, hand], turns, upright.poses.get(clavicle)));
    },
    [0, 0, 0],
  );
}

/** @param {Rig} rig @param {Map<string, number[]>} turns */
export function legsOf(rig, turns) {
  const pelvis = { position: [0, 0, 0], orientation: turns.get(rig.hips) ?? [0, 0, 0, 1] };
  return sides.reduce(
    (sum, side) => {
      const { thigh, shin, foot } = rig.sides[side];
      return add(sum, chainMass(rig, [thigh, shin, foot], turns, pelvis));
    },
    [0, 0, 0],
  );
}
