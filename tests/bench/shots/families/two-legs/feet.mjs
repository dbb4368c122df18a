// @ts-check
/** Feet: how they stand, roll off, swing and come down, in world places at any frame. */
import { minimumJerk } from "../../../../../demo/motion/moves.mjs";
import { add, multiply, rotate, scale, subtract, turn } from "../../../../../demo/motion/vector.mjs";
import { quintic } from "./score.mjs";

/** @import { Rig } from "../../bodies/two-legs.mjs" */

/**
 * @typedef {object} Plant
 * @property {number} from first frame on the ground @property {number} to last frame on the ground
 * @property {number[]} at point on the ground below the ankle of the flat foot @property {number} yaw degrees
 * @property {number} strike pitch at landing: below 0 on the heel, above 0 on the ball
 * @property {number} flat frame at which the whole foot is down
 * @property {number} heelOff frame at which the heel begins to rise @property {number} push pitch at leaving
 * @property {number} lift how high the ankle is carried on the way here
 * @property {number} drop speed, metres per frame, at which the foot comes down
 * @property {(frame: number) => number} [air] on the way here the body flies: how high its mass is over take-off
 * @property {number} carry share of the swing's mean speed over the ground that is left at landing
 */

/**
 * @typedef {{ ankle: number[], yaw: number, pitch: number, toe: number, planted: boolean }} FootState
 * pitch in degrees, above 0 heel up; toe: angle of the toe joint about x
 */

/** The foot while it stands. @param {Rig} rig @param {Plant} plant @param {number} frame @returns {FootState} */
function standing(rig, plant, frame) {
  const down = plant.strike * (1 - minimumJerk((frame - plant.from) / Math.max(1, plant.flat - plant.from)));
  const s = Math.max(0, (frame - plant.heelOff) / Math.max(1, plant.to - plant.heelOff));
  // The heel leaves slowly and is quickest as the toes leave.
  const up = plant.push === 0 ? 0 : plant.push * s ** 2.7;
  const pitch = down + up;
  const pivot = pitch > 0 ? rig.ball : rig.heel;
  const facing = turn(1, plant.yaw);
  const at = add(add(plant.at, [0, rig.ankle, 0]), rotate(facing, pivot));
  const ankle = subtract(at, rotate(multiply(facing, turn(0, pitch)), pivot));
  return { ankle, yaw: plant.yaw, pitch, toe: -Math.max(0, pitch), planted: true };
}

/**
 * The foot on its way between two plants: it goes on as it left and arrives as the next plant says.
 * @param {Rig} rig @param {Plant} a @param {Plant} b @returns {(frame: number) => FootState}
 */
function swinging(rig, a, b) {
  const h = 0.05;
  const left = standing(rig, a, a.to);
  const before = standing(rig, a, a.to - h);
  const landing = standing(rig, b, b.from);
  const speed = scale(subtract(left.ankle, before.ankle), 1 / h);
  const span = b.from - a.to;
  const mean = scale(subtract(landing.ankle, left.ankle), b.carry / span);
  const rate = (left.pitch - before.pitch) / h;
  const axes = [0, 1, 2].map((axis) =>
    quintic(
      a.to,
      b.from,
      [left.ankle[axis], speed[axis]],
      [landing.ankle[axis], axis === 1 ? -b.drop : mean[axis]],
    ),
  );
  const turning = Math.min(rate, (60 + left.pitch) / span);
  const pitch = quintic(a.to, b.from, [left.pitch, turning], [landing.pitch, 0]);
  const yaw = quintic(a.to, b.from, [a.yaw, 0], [b.yaw, 0]);
  // The toes stay level as they leave, then go with the foot.
  const toe = quintic(a.to, a.to + 0.75 * span, [left.toe, -turning], [landing.toe, 0]);
  const { air } = b;
  if (air !== undefined) {
    // In a leap the feet go with the body; the legs finish stretching as they leave.
    const [y0, rest] = [left.ankle[1], landing.ankle[1] - left.ankle[1] - air(b.from)];
    const settle = quintic(a.to, b.from, [0, 0], [1, 0]);
    const free = quintic(a.to, a.to + 0.3 * span, [0.35, 0], [1, 0]);
    axes[1] = (frame) => y0 + air(frame) * free(frame) + rest * settle(frame);
    const ahead = (/** @type {number} */ axis) => (landing.ankle[axis] - left.ankle[axis]) / span;
    for (const axis of [0, 2]) {
      const ends = /** @type {const} */ ([left.ankle[axis], landing.ankle[axis]]);
      axes[axis] = quintic(a.to, b.from, [ends[0], 0.6 * ahead(axis)], [ends[1], ahead(axis)]);
    }
  }
  return clearance(rig, a, b, (frame) => ({
    ankle: axes.map((course) => course(frame)),
    yaw: yaw(frame),
    pitch: pitch(frame),
    toe: toe(frame),
    planted: false,
  }));
}

/**
 * Lifts a swing so high that nothing of the sole comes under the ground, or over an edge on the way.
 * @param {Rig} rig @param {Plant} a @param {Plant} b @param {(frame: number) => FootState} course
 */
function clearance(rig, a, b, course) {
  const span = b.from - a.to;
  const bump = (/** @type {number} */ frame) => {
    const u = Math.max(0, Math.min(1, (frame - a.to) / span)) ** 0.85;
    return 64 * (u * (1 - u)) ** 3;
  };
  let lift = b.lift;
  for (let n = 1; n < 24 && b.air === undefined; n++) {
    const share = n / 24;
    const frame = a.to + share * span;
    const state = course(frame);
    // Between two heights the foot has to stay over the line from one to the other.
    const ground = Math.max(Math.min(a.at[1], b.at[1]), a.at[1] + (b.at[1] - a.at[1]) * share);
    const low = lowest(rig, state) - (a.at[1] === b.at[1] ? ground : Math.min(a.at[1], b.at[1]));
    const wanted = 0.009 * rig.body.stature;
    const size = bump(frame);
    // Close to the ground the path itself goes up and down; a bump can do little there.
    if (size > 0.3) lift = Math.max(lift, (wanted - low) / size);
  }
  const capped = Math.min(lift, 0.2 * rig.body.stature + b.lift);
  return (/** @type {number} */ frame) => {
    const state = course(frame);
    state.ankle = add(state.ankle, [0, capped * bump(frame), 0]);
    return state;
  };
}

/** Height of the lowest point of the sole. @param {Rig} rig @param {FootState} state */
export function lowest(rig, { ankle, yaw, pitch, toe }) {
  const q = multiply(turn(1, yaw), turn(0, pitch));
  const heel = ankle[1] + rotate(q, rig.heel)[1];
  const sole = ankle[1] + rotate(q, [0, -rig.ankle, rig.ball[2]])[1];
  const tip = subtract(rig.toeTip, rig.ball);
  const joint = add(ankle, rotate(q, rig.ball));
  const toes = add(joint, rotate(multiply(q, turn(0, rig.sides.l.toe === null ? 0 : toe)), tip))[1];
  return Math.min(heel, toe === 0 ? sole : Number.POSITIVE_INFINITY, toes);
}

/**
 * A foot's whole course. Further plants may be added to the list later.
 * @param {Rig} rig @param {Plant[]} plants in order of time
 * @returns {(frame: number) => FootState}
 */
export function footCourse(rig, plants) {
  /** @type {Map<Plant, (frame: number) => FootState>} */
  const swings = new Map();
  return (frame) => {
    let n = plants.length - 1;
    while (n > 0 && frame < plants[n].from) n--;
    const [plant, next] = [plants[n], plants[n + 1]];
    if (next === undefined || frame <= plant.to) return standing(rig, plant, frame);
    let swing = swings.get(plant);
    if (swing === undefined) {
      swing = swinging(rig, plant, next);
      swings.set(plant, swing);
    }
    return swing(frame);
  };
}
