// @ts-check
/**
 * Arms that the camera shows badly: a hand that is lost in the body's shape, an arm that points into the lens.
 * @import { FaultKind, KeyedShot, Performance, Place, Poses, Vector, View } from "../types.d.ts"
 */
import { rotate } from "../../../../demo/motion/vector.mjs";
import { copy } from "../motion/index.mjs";
import { densePosesOf } from "../poses.mjs";
import { towardsCamera } from "../staging/lens.mjs";
import { armJoints, armSeen, armsOf, handOutside, hangs, inside } from "../staging/measures.mjs";
import { fitting } from "./tools/fitting.mjs";
import { bodyOf, eventsOf, isBlocked, isBusy, lengthOf, meets } from "./tools/limbs.mjs";
import { poseArm } from "./tools/posed-arm.mjs";
import { at24, median, over } from "./tools/windows.mjs";

/**
 * `held`: first and last frame of the longest pose; `ramp`: frames in which the arm comes to it, and goes.
 * @typedef {Place & { limb: number, chest: string, ramp: number, held: readonly [number, number] }} ArmPlace
 */

/** Frames at 24 per second in which an arm comes to its pose: an eased gesture of the hand by half an arm's length. */
const comes = 11;

/**
 * Stretches in which an arm is free to do something else: it holds nothing, the figure stands on something.
 * @param {KeyedShot} clean @param {number} held frames at 24 per second of the longest pose
 * @returns {ArmPlace[]}
 */
function freeArms(clean, held) {
  const { performance } = clean;
  if (performance.view === undefined || isBlocked(clean)) return [];
  const [ramp, length] = [Math.round(at24(performance, comes)), Math.round(at24(performance, held))];
  const all = length + 2 * ramp;
  return performance.figures.flatMap(({ id: figure, body }) =>
    armsOf(body).flatMap((limb) => {
      /** @type {ArmPlace[]} */
      const places = [];
      const [, elbow, hand] = armJoints(body, limb);
      const { girdle, joints } = body.limbs[limb];
      for (
        let start = performance.first + 2;
        start + all < performance.last - 2;
        start += Math.round(all / 3)
      ) {
        const [from, to] = [start + ramp, start + ramp + length - 1];
        if (isBusy(performance, figure, limb, start, start + all)) continue;
        if (eventsOf(performance, "flight", figure).some((flight) => meets(flight, start, start + all)))
          continue;
        const also = [...new Set([elbow, ...joints, girdle])].filter((joint) => joint !== hand);
        places.push({
          ...{ figure, joint: hand, also, from: start, to: start + all },
          limb,
          chest: girdle,
          ramp,
          held: [from, to],
        });
      }
      return places;
    }),
  );
}

/** Elbows point down and outwards, a little back. @param {Poses} poses @param {ArmPlace} place @param {number} frame */
function poleOf(poses, { figure, limb, chest }, frame) {
  const out = bodyOf(poses.performance, figure).limbs[limb].side === "left" ? 1 : -1;
  return rotate([...poses.orientation(chest, frame)], [0.6 * out, -1, -0.3]);
}

/**
 * Where a hand is put: before the chest, or behind it, on the line of sight.
 * @param {Poses} poses @param {View} view @param {ArmPlace} place @param {number} frame
 * @returns {Vector}
 */
function onTheBody(poses, view, { figure, chest, limb }, frame) {
  const { stature, limbs } = bodyOf(poses.performance, figure);
  const middle = poses.point(chest, [0, 0.06 * stature, 0], frame);
  const sight = towardsCamera(poses, view, frame, middle);
  const ahead = rotate([...poses.orientation(chest, frame)], [0, 0, 1]);
  const out = limbs[limb].side === "left" ? 1 : -1;
  const side = rotate([...poses.orientation(chest, frame)], [out, 0, 0]);
  // On the side of the chest that the arm can come to.
  const reach = sight[0] * (ahead[0] + side[0]) + sight[2] * (ahead[2] + side[2]);
  const by = (reach < 0 ? -0.15 : 0.15) * stature;
  return [middle[0] + by * sight[0], middle[1] + by * sight[1] - 0.02 * stature, middle[2] + by * sight[2]];
}

/** Share of a hand that still stands out when it counts as lost. */
const lostUnder = 0.2;

/** Frames of a place at 24 per second in which the hand is lost. @param {Poses} poses @param {ArmPlace} place */
function lostFor(poses, { figure, limb, held: [from, to] }) {
  const { view, rate } = poses.performance;
  if (view === undefined) return 0;
  const body = bodyOf(poses.performance, figure);
  const lost = over(
    from,
    to,
    (frame) => !hangs(poses, body, limb, frame) && handOutside(poses, view, body, limb, frame) < lostUnder,
  );
  return (24 * lost.filter(Boolean).length) / rate;
}

/** @type {FaultKind} */
export const handLost = {
  name: "hand lost in the silhouette",
  checks: ["merged-silhouette"],
  unit: "frames at 24 per second in which a raised hand is inside the shape of the body",
  sizes: [
    {
      value: 12,
      reason:
        "A glance rests for a third of a second; a gesture that is lost for longer than that is missed.",
    },
    {
      value: 24,
      reason: "For a second a hand says something before the chest, where no flat dark shape has it.",
    },
    { value: 32, reason: "A whole gesture and its hold, over a second and a quarter, are inside the body." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    const dense = densePosesOf(performance);
    const { view } = performance;
    const free = freeArms(clean, 32).filter((place) => {
      if (view === undefined || lostFor(dense, place) > 5) return false;
      const tried = copy(performance);
      handLost.perform?.(tried, place, 32, random);
      return lostFor(densePosesOf(tried), place) >= 29;
    });
    return fitting(performance, random.shuffled(free), handLost, random);
  },
  perform(performance, place, size) {
    const arm = /** @type {ArmPlace} */ (place);
    const { view } = performance;
    if (view === undefined) return;
    const before = densePosesOf(copy(performance));
    const [from] = arm.held;
    const to = from + Math.round(at24(performance, size)) - 1;
    poseArm(performance, arm, { from, to, ramp: arm.ramp }, (frame) => ({
      target: onTheBody(before, view, arm, frame),
      pole: poleOf(before, arm, frame),
    }));
  },
  measure: (poses, place) => lostFor(poses, /** @type {ArmPlace} */ (place)),
};

/** Degrees from the line of sight of an arm of which so much is not seen. @param {number} hidden */
const offSight = (hidden) => Math.asin(1 - hidden);

/** @type {FaultKind} */
export const limbAtLens = {
  name: "limb at the lens",
  checks: ["limb-at-lens"],
  unit: "share of an arm's length that is not seen",
  sizes: [
    {
      value: 0.7,
      reason: "Within 17° of the line of sight an arm is shown at less than a third of its length (sine).",
    },
    {
      value: 0.82,
      reason: "At 10° hand, elbow and shoulder lie over each other (sine 0.17); no bend is to be seen.",
    },
    { value: 0.92, reason: "At 5° the arm is a fist: a twelfth of its length is left (sine 0.08)." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    const dense = densePosesOf(performance);
    const { view } = performance;
    const free = freeArms(clean, 22).filter((place) => {
      if (view === undefined) return false;
      const body = bodyOf(performance, place.figure);
      return over(...place.held, (frame) => {
        const [shoulder] = armJoints(body, place.limb);
        const at = dense.position(shoulder, frame);
        const sight = towardsCamera(dense, view, frame, at);
        const turn = [...dense.orientation(place.chest, frame)];
        const ahead = rotate(turn, [0, 0, 1]);
        const side = rotate(turn, [body.limbs[place.limb].side === "left" ? 1 : -1, 0, 0]);
        const dot = (/** @type {number[]} */ v) => v[0] * sight[0] + v[1] * sight[1] + v[2] * sight[2];
        // Arms reach forward and outwards, not through the body or far behind it.
        const isReached = dot(ahead) > 0.3 || (dot(side) > 0.6 && dot(ahead) > -0.3);
        return isReached && inside(dense, view, at, frame) > 0.08;
      }).every(Boolean);
    });
    return fitting(performance, random.shuffled(free), limbAtLens, random);
  },
  perform(performance, place, size) {
    const arm = /** @type {ArmPlace} */ (place);
    const { view } = performance;
    if (view === undefined) return;
    const before = densePosesOf(copy(performance));
    const body = bodyOf(performance, arm.figure);
    const [shoulder] = armJoints(body, arm.limb);
    const length = 0.995 * lengthOf(body.limbs[arm.limb], performance);
    const off = offSight(size);
    const [from, to] = arm.held;
    poseArm(performance, arm, { from, to, ramp: arm.ramp }, (frame) => {
      const at = before.position(shoulder, frame);
      const [x, y, z] = towardsCamera(before, view, frame, at);
      // Off the line of sight downwards, where arms come from.
      const level = Math.hypot(x, z) || 1;
      const down = [(x * y) / level, -level, (z * y) / level];
      const way = [x, y, z].map((part, k) => Math.cos(off) * part + Math.sin(off) * down[k]);
      return {
        target: at.map((value, k) => value + length * way[k]),
        pole: poleOf(before, arm, frame),
      };
    });
  },
  measure(poses, place) {
    const { figure, limb, held } = /** @type {ArmPlace} */ (place);
    const [from, to] = held;
    const { view } = poses.performance;
    if (view === undefined) return 0;
    const body = bodyOf(poses.performance, figure);
    return Math.max(0, 1 - median(over(from, to, (frame) => armSeen(poses, view, body, limb, frame))));
  },
};
