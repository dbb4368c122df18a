// @ts-check
/**
 * Legs of three or four joints that stand on a point or a paw. The foot's place is given; the leg is solved to meet it.
 *
 * The third bone (hock, hand, metatarsus) leans with the leg as a whole: in legs of three long bones the first and the
 * third stay nearly parallel (pantograph; Fischer & Blickhan 2006, from memory). What is left are two bones and a hinge.
 * @import { Body, Limb } from "../../../types.d.ts"
 */
import {
  add,
  cross,
  dot,
  length,
  mix,
  multiply,
  rotate,
  scale,
  subtract,
  turn,
  turnOntoPair,
  unit,
} from "../../../../../../demo/motion/vector.mjs";

/**
 * Where an end stands and how it is turned: place on the ground below the flat foot's joint, heading, pitch (above 0: on
 * its toe), `fold` 0 to 1: how far the third bone is folded for a swing, `lean`: the share to which it leans by a given
 * pitch instead (degrees, -80: flat on the ground), `splay`: how far the knee points out and up, 0 to 1, and `free`: the
 * share to which the joints have given angles instead of meeting the place.
 * @typedef {object} Foot
 * @property {number[]} place @property {number} yaw @property {number} pitch @property {number} fold
 * @property {boolean} planted
 * @property {{ share: number, pitch: number }} [lean] @property {number} [splay]
 * @property {{ share: number, angles: number[][] }} [free]
 * @typedef {object} LegStyle
 * @property {number[]} pole where the hinge points, in the space of the girdle's heading
 * @property {number} [follow] how much the third bone leans with the leg (1: as much)
 * @property {boolean} [radial] the leg sticks out to the side: the third bone turns with it about the vertical
 * @property {number} [flex] degrees that it leans by if the leg is shortened to nothing
 * @property {number} [fold] degrees that it folds by in the middle of a swing
 */

/** What of a leg does not change. @param {Body} body @param {Limb} limb */
export function legOf(body, limb) {
  const at = (/** @type {string} */ id) => {
    const joint = body.joints.find((one) => one.id === id);
    if (joint === undefined) throw new Error(`The body has no joint "${id}".`);
    return joint.at;
  };
  const { joints, sole } = limb;
  if (sole === undefined) throw new Error("A leg needs a sole to stand on.");
  const bones = joints.slice(1).map(at);
  const whole = bones.reduce((/** @type {number[]} */ sum, bone) => add(sum, bone), [0, 0, 0]);
  const hinge = unit(cross(bones[0], bones[1]));
  return {
    joints,
    bones,
    sole,
    whole,
    rest: length(whole),
    side: at(joints[0])[0],
    restAngle: Math.atan2(-whole[2], -whole[1]),
    hinge,
  };
}

/** @typedef {ReturnType<typeof legOf>} Leg */

/**
 * Places the foot and solves the leg.
 * @param {import("./pose.mjs").Pose} pose the trunk's turns are set
 * @param {Leg} leg @param {Foot} foot @param {LegStyle} style @param {number} heading degrees, of the girdle
 * @returns {number} how far the two bones are stretched; above 1 the foot is out of reach
 */
export function standLeg(pose, leg, foot, style, heading) {
  const { free } = foot;
  if (free !== undefined && free.share >= 1) {
    leg.joints.forEach((joint, n) => {
      pose.turn(joint, free.angles[n]);
    });
    return 0;
  }
  const stretch = meet(pose, leg, foot, style, heading);
  if (free === undefined || free.share <= 0) return stretch;
  leg.joints.forEach((joint, n) => {
    pose.lean(joint, free.angles[n], free.share);
  });
  return 0;
}

/** @param {import("./pose.mjs").Pose} pose @param {Leg} leg @param {Foot} foot @param {LegStyle} style
 * @param {number} heading */
function meet(pose, leg, foot, style, heading) {
  const { joints, bones, sole } = leg;
  const end = joints[joints.length - 1];
  const facing = turn(1, foot.yaw);
  const pivot = foot.pitch > 0 ? sole.toe : sole.heel;
  const orientation = multiply(facing, turn(0, foot.pitch));
  const flat = add(foot.place, [0, -sole.toe[1], 0]);
  const target = subtract(add(flat, rotate(facing, pivot)), rotate(orientation, pivot));
  const start = pose.of(joints[0]).position;
  const frame = turn(1, heading);
  let ankle = target;
  let third = null;
  if (bones.length === 3) {
    const back = turn(1, -heading);
    const way = rotate(back, subtract(target, start));
    const angle = ((Math.atan2(-way[2], -way[1]) - leg.restAngle) * 180) / Math.PI;
    const own =
      (style.follow ?? 1) * angle +
      (style.flex ?? 0) * (1 - length(way) / leg.rest) +
      (style.fold ?? 0) * foot.fold;
    const { lean = { share: 0, pitch: 0 } } = foot;
    // A leg that sticks out to the side turns about the vertical instead.
    const round = ((Math.atan2(way[0], way[2]) - Math.atan2(leg.whole[0], leg.whole[2])) * 180) / Math.PI;
    third = multiply(
      frame,
      style.radial ? turn(1, nearTurn(round)) : turn(0, own + (lean.pitch - own) * lean.share),
    );
    ankle = subtract(target, rotate(third, bones[2]));
  }
  const out = [Math.sign(leg.side) * 0.8, 0.35, 0.5];
  const pole = foot.splay === undefined ? style.pole : mix(style.pole, out, foot.splay);
  const stretch = solveTwo(pose, leg, ankle, rotate(frame, pole));
  if (third !== null) pose.face(joints[2], third);
  pose.face(end, orientation);
  return stretch;
}

/** The same turn, within half a turn of none. @param {number} degrees */
const nearTurn = (degrees) => degrees - 360 * Math.round(degrees / 360);

/**
 * Turns the first two joints so that the third one is at a place.
 * @param {import("./pose.mjs").Pose} pose @param {Leg} leg @param {number[]} target @param {number[]} pole world direction
 */
function solveTwo(pose, { joints, bones, hinge }, target, pole) {
  const start = pose.of(joints[0]).position;
  const [upper, lower] = [length(bones[0]), length(bones[1])];
  const toward = subtract(target, start);
  const stretch = length(toward) / (upper + lower);
  const d = Math.max(Math.abs(upper - lower) * 1.001, Math.min(length(toward), (upper + lower) * 0.99999));
  const way = unit(toward);
  const side = unit(subtract(pole, scale(way, dot(pole, way))));
  const cosine = (upper * upper + d * d - lower * lower) / (2 * upper * d);
  const sine = Math.sqrt(Math.max(0, 1 - cosine * cosine));
  const first = add(scale(way, cosine), scale(side, sine));
  const knee = add(start, scale(first, upper));
  const second = unit(subtract(add(start, scale(way, d)), knee));
  const axis = cross(side, way);
  pose.face(joints[0], turnOntoPair(bones[0], hinge, first, axis));
  pose.face(joints[1], turnOntoPair(bones[1], hinge, second, axis));
  return stretch;
}

/**
 * A stay of a foot on the ground.
 * @typedef {object} Plant
 * @property {number} from frame at which it is down @property {number} to last frame at which it stands
 * @property {number[]} at point on the ground below the joint of the flat foot @property {number} yaw heading, degrees
 * @property {number} [push] pitch at leaving, onto the toe; 0 for feet that leave flat
 * @property {number} [roll] frames before leaving at which the heel begins to rise
 * @property {number} [lift] metres that the foot is carried high on the way to the next plant
 * @property {number} [curl] pitch added in the middle of the way to the next plant
 */

/**
 * Course of a swing from 0 to 1: leaves sooner than minimum jerk does, arrives at rest. Fifth order, of which the start's
 * acceleration is given (6 mean speeds per duration): the trunk goes on while the foot leaves.
 * @param {number} tau
 */
function swinging(tau) {
  const t = Math.max(0, Math.min(1, tau));
  const a = 6;
  return t * t * (a / 2 + t * (10 - 1.5 * a + t * (-15 + 1.5 * a + t * (6 - 0.5 * a))));
}

/** A smooth hump from 0 to 1 to 0. @param {number} tau */
const hump = (tau) => (tau <= 0 || tau >= 1 ? 0 : 16 * (tau * (1 - tau)) ** 2);

/** @param {number} tau */
const soft = (tau) => {
  const t = Math.max(0, Math.min(1, tau));
  return t * t * t * (10 + t * (6 * t - 15));
};

/**
 * The course of one foot over a shot.
 * @param {readonly Plant[]} plants in order of time; the foot stands on the first before, and on the last behind
 * @param {((frame: number) => { place: number[], yaw: number, pitch?: number, fold?: number } | undefined)} [carried] place
 *   of a foot in a long flight, instead of the swing
 * @returns {(frame: number) => Foot}
 */
export function footCourse(plants, carried) {
  return (frame) => {
    let i = plants.length - 1;
    while (i > 0 && frame < plants[i].from) i--;
    const plant = plants[i];
    const next = plants[i + 1];
    const push = plant.push ?? 0;
    if (next === undefined || frame <= plant.to) {
      const roll = plant.roll ?? 0;
      const pitch =
        next === undefined || push === 0 || roll === 0
          ? 0
          : push * soft((frame - plant.to + roll) / (2 * roll)) * 2;
      const fold = next === undefined ? 0 : folding(frame, plant, next);
      return { place: plant.at, yaw: plant.yaw, pitch, fold, planted: true };
    }
    const own = carried?.(frame);
    if (own !== undefined) return { pitch: 0, fold: 0, ...own, planted: false };
    const tau = (frame - plant.to) / (next.from - plant.to);
    const along = swinging(tau);
    const rolled = push === 0 || !plant.roll ? 0 : pitchBehind(frame, plant, next);
    const place = [0, 1, 2].map((axis) => plant.at[axis] + (next.at[axis] - plant.at[axis]) * along);
    place[1] += (plant.lift ?? 0) * hump(tau);
    return {
      place,
      yaw: plant.yaw + (next.yaw - plant.yaw) * along,
      pitch: rolled + (plant.curl ?? 0) * hump(tau ** 0.9),
      fold: folding(frame, plant, next),
      planted: false,
    };
  };
}

/** From here on in a swing a leg that folded unfolds for its landing: share of the swing. */
const mostFolded = 0.42;
/** By this share of its roll a leg begins to fold before its foot leaves. */
const foldsEarly = 0.6;

/**
 * How far a leg is folded for a swing, 0 to 1. It begins behind the rise of the heel, while the toe still stands: a wrist
 * or hock that broke only once the foot is free would do so within one frame. A foot that leaves flat folds from there on.
 * @param {number} frame @param {Plant} plant @param {Plant} next
 */
function folding(frame, plant, next) {
  const begins = plant.to - foldsEarly * (plant.push ? (plant.roll ?? 0) : 0);
  const top = plant.to + mostFolded * (next.from - plant.to);
  return frame <= top ? soft((frame - begins) / (top - begins)) : 1 - soft((frame - top) / (next.from - top));
}

/** The roll goes on behind the last frame of standing, and is taken back over the swing.
 * @param {number} frame @param {Plant} plant @param {Plant} next */
function pitchBehind(frame, plant, next) {
  const roll = plant.roll ?? 0;
  const top = 2 * (plant.push ?? 0);
  const up = top * soft((frame - plant.to + roll) / (2 * roll));
  return up * (1 - soft((frame - plant.to) / (0.8 * (next.from - plant.to))));
}
