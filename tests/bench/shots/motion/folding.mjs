// @ts-check
/**
 * How a limb bends between its first joint and its end, whichever way it is turned as a whole.
 * @import { Limb } from "../types.d.ts"
 * @import { Rig } from "./rig.mjs"
 */
import {
  add,
  cross,
  dot,
  length,
  multiply,
  rotate,
  scale,
  subtract,
  unit,
} from "../../../../demo/motion/vector.mjs";

/** Bends below this, in radians, do not tell a limb's plane. */
const straight = 0.03;
const noTurn = [0, 0, 0, 1];

/**
 * @typedef {object} Bend
 * @property {number[][]} bones from each joint to the next, in the joint's own space
 * @property {number} length of the straight limb
 * @property {number[][]} turns per joint (the first unused): its own turn in the pose that the bend is taken from
 * @property {number[][]} hinges per joint (the first unused): axis of its bend, in the space of the joint above
 * @property {number[]} angles per joint: radians by which its bone is bent off the one above
 * @property {number[]} axis the bend's axis in the space of the first joint
 * @property {boolean} isPosed whether it is taken from another pose than the rest pose
 */

/** Bends of the rest pose, which stay the same. @type {WeakMap<Rig, Map<number, Bend>>} */
const resting = new WeakMap();

/**
 * How a limb is bent in a pose.
 * @param {Limb} limb @param {Rig} rig
 * @param {readonly number[]} joints indices of the joints that turn, then of the end
 * @param {readonly number[][] | null} turns own turns of the joints that turn; null for the rest pose
 * @returns {Bend}
 */
export function bendOf(limb, rig, joints, turns) {
  if (turns !== null) return { ...bentAs(limb, rig, joints, turns), isPosed: true };
  let known = resting.get(rig);
  if (known === undefined) {
    known = new Map();
    resting.set(rig, known);
  }
  // The end tells limbs apart that share their first joint.
  const key = joints[joints.length - 1];
  let bend = known.get(key);
  if (bend === undefined) {
    bend = bentAs(
      limb,
      rig,
      joints,
      joints.slice(1).map(() => noTurn),
    );
    known.set(key, bend);
  }
  return bend;
}

/** @param {Limb} limb @param {Rig} rig @param {readonly number[]} joints @param {readonly number[][]} turns @returns {Bend} */
function bentAs(limb, rig, joints, turns) {
  const bones = joints
    .slice(1)
    .map((joint) => [rig.at[3 * joint], rig.at[3 * joint + 1], rig.at[3 * joint + 2]]);
  const usual = restHinge(limb, bones[0]);
  const hinges = [usual];
  const angles = [0];
  for (let n = 1; n < bones.length; n++) {
    const [from, to] = [unit(bones[n - 1]), unit(rotate(turns[n], bones[n]))];
    const square = cross(from, to);
    const bend = Math.atan2(length(square), dot(from, to));
    // A limb that is nearly straight does not say to which side it bends.
    const isTold = bend >= straight;
    hinges.push(isTold ? unit(square) : unit(subtract(usual, scale(from, dot(usual, from)))));
    angles.push(isTold ? bend : dot(square, hinges[n]));
  }
  if (angles.length > 2 && angles.every((angle) => Math.abs(angle) < straight)) angles.fill(0.5, 1);
  const whole = bones.reduce((sum, bone) => sum + length(bone), 0);
  return {
    bones,
    length: whole,
    turns: [...turns],
    hinges,
    angles,
    axis: hinges[1] ?? usual,
    isPosed: false,
  };
}

/**
 * Axis about which a limb that is straight at rest bends: its middle goes forward in a leg, back in an arm, up (or forward,
 * where it hangs) in others.
 * @param {Limb} limb @param {number[]} bone the first one, at rest
 */
function restHinge({ kind }, bone) {
  const way = kind === "leg" ? [0, 0, 1] : kind === "arm" ? [0, 0, -1] : [0, 1, 0];
  for (const pole of [way, [0, 0, 1], [0, 1, 0]]) {
    const axis = cross(pole, bone);
    if (length(axis) > 0.3 * length(bone)) return unit(axis);
  }
  return [1, 0, 0];
}

/** @param {number[]} axis unit @param {number} radians */
const about = (axis, radians) => [...scale(axis, Math.sin(radians / 2)), Math.cos(radians / 2)];

/** Where the end lies in the space of the first joint. @param {number[][]} bones @param {number[][]} turns own turns */
export function tipOf(bones, turns) {
  let tip = bones[bones.length - 1];
  for (let n = bones.length - 2; n >= 0; n--) tip = add(bones[n], rotate(turns[n + 1], tip));
  return tip;
}

/**
 * Own turns of the joints (the first unused) for which the end is as far from the first joint as wanted.
 * @param {Bend} bend @param {number} wanted metres
 * @returns {number[][]}
 */
export function foldedTo(bend, wanted) {
  if (bend.bones.length === 1) return [noTurn];
  if (bend.bones.length === 2) return foldedTwo(bend, wanted);
  return (bend.isPosed ? foldedNear(bend, wanted) : null) ?? foldedMany(bend, wanted);
}

/** Two bones: the angle about the hinge, by the law of cosines. @param {Bend} bend @param {number} wanted */
function foldedTwo({ bones, turns, hinges, angles }, wanted) {
  const axis = hinges[1];
  const reach = rotate(turns[1], bones[1]);
  const along = scale(axis, dot(axis, reach));
  const across = subtract(reach, along);
  const [b, c] = [dot(bones[0], across), dot(bones[0], cross(axis, across))];
  const asked = (wanted * wanted - dot(bones[0], bones[0]) - dot(reach, reach)) / 2 - dot(bones[0], along);
  const way = angles[1] < 0 ? -1 : 1;
  const cosine = Math.max(-1, Math.min(1, asked / (Math.hypot(b, c) || 1)));
  return [noTurn, multiply(about(axis, Math.atan2(c, b) + way * Math.acos(cosine)), turns[1])];
}

/**
 * More bones, near the pose that the bend is taken from: every bend changes a little, by how much it changes the length
 * (Newton's method along the gradient), so that a chain in waves stays in its waves. Null where that does not come near.
 * @param {Bend} bend @param {number} wanted
 */
function foldedNear({ bones, turns, hinges }, wanted) {
  const by = new Float64Array(bones.length);
  const at = () => turns.map((turn, n) => (n === 0 ? noTurn : multiply(about(hinges[n], by[n]), turn)));
  const excess = () => length(tipOf(bones, at())) - wanted;
  const gradient = new Float64Array(bones.length);
  for (let round = 0; round < 12; round++) {
    const off = excess();
    if (Math.abs(off) < 1e-11) return at();
    let steepness = 0;
    for (let n = 1; n < by.length; n++) {
      by[n] += 1e-5;
      gradient[n] = (excess() - off) / 1e-5;
      by[n] -= 1e-5;
      steepness += gradient[n] * gradient[n];
    }
    for (let n = 1; n < by.length; n++) {
      by[n] -= (off * gradient[n]) / (steepness + 1e-9);
      if (!(Math.abs(by[n]) < 0.5)) return null;
    }
  }
  return Math.abs(excess()) < 1e-9 ? at() : null;
}

/** More bones: all bends times one factor. @param {Bend} bend @param {number} wanted */
function foldedMany({ bones, turns, hinges, angles }, wanted) {
  const at = (/** @type {number} */ factor) =>
    turns.map((turn, n) => (n === 0 ? noTurn : multiply(about(hinges[n], (factor - 1) * angles[n]), turn)));
  const excess = (/** @type {number} */ factor) => length(tipOf(bones, at(factor))) - wanted;
  const own = excess(1);
  if (Math.abs(own) < 1e-10) return at(1);
  const most = (0.95 * Math.PI) / Math.max(...angles.map(Math.abs));
  const close = secant(excess, own);
  if (close !== null && close > 0 && close < most) return at(close);
  // Outwards from the pose's own bends, both ways: a chain that curls up may fit at several factors.
  const step = Math.max(most - 1, 1) / 24;
  let [near, far] = [1, own > 0 ? most : 0];
  for (let n = 1; n <= 24; n++) {
    const [more, less] = [1 + n * step, Math.max(0, 1 - n / 12)];
    if (more <= most && excess(more) > 0 !== own > 0) {
      [near, far] = [more - step, more];
      break;
    }
    if (n <= 12 && excess(less) > 0 !== own > 0) {
      [near, far] = [less + 1 / 12, less];
      break;
    }
  }
  for (let n = 0; n < 44 && Math.abs(far - near) > 1e-12; n++) {
    const middle = (near + far) / 2;
    if (excess(middle) > 0 === own > 0) near = middle;
    else far = middle;
  }
  return at(far);
}

/** A root of a function close to 1, by secants that stay within a tenth of it; null if there is none.
 * @param {(x: number) => number} of @param {number} own its value at 1 */
function secant(of, own) {
  let [a, b] = [1, 1.01];
  let [fa, fb] = [own, of(b)];
  for (let n = 0; n < 8; n++) {
    if (Math.abs(fb) < 1e-11) return b;
    const next = b - (fb * (b - a)) / (fb - fa);
    if (!(Math.abs(next - 1) < 0.1)) return null;
    [a, fa, b] = [b, fb, next];
    fb = of(b);
  }
  return Math.abs(fb) < 1e-9 ? b : null;
}
