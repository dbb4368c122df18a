// @ts-check
/**
 * From a score's channels to the turns of a body's joints, and the two solvers that a body needs: an arm that blends
 * from its own swing to a grip, and a leg over a standing foot.
 *
 * Channels. The body: "com.x", "com.z" place of the centre of mass; "com.y" with "com.y.weight" its height in leaps;
 * "pelvis.h" height of the root over the ground; "pelvis.yaw", ".pitch", ".roll"; "trunk.bend", ".side", ".twist" in all;
 * "look.yaw", ".pitch", ".roll" of the head in the world. Each arm (".l", ".r"): "clavicle.lift", ".fore"; "arm.flex",
 * ".out", ".turn"; "elbow"; "pron"; "wrist.bend", ".side"; "curl". Legs: "knee.out". Degrees and metres.
 */
import {
  add,
  cross,
  dot,
  fromAngles,
  inverse,
  length,
  mix,
  multiply,
  rotate,
  scale,
  subtract,
  turn,
  turnOntoPair,
  unit,
} from "../../../../../demo/motion/vector.mjs";
import { sides } from "../../bodies/two-legs.mjs";

/** @import { Rig } from "../../bodies/two-legs.mjs" @import { Score } from "./score.mjs" */

export const identity = [0, 0, 0, 1];

/** A share of a turn. @param {number[]} q @param {number} share @returns {number[]} */
export function partOf(q, share) {
  const sign = q[3] < 0 ? -1 : 1;
  const sine = Math.hypot(q[0], q[1], q[2]);
  if (sine < 1e-12) return identity;
  const angle = Math.atan2(sine, sign * q[3]) * share;
  return [...scale([q[0], q[1], q[2]], (sign * Math.sin(angle)) / sine), Math.cos(angle)];
}

/** Between two turns, the shorter way. @param {number[]} a @param {number[]} b @param {number} share */
export const between = (a, b, share) => multiply(a, partOf(multiply(inverse(a), b), share));

/** The twist of a turn about y, in degrees. @param {number[]} q */
export const twistOf = (q) => (2 * Math.atan2(q[1] * Math.sign(q[3] || 1), Math.abs(q[3])) * 180) / Math.PI;

/**
 * Own turns of all joints above the legs at a frame. Parts farther out follow some frames later.
 * @param {Rig} rig @param {Score} score @param {number} frame
 * @param {number} lag frames by which one part follows another: one at 24 frames a second for a grown body
 * @returns {Map<string, number[]>}
 */
export function turnsAt(rig, score, frame, lag) {
  const at = (/** @type {string} */ channel, later = 0) => score.at(channel, frame - later * lag);
  /** @type {Map<string, number[]>} */
  const turns = new Map();
  const hips = fromAngles("yxz", [at("pelvis.pitch"), at("pelvis.yaw"), at("pelvis.roll")]);
  turns.set(rig.hips, hips);
  let carrier = hips;
  const count = rig.spine.length;
  rig.spine.forEach((id, n) => {
    const later = 0.35 * (n + 1);
    const twisting = rig.twists ? 1 / count : n === 0 || n === count - 1 ? 1 / Math.min(2, count) : 0;
    const q = fromAngles("yxz", [
      at("trunk.bend", later) / count,
      at("trunk.twist", later) * twisting,
      at("trunk.side", later) / count,
    ]);
    turns.set(id, q);
    carrier = multiply(carrier, q);
  });
  const look = fromAngles("yxz", [at("look.pitch"), at("look.yaw"), at("look.roll")]);
  const off = multiply(inverse(carrier), look);
  const links = [...rig.necks, rig.head];
  links.forEach((id) => {
    turns.set(id, partOf(off, 1 / links.length));
  });

  for (const side of sides) {
    const out = side === "l" ? 1 : -1;
    const part = rig.sides[side];
    const own = (/** @type {string} */ channel, later = 0) => at(`${channel}.${side}`, later);
    turns.set(part.clavicle, fromAngles("yzx", [0, -out * own("clavicle.fore"), out * own("clavicle.lift")]));
    turns.set(
      part.upper,
      fromAngles("xzy", [-own("arm.flex", 0.6), -out * own("arm.turn", 0.6), out * own("arm.out", 0.6)]),
    );
    // A limp wrist stays behind what carries it.
    const rate = (own("arm.flex", 1.5) - own("arm.flex", 2.5) + own("elbow", 2) - own("elbow", 3)) / lag;
    turns.set(part.fore, fromAngles("xyz", [-own("elbow", 1.6), out * own("pron", 2), 0]));
    turns.set(
      part.hand,
      fromAngles("xzy", [1.1 * rate - own("wrist.side", 3), 0, -out * own("wrist.bend", 3)]),
    );
    part.fingers.forEach((chain, finger) => {
      const curl = own("curl", 3.6 + 0.3 * finger) * (finger === 0 ? 0.6 : 1 + 0.07 * finger);
      chain.forEach((id, n) => {
        turns.set(id, fromAngles("zxy", [0, 0, -out * curl * (n === 0 ? 0.8 : 1)]));
      });
    });
  }
  return turns;
}

/** Distance that a limb can show of an asked one: it slows down towards its full length instead of stopping there.
 * @param {number} asked @param {number} full @param {number} from share of the full length @param {number} most */
export function softReach(asked, full, from, most) {
  const start = from * full;
  if (asked <= start) return asked;
  const room = (most - from) * full;
  return start + room * (1 - Math.exp(-(asked - start) / room));
}

/**
 * Two bones that hang down, bent about x, whose plane is given by the axis of the bend.
 * @param {number[]} start @param {number[]} target @param {number[]} hinge world direction of the bend's axis
 * @param {number} upper @param {number} lower @param {1 | -1} way 1: a knee, −1: an elbow
 * @returns {{ upper: number[], angle: number, stretch: number }} world turn of the first bone, degrees, share of the
 *   full length that was asked for
 */
export function bend(start, target, hinge, upper, lower, way) {
  const line = subtract(target, start);
  const asked = length(line);
  const d = Math.min(asked, (upper + lower) * 0.9999);
  const cosine = (d * d - upper * upper - lower * lower) / (2 * upper * lower);
  const angle = way * Math.acos(Math.max(-1, Math.min(1, cosine)));
  const end = [0, -upper - lower * Math.cos(angle), -lower * Math.sin(angle)];
  return {
    upper: turnOntoPair(end, [1, 0, 0], line, hinge),
    angle: (angle * 180) / Math.PI,
    stretch: asked / (upper + lower),
  };
}

/**
 * What a hand is to do: be somewhere in the world, by a weight.
 * @typedef {object} Grip
 * @property {"l" | "r"} side
 * @property {(frame: number) => number} weight eased from 0 to 1 and back
 * @property {(frame: number, body: Place) => { position: number[], orientation: number[] }} at the palm's place and turn
 * @property {number[]} [elbow] where the elbow points, in the chest's space
 *
 * @typedef {object} Place what a grip may lean on
 * @property {number[]} hips smoothed place of the root @property {number} yaw of the pelvis, smoothed
 */

/**
 * An arm's turns when its hand is drawn to grips.
 * @param {Rig} rig @param {"l" | "r"} side @param {Map<string, number[]>} turns changed in place
 * @param {{ position: number[], orientation: number[] }} clavicle world pose
 * @param {{ position: number[], orientation: number[], weight: number, pole: number[] }} wanted palm; pole in the world
 */
export function gripArm(rig, side, turns, clavicle, wanted) {
  const part = rig.sides[side];
  const get = (/** @type {string} */ id) => /** @type {number[]} */ (turns.get(id));
  const joint = rig.body.joints.find(({ id }) => id === part.upper);
  const start = add(clavicle.position, rotate(clavicle.orientation, [...(joint?.at ?? [0, 0, 0])]));
  const upper = multiply(clavicle.orientation, get(part.upper));
  const fore = multiply(upper, get(part.fore));
  const free = add(add(start, rotate(upper, [0, -rig.upperArm, 0])), rotate(fore, [0, -rig.forearm, 0]));
  const w = wanted.weight;
  // The hand's turn first: the wrist lies behind the palm.
  const hand = between(multiply(fore, get(part.hand)), wanted.orientation, w);
  const wrist = subtract(wanted.position, rotate(wanted.orientation, [0, -rig.palm, 0]));
  // An arm that is drawn farther than it reaches slows down before it is straight; its own swing stays as it is.
  const line = subtract(wrist, start);
  const full = rig.upperArm + rig.forearm;
  const drawn = add(start, scale(unit(line), softReach(length(line), full, 0.93, 0.985)));
  const near = mix(free, drawn, w);
  const hinge = mix(
    unit(rotate(upper, [1, 0, 0])),
    unit(cross(scale(wanted.pole, -1), subtract(near, start))),
    w,
  );
  const arm = bend(start, near, hinge, rig.upperArm, rig.forearm, -1);
  turns.set(part.upper, multiply(inverse(clavicle.orientation), arm.upper));
  const elbow = multiply(arm.upper, turn(0, arm.angle));
  const rest = multiply(inverse(elbow), hand);
  const free2 = multiply(get(part.fore), get(part.hand));
  const own = twistOf(multiply(inverse(turn(0, elbowOf(get(part.fore)))), free2));
  const twist = twistOf(rest);
  const share = turn(1, 0.75 * (w >= 1 ? twist : own + (twist - own) * w));
  turns.set(part.fore, multiply(turn(0, arm.angle), share));
  turns.set(part.hand, multiply(inverse(share), rest));
}

/** The bend about x of a forearm's turn Rx · Ry. @param {number[]} q @returns {number} degrees */
const elbowOf = (q) => (2 * Math.atan2(q[0], q[3]) * 180) / Math.PI;

/**
 * A leg's turns over a foot.
 * @param {Rig} rig @param {"l" | "r"} side @param {Map<string, number[]>} turns changed in place
 * @param {number[]} hips place of the root @param {import("./feet.mjs").FootState} foot @param {number} kneeOut degrees
 * @param {boolean} soft the foot is in the air and may stay short of its place
 * @returns {number} share of the leg's length that was asked for
 */
export function placeLeg(rig, side, turns, hips, foot, kneeOut, soft) {
  const part = rig.sides[side];
  const out = side === "l" ? 1 : -1;
  const pelvis = /** @type {number[]} */ (turns.get(rig.hips));
  const start = add(hips, rotate(pelvis, [out * rig.hipHalf, -rig.hipDrop, 0]));
  const full = rig.thigh + rig.shank;
  let target = foot.ankle;
  if (soft) {
    const line = subtract(target, start);
    target = add(start, scale(unit(line), softReach(length(line), full, 0.95, 0.985)));
  }
  const facing = turn(1, foot.yaw + out * kneeOut);
  const forward = unit(rotate(pelvis, [0, 0, 1]));
  const flat = unit([forward[0], 0.15 * forward[1], forward[2]]);
  const pole = add(add(rotate(facing, [0, 0, 1.2]), flat), [0, 0.3, 0]);
  const leg = bend(start, target, cross(pole, subtract(target, start)), rig.thigh, rig.shank, 1);
  turns.set(part.thigh, multiply(inverse(pelvis), leg.upper));
  turns.set(part.shin, turn(0, leg.angle));
  const shin = multiply(leg.upper, turn(0, leg.angle));
  const orientation = multiply(turn(1, foot.yaw), turn(0, foot.pitch));
  turns.set(part.foot, multiply(inverse(shin), orientation));
  if (part.toe !== null) turns.set(part.toe, turn(0, foot.toe));
  return length(subtract(foot.ankle, start)) / full;
}

/** A vector's length along another. @param {number[]} v @param {number[]} axis */
export const along = (v, axis) => dot(v, unit(axis));
