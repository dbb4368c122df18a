// @ts-check
/**
 * Solving limbs: turning their joints so that the end is where it is to be, whatever the bones' rest directions, the
 * parents' turns and the rotation orders.
 * @import { Limb, Performance } from "../types.d.ts"
 * @import { Rig } from "./rig.mjs"
 */
import {
  add,
  cross,
  inverse,
  length,
  multiply,
  rotate,
  subtract,
  turnOntoPair,
} from "../../../../demo/motion/vector.mjs";
import { anglesInto } from "./euler.mjs";
import { bendOf, foldedTo, tipOf } from "./folding.mjs";
import { figureOf, framesOf } from "./performance.mjs";
import { quaternionInto, rigOf } from "./rig.mjs";
import { worldAt } from "./world.mjs";

/** @param {readonly number[]} v @returns {number[]} */
const plain = (v) => /** @type {number[]} */ (v);

/**
 * The joints that a limb's solver turns, and the joint whose place it is to meet: the foot of a limb that stands (`sole`),
 * the hand of an arm (its third joint), the last joint of any other.
 * @param {Limb} limb
 * @returns {{ turned: readonly string[], end: string }}
 */
export function chainOfLimb(limb) {
  const { joints, kind, sole } = limb;
  const last = joints.length - 1;
  const at = sole !== undefined ? joints.indexOf(sole.foot) : kind === "arm" ? Math.min(2, last) : last;
  if (at < 1) throw new Error(`A limb from "${joints[0]}" has no bone to solve before its end.`);
  return { turned: joints.slice(0, at), end: joints[at] };
}

/**
 * @typedef {object} SolveOptions
 * @property {Performance} [reference] whose pose on this frame says how the limb is bent and twisted, and in which plane if
 *   no pole is given (the rest pose if left out); where the solution is the reference's own pose, its angles come out
 * @property {Performance} [near] whose angles on this frame the new ones are to be nearest to; if left out, those of the
 *   frame before in the same table
 * @property {Carried} [base] world pose of the joint that carries the limb, if it is known already
 * @property {readonly number[]} [carrier] world turn of the limb's first joint in the reference, if it is known already
 */
/** @typedef {{ position: readonly number[], quaternion: readonly number[] }} Carried */

/**
 * Solves a limb on a frame: two bones by the law of cosines, longer chains by folding all their joints alike until the
 * length fits; then the whole is turned so that the end meets the target and the middle points to the pole.
 * Writes the rotation tracks of its joints and names them in `performance.solved`.
 * @param {Performance} performance
 * @param {string} figure @param {number} limb index into the body's limbs @param {number} frame
 * @param {readonly number[]} target world place of the end joint, metres (see `chainOfLimb`)
 * @param {readonly number[] | null} turn world turn of the end joint [x, y, z, w]; null leaves its own angles alone
 * @param {readonly number[] | null} [pole] world direction into which the knee or elbow points; if left out, the plane
 *   of the rest pose, turned as the girdle is (a straight leg bends forward, an arm back, others up)
 * @param {SolveOptions} [options]
 * @returns {{ stretch: number, miss: number }} distance of the target as a share of the straight limb's length; metres by
 *   which the end misses the target (0 unless it is out of reach)
 */
export function solveLimb(performance, figure, limb, frame, target, turn, pole = null, options = {}) {
  const asked = figureOf(performance, figure).body.limbs[limb];
  const { turned, end } = chainOfLimb(asked);
  const rig = rigOf(performance);
  const indices = [...turned, end].map((joint) => rig.require(joint));
  const above = rig.parent[indices[0]];
  const base = options.base ?? (above < 0 ? ground : worldAt(performance, rig.ids[above], frame));
  const parentTurn = plain(base.quaternion);
  const start = add(plain(base.position), rotate(parentTurn, shiftOf(performance, rig, indices[0], frame)));
  const way = subtract(plain(target), start);

  const { reference } = options;
  const turns =
    reference === undefined
      ? null
      : indices.slice(0, -1).map((joint) => turnOf(reference, rig, joint, frame));
  const bend = bendOf(asked, rig, indices, turns);
  const wanted = Math.min(length(way), bend.length * 0.99999);
  const folded = foldedTo(bend, wanted);
  const tip = tipOf(bend.bones, folded);

  const carrier =
    reference === undefined
      ? parentTurn
      : (options.carrier ?? worldAt(reference, turned[0], frame).quaternion);
  const hinge = pole === null ? rotate(plain(carrier), bend.axis) : cross(plain(pole), way);
  const upper = turnOntoPair(tip, bend.axis, length(way) > 1e-9 ? way : tip, hinge);
  let world = upper;
  writeTurn(performance, rig, indices[0], frame, multiply(inverse(parentTurn), upper), options.near, true);
  for (let n = 1; n < turned.length; n++) {
    writeTurn(performance, rig, indices[n], frame, folded[n], options.near, true);
    world = multiply(world, folded[n]);
  }
  if (turn !== null) {
    const own = multiply(inverse(world), plain(turn));
    writeTurn(performance, rig, indices[turned.length], frame, own, options.near, true);
  }
  return { stretch: length(way) / bend.length, miss: Math.abs(length(way) - length(tip)) };
}

/** @type {Carried} */
const ground = { position: [0, 0, 0], quaternion: [0, 0, 0, 1] };

/** Index of a frame in the tracks. @param {Performance} performance @param {number} frame */
const indexOf = ({ first, last }, frame) => Math.max(0, Math.min(last, Math.round(frame)) - first);

/** A joint's translation against its parent. @param {Performance} performance @param {Rig} rig @param {number} joint
 * @param {number} frame */
function shiftOf(performance, rig, joint, frame) {
  const i = indexOf(performance, frame);
  return rig.translations[joint].map(
    (name, axis) => performance.tracks.get(name)?.[i] ?? rig.at[3 * joint + axis],
  );
}

const three = new Float64Array(3);
const four = new Float64Array(4);

/** @param {Performance} performance @param {Rig} rig @param {number} joint @param {number} frame */
function readAngles(performance, rig, joint, frame) {
  const i = indexOf(performance, frame);
  const names = rig.rotations[joint];
  for (let axis = 0; axis < 3; axis++) three[axis] = performance.tracks.get(names[axis])?.[i] ?? 0;
}

/** @param {Performance} performance @param {Rig} rig @param {number} joint @param {number} frame */
function turnOf(performance, rig, joint, frame) {
  readAngles(performance, rig, joint, frame);
  quaternionInto(rig.order[joint], three, 0, four, 0);
  return [four[0], four[1], four[2], four[3]];
}

/** A joint's own turn on a frame. @param {Performance} performance @param {string} joint @param {number} frame
 * @returns {number[]} x, y, z, w */
export function localTurn(performance, joint, frame) {
  const rig = rigOf(performance);
  return turnOf(performance, rig, rig.require(joint), frame);
}

/**
 * Sets a joint's three angles on a frame from its own turn, those that are nearest to the ones beside it, so that a series
 * does not jump.
 * @param {Performance} performance @param {string} joint @param {number} frame @param {readonly number[]} turn x, y, z, w
 * @param {Performance} [near] see `SolveOptions`
 */
export function setTurn(performance, joint, frame, turn, near) {
  const rig = rigOf(performance);
  writeTurn(performance, rig, rig.require(joint), frame, turn, near, false);
}

/** @param {Performance} performance @param {Rig} rig @param {number} joint @param {number} frame
 * @param {readonly number[]} turn @param {Performance | undefined} near @param {boolean} isSolved */
function writeTurn(performance, rig, joint, frame, turn, near, isSolved) {
  readAngles(
    near ?? performance,
    rig,
    joint,
    near === undefined ? Math.max(performance.first, frame - 1) : frame,
  );
  anglesInto(rig.order[joint], turn, three, three);
  const names = rig.rotations[joint];
  for (let axis = 0; axis < 3; axis++) {
    const angle = three[axis];
    let track = performance.tracks.get(names[axis]);
    if (track === undefined) {
      // A hinge has one axis: the others get no track.
      if (Math.abs(angle) < 1e-9) continue;
      track = new Float64Array(framesOf(performance));
      performance.tracks.set(names[axis], track);
    }
    track[frame - performance.first] = angle;
    if (isSolved) performance.solved.add(names[axis]);
  }
}
