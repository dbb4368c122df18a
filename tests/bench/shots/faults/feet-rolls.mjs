// @ts-check
/**
 * Feet that do not roll off as they should.
 * @import { FaultKind, KeyedShot, Performance, Place, Poses, Vector } from "../types.d.ts"
 */
import { add, inverse, multiply, rotate, scale, subtract, unit } from "../../../../demo/motion/vector.mjs";
import { copy, resolve, worldAt } from "../motion/index.mjs";
import { fitting } from "./tools/fitting.mjs";
import {
  bodyOf,
  endOf,
  eventsOf,
  isBlocked,
  jointOf,
  lengthOf,
  limbAt,
  swingBeside,
} from "./tools/limbs.mjs";
import { at24, calm, over, within } from "./tools/windows.mjs";

/** @typedef {Place & { limb: number, flat: number, end: number }} RollPlace `flat`: a frame on which the sole lies down; `end`:
 * where the foot is back on its way */

const degrees = 180 / Math.PI;

/** By how many degrees a foot points down. @param {readonly number[]} quaternion */
const pitchOf = (quaternion) =>
  -Math.asin(Math.max(-1, Math.min(1, rotate([...quaternion], [0, 0, 1])[1]))) * degrees;

/** By how many degrees a foot has turned aside, about the upright or about its own length, since it lay flat: the part
 * of the turn that is not about the foot's cross axis. @param {readonly number[]} flat @param {readonly number[]} now */
function asideOf(flat, now) {
  const rest = asideTurn(flat, now);
  return 2 * Math.acos(Math.min(1, Math.abs(rest[3]))) * degrees;
}

/** That part as a turn in the space of the flat foot: now = flat · aside · pitch. @param {readonly number[]} flat
 * @param {readonly number[]} now */
function asideTurn(flat, now) {
  const turned = multiply(inverse([...flat]), [...now]);
  const size = Math.hypot(turned[0], turned[3]) || 1;
  return multiply(turned, [-turned[0] / size, 0, 0, turned[3] / size]);
}

/**
 * Plants that end in a roll over the toes.
 * @param {KeyedShot} clean @param {number} least degrees of pitch
 */
function rollsIn({ performance }, least) {
  const found = [];
  for (const plant of eventsOf(performance, "plant")) {
    const limb = bodyOf(performance, plant.figure).limbs[plant.limb];
    if (!plant.rolls || limb.sole === undefined || plant.to - plant.from < at24(performance, 8)) continue;
    const after = swingBeside(performance, plant, "after");
    if (after === undefined) continue;
    const foot = endOf(limb);
    const tipped = (/** @type {number} */ frame) => pitchOf(worldAt(performance, foot, frame).quaternion);
    const span = plant.to - plant.from;
    // The frame in the middle of the stance on which the foot lies flattest.
    const middle = over(plant.from + 0.25 * span, plant.from + 0.7 * span, (frame) => frame);
    const flat = middle.reduce((best, frame) =>
      Math.abs(tipped(frame)) < Math.abs(tipped(best)) ? frame : best,
    );
    const roll = Math.max(...over(flat, plant.to, tipped)) - tipped(flat);
    if (Math.abs(tipped(flat)) > 8 || roll < least) continue;
    const end = Math.round(plant.to + 0.8 * (after.to - after.from));
    found.push({
      figure: plant.figure,
      joint: foot,
      also: limb.joints,
      from: flat,
      to: plant.to,
      limb: plant.limb,
      freed: [plant.limb],
      flat,
      end,
    });
  }
  return found;
}

/**
 * Turns a foot anew while its ball keeps to its place.
 * @param {Performance} performance changed in place @param {RollPlace} place
 * @param {(frame: number, usual: readonly number[]) => readonly number[]} turned
 */
function rollAnew(performance, { figure, limb: n, flat, end }, turned) {
  const limb = bodyOf(performance, figure).limbs[n];
  const foot = endOf(limb);
  const before = copy(performance);
  const toes = limb.joints[limb.joints.indexOf(foot) + 1];
  const ball = toes === undefined ? (limb.sole?.toe ?? [0, 0, 0]) : jointOf(performance, toes).at;
  const length = lengthOf(limb, performance);
  resolve(performance, before, figure, n, flat, Math.min(end, performance.last), (frame) => {
    const usual = worldAt(before, foot, frame);
    const quaternion = turned(frame, usual.quaternion);
    const pivot = add([...usual.position], rotate([...usual.quaternion], ball));
    const ankle = subtract(pivot, rotate([...quaternion], ball));
    // A leg that is too short for it takes the foot off the ground as it lies; softly, so that the knee does not snap.
    const hip = [...worldAt(before, limb.joints[0], frame).position];
    const way = subtract(ankle, hip);
    const reach = Math.hypot(...way);
    const free = Math.max(Math.hypot(...subtract([...usual.position], hip)), 0.94 * length);
    const room = 0.999 * length - free;
    const kept =
      reach <= free || room <= 0
        ? Math.min(reach, free)
        : free + room * (1 - Math.exp((free - reach) / room));
    const position = add(hip, scale(unit(way), kept));
    return { position: /** @type {Vector} */ (position), quaternion };
  });
}

/** @param {RollPlace} place @param {number} frame */
const opened = ({ flat, to, end }, frame) => within(frame, flat, flat + 0.35 * (to - flat), to, end);

/** @type {FaultKind} */
export const flatFoot = {
  name: "flat foot",
  checks: ["flat-foot"],
  unit: "share of the heel's rise that is missing",
  sizes: [
    {
      value: 0.5,
      reason:
        "Half of the 50 to 60° by which a walking foot tips before its toes leave (common values of gait): the roll is stiff.",
    },
    { value: 0.7, reason: "The heel comes up by a few centimetres only, while the leg leans far ahead." },
    { value: 0.95, reason: "The sole comes off as one plate." },
  ],
  layer: "motion",
  places: (clean, random) =>
    isBlocked(clean) ? [] : fitting(clean.performance, random.shuffled(rollsIn(clean, 14)), flatFoot, random),
  perform(performance, place, size) {
    const roll = /** @type {RollPlace} */ (place);
    const limb = bodyOf(performance, roll.figure).limbs[roll.limb];
    const foot = endOf(limb);
    const lying = pitchOf(worldAt(performance, foot, roll.flat).quaternion);
    // What is left of the roll stays below the planned share of its greatest pitch.
    const share = (/** @type {number} */ frame) => size * opened(roll, frame);
    rollAnew(performance, roll, (frame, usual) => {
      const by = (lying - pitchOf(usual)) * share(frame);
      const half = by / degrees / 2;
      return multiply([...usual], [Math.sin(half), 0, 0, Math.cos(half)]);
    });
    // Toes bend for the roll; without it they lie straight.
    calm(performance, limb.joints.slice(limb.joints.indexOf(foot) + 1), roll.flat, share);
  },
  measure(poses, place, twin) {
    const { limb } = limbAt(poses, place);
    const { flat, to } = /** @type {RollPlace} */ (place);
    const foot = endOf(limb);
    const lying = pitchOf(twin.orientation(foot, flat));
    const roll = (/** @type {Poses} */ shot) =>
      Math.max(0, ...over(flat, to, (frame) => pitchOf(shot.orientation(foot, frame)) - lying));
    return Math.max(0, 1 - roll(poses) / (roll(twin) || 1));
  },
};

/** @type {FaultKind} */
export const oneAxisRoll = {
  name: "one-axis roll",
  checks: ["one-axis-roll"],
  unit: "share of the foot's turn to the side that is missing from its roll",
  sizes: [
    {
      value: 0.6,
      reason:
        "In a wide stance the foot rolls over the inner edge of its ball; less than half of that reads as a hinge.",
    },
    { value: 0.8, reason: "Hardly any turn is left: the knee goes inward and the foot does not follow." },
    { value: 1, reason: "A hinge across the foot, as in a walk straight ahead." },
  ],
  layer: "motion",
  places(clean, random) {
    if (isBlocked(clean)) return [];
    const { performance } = clean;
    const rolls = rollsIn(clean, 10).filter(({ joint, from, to }) => {
      const flat = worldAt(performance, joint, from).quaternion;
      return (
        Math.max(...over(from, to, (frame) => asideOf(flat, worldAt(performance, joint, frame).quaternion))) >
        6
      );
    });
    return fitting(performance, random.shuffled(rolls), oneAxisRoll, random);
  },
  perform(performance, place, size) {
    const roll = /** @type {RollPlace} */ (place);
    const flat = worldAt(performance, roll.joint, roll.flat).quaternion;
    rollAnew(performance, roll, (frame, usual) => {
      const aside = asideTurn(flat, usual);
      const pitch = multiply(inverse(aside), multiply(inverse([...flat]), [...usual]));
      const keep = 1 - size * opened(roll, frame);
      const half = Math.acos(Math.max(-1, Math.min(1, aside[3])));
      const factor = Math.sin(half) < 1e-9 ? 0 : Math.sin(half * keep) / Math.sin(half);
      const less = [aside[0] * factor, aside[1] * factor, aside[2] * factor, Math.cos(half * keep)];
      return multiply([...flat], multiply(less, pitch));
    });
  },
  measure(poses, place, twin) {
    const { joint, from, to } = place;
    const aside = (/** @type {Poses} */ shot) =>
      Math.max(
        ...over(from, to, (frame) => asideOf(twin.orientation(joint, from), shot.orientation(joint, frame))),
      );
    return Math.max(0, 1 - aside(poses) / (aside(twin) || 1));
  },
};
