// @ts-check
/**
 * Solving limbs: turning their joints so that the end is where it is to be, whatever the bones' rest directions, the
 * parents' turns and the rotation orders.
 * @import { ChannelName, Limb, Performance } from "../types.d.ts"
 */
import {
  add,
  cross,
  dot,
  inverse,
  length,
  multiply,
  rotate,
  scale,
  subtract,
  toAngles,
  turnOntoPair,
  unit,
} from "../../../../demo/motion/vector.mjs";
import { channelAt, figureOf, trackOf } from "./performance.mjs";
import { quaternionInto, rigOf } from "./rig.mjs";
import { worldAt } from "./world.mjs";

const axes = /** @type {const} */ (["x", "y", "z"]);
/** Bends below this, in radians, do not tell a limb's plane. */
const straight = 0.03;

/** @param {readonly number[]} v @returns {number[]} */
const plain = (v) => /** @type {number[]} */ (v);
/** @param {"translation" | "rotation"} kind @param {number} axis @returns {ChannelName} */
const channel = (kind, axis) => `${kind}.${axes[axis]}`;

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
 */

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
  const top = rig.require(turned[0]);
  const above = rig.parent[top];
  const base = above < 0 ? null : worldAt(performance, rig.ids[above], frame);
  const parentTurn = base?.quaternion ?? [0, 0, 0, 1];
  const shift = axes.map((_, axis) => channelAt(performance, turned[0], channel("translation", axis), frame));
  const start = base === null ? shift : add(base.position, rotate(parentTurn, shift));
  const way = subtract(plain(target), start);

  const chain = bendable(performance, asked, turned, end, frame, options.reference);
  const full = chain.bones.reduce((sum, bone) => sum + length(bone), 0);
  const wanted = Math.min(length(way), full * 0.99999);
  const folded = chain.bones.length === 2 ? foldedTwo(chain, wanted) : foldedMany(chain, wanted);
  const tip = tipOf(chain.bones, folded);

  const { reference } = options;
  const carrier = reference === undefined ? parentTurn : worldAt(reference, turned[0], frame).quaternion;
  const hinge = pole === null ? rotate(carrier, chain.axis) : cross(plain(pole), way);
  const upper = turnOntoPair(tip, chain.axis, length(way) > 1e-9 ? way : tip, hinge);
  let world = upper;
  setTurn(performance, turned[0], frame, multiply(inverse(parentTurn), upper), options.near);
  for (let n = 1; n < turned.length; n++) {
    setTurn(performance, turned[n], frame, folded[n], options.near);
    world = multiply(world, folded[n]);
  }
  if (turn !== null) setTurn(performance, end, frame, multiply(inverse(world), plain(turn)), options.near);
  for (const joint of turn === null ? turned : [...turned, end]) markSolved(performance, joint);
  return { stretch: length(way) / full, miss: Math.abs(length(way) - length(tip)) };
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

/**
 * @typedef {object} Chain
 * @property {number[][]} bones from each joint to the next, in the joint's own space
 * @property {number[][]} turns per joint (the first unused): the reference's local turn
 * @property {number[][]} hinges per joint (the first unused): axis of its bend, in the space of the joint above
 * @property {number[]} bends per joint: radians by which the bone is bent off the one above, in the reference
 * @property {number[]} axis the bend's axis in the space of the first joint
 */

/** @param {Performance} performance @param {Limb} limb @param {readonly string[]} turned @param {string} end
 * @param {number} frame @param {Performance | undefined} reference @returns {Chain} */
function bendable(performance, limb, turned, end, frame, reference) {
  const rig = rigOf(performance);
  const bones = [...turned.slice(1), end].map((joint) => {
    const i = rig.require(joint);
    return [...rig.at.subarray(3 * i, 3 * i + 3)];
  });
  const turns = turned.map((joint) =>
    reference === undefined ? [0, 0, 0, 1] : localTurn(reference, joint, frame),
  );
  const usual = restHinge(limb, bones[0]);
  const hinges = [usual];
  const bends = [0];
  for (let n = 1; n < turned.length; n++) {
    const [from, to] = [unit(bones[n - 1]), unit(rotate(turns[n], bones[n]))];
    const square = cross(from, to);
    const bend = Math.atan2(length(square), dot(from, to));
    // A limb that is nearly straight does not say to which side it bends.
    hinges.push(bend < straight ? across(usual, from) : unit(square));
    bends.push(bend < straight ? dot(square, hinges[n]) : bend);
  }
  if (bends.length > 2 && bends.every((bend) => Math.abs(bend) < straight)) bends.fill(0.5, 1);
  return { bones, turns, hinges, bends, axis: hinges[1] ?? usual };
}

/** The part of an axis that is square to a direction. @param {number[]} axis @param {number[]} direction */
const across = (axis, direction) => unit(subtract(axis, scale(direction, dot(axis, direction))));

/** A joint's own turn on a frame. @param {Performance} performance @param {string} joint @param {number} frame */
export function localTurn(performance, joint, frame) {
  const angles = axes.map((_, axis) => channelAt(performance, joint, channel("rotation", axis), frame));
  const out = new Float64Array(4);
  const rig = rigOf(performance);
  quaternionInto(rig.order[rig.require(joint)], angles, 0, out, 0);
  return [...out];
}

/** @param {number[]} axis unit @param {number} radians */
const about = (axis, radians) => [...scale(axis, Math.sin(radians / 2)), Math.cos(radians / 2)];

/** Two bones: the angle about the axis at which the end is as far as wanted. @param {Chain} chain @param {number} wanted */
function foldedTwo({ bones, turns, hinges, bends }, wanted) {
  const axis = hinges[1];
  const reach = rotate(turns[1], bones[1]);
  const along = scale(axis, dot(axis, reach));
  const across = subtract(reach, along);
  const [b, c] = [dot(bones[0], across), dot(bones[0], cross(axis, across))];
  const asked = (wanted * wanted - dot(bones[0], bones[0]) - dot(reach, reach)) / 2 - dot(bones[0], along);
  const way = bends[1] < 0 ? -1 : 1;
  const cosine = Math.max(-1, Math.min(1, asked / (Math.hypot(b, c) || 1)));
  return [[0, 0, 0, 1], multiply(about(axis, Math.atan2(c, b) + way * Math.acos(cosine)), turns[1])];
}

/** More bones: all bends of the reference times one factor, for which the end is as far as wanted.
 * @param {Chain} chain @param {number} wanted */
function foldedMany({ bones, turns, hinges, bends }, wanted) {
  const at = (/** @type {number} */ factor) =>
    turns.map((turn, n) =>
      n === 0 ? [0, 0, 0, 1] : multiply(about(hinges[n], (factor - 1) * bends[n]), turn),
    );
  const most = (0.95 * Math.PI) / Math.max(...bends.map(Math.abs));
  const excess = (/** @type {number} */ factor) => length(tipOf(bones, at(factor))) - wanted;
  const own = excess(1);
  if (Math.abs(own) < 1e-9) return at(1);
  // From the reference's own bends outwards, both ways: a chain that curls up may fit at several factors.
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

/** Where the end lies in the space of the first joint. @param {number[][]} bones @param {number[][]} turns */
function tipOf(bones, turns) {
  let tip = bones[bones.length - 1];
  for (let n = bones.length - 2; n >= 0; n--) tip = add(bones[n], rotate(turns[n + 1], tip));
  return tip;
}

/**
 * Sets a joint's three angles on a frame from its own turn, those that are nearest to the ones beside it, so that a series
 * does not jump.
 * @param {Performance} performance @param {string} joint @param {number} frame @param {readonly number[]} turn x, y, z, w
 * @param {Performance} [near] see `SolveOptions`
 */
export function setTurn(performance, joint, frame, turn, near) {
  const rig = rigOf(performance);
  const order = rig.order[rig.require(joint)];
  const beside = near === undefined ? Math.max(performance.first, frame - 1) : frame;
  const names = axes.map((_, axis) => channel("rotation", axis));
  const known = names.map((name) => channelAt(near ?? performance, joint, name, beside));
  toAngles(order, plain(turn), known).forEach((angle, axis) => {
    const isDriven = performance.tracks.has(`${joint} ${names[axis]}`);
    if (!isDriven && Math.abs(angle) < 1e-9) return;
    trackOf(performance, joint, names[axis])[frame - performance.first] = angle;
  });
}

/** Names a joint's rotation tracks as solved. @param {Performance} performance @param {string} joint */
function markSolved({ tracks, solved }, joint) {
  for (const axis of axes)
    if (tracks.has(`${joint} rotation.${axis}`)) solved.add(`${joint} rotation.${axis}`);
}
