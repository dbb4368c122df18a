// @ts-check
/**
 * Limbs that come to their contact too late.
 * @import { FaultKind, Limb, Performance, Place, Poses } from "../types.d.ts"
 */
import { inverse, rotate, subtract } from "../../../../demo/motion/vector.mjs";
import { copy, worldAt } from "../motion/index.mjs";
import { fitting } from "./tools/fitting.mjs";
import { bodyOf, contactPointsAt, endOf, eventsOf, isBlocked, isBusy, lengthOf } from "./tools/limbs.mjs";
import { at24, over, retime, turns } from "./tools/windows.mjs";

/** @typedef {(joint: string, frame: number) => { position: readonly number[], quaternion: readonly number[] }} World */

/** @param {Performance} performance @returns {World} */
const worldOn = (performance) => (joint, frame) => worldAt(performance, joint, frame);
/** @param {Poses} poses @returns {World} */
const worldIn = (poses) => (joint, frame) => ({
  position: poses.position(joint, frame),
  quaternion: poses.orientation(joint, frame),
});

/** @typedef {Place & { limb: number, base: string, joints: readonly string[] }} ReachPlace */

/**
 * How far the end of a limb is from where it will be at the contact, seen from what carries the limb, metres.
 * @param {World} world @param {Limb} limb @param {string} base @param {number} contact
 */
function leftOf(world, limb, base, contact) {
  const seen = (/** @type {number} */ frame) => {
    const carrier = world(base, frame);
    const end = world(endOf(limb), frame);
    return rotate(inverse([...carrier.quaternion]), subtract([...end.position], [...carrier.position]));
  };
  const goal = seen(contact);
  return (/** @type {number} */ frame) => Math.hypot(...subtract(seen(frame), goal));
}

/** Frames before a contact whose share of the way counts, at 24 per second. */
const late = 3;

/** Share of the way that is left three frames before the contact. @param {World} world @param {ReachPlace} place
 * @param {Limb} limb @param {number} rate */
function leftLate(world, { base, from, to }, limb, rate) {
  const left = leftOf(world, limb, base, to);
  const at = to - (late * rate) / 24;
  const i = Math.floor(at);
  const there = left(i) + (left(i + 1) - left(i)) * (at - i);
  return there / (left(from) || 1);
}

/**
 * The course of a limb that dawdles and hurries: of its way, `share` is left some frames before the contact.
 * @param {(frame: number) => number} left @param {number} from @param {number} to @param {number} turn the frame from which it hurries
 * @param {number} share
 * @returns {(frame: number) => number} the frame that is read
 */
function dawdling(left, from, to, turn, share) {
  const goal = share * left(from);
  let read = to;
  while (read > from && left(read) < goal) read--;
  const [here, next] = [left(read), left(Math.min(to, read + 1))];
  const until = here > next ? read + Math.max(0, Math.min(1, (here - goal) / (here - next))) : read;
  const [slow, quick] = [(until - from) / (turn - from), (to - until) / (to - turn)];
  // Slopes at which a cubic through the three frames never runs back (Fritsch and Carlson 1980).
  const middle = Math.min((2 * slow * quick) / (slow + quick) || 0, 3 * slow);
  const piece = (
    /** @type {number} */ t,
    /** @type {number} */ span,
    /** @type {number[]} */ [a, va, b, vb],
  ) => {
    const u = 1 - t;
    return u * u * (1 + 2 * t) * a + t * t * (3 - 2 * t) * b + span * t * u * (u * va - t * vb);
  };
  return (frame) => {
    if (frame <= from || frame >= to) return frame;
    if (frame <= turn)
      return piece((frame - from) / (turn - from), turn - from, [from, Math.min(1, 3 * slow), until, middle]);
    return piece((frame - turn) / (to - turn), to - turn, [until, middle, to, Math.min(1, 3 * quick)]);
  };
}

/**
 * Frames from which a limb comes to a contact: hands to what they take, feet to the ground.
 * @param {Performance} performance @returns {{ figure: string, limb: number, from: number, to: number }[]}
 */
function comings(performance) {
  const swings = eventsOf(performance, "swing").filter(({ to }) => to < performance.last);
  const holds = eventsOf(performance, "hold-prop").flatMap(({ figure, limbs, from }) =>
    limbs.map((limb) => ({ figure, limb, from: Math.round(from - at24(performance, 20)), to: from })),
  );
  return [...swings, ...holds].flatMap(({ figure, limb, from, to }) => {
    const { kind, girdle, joints } = bodyOf(performance, figure).limbs[limb];
    if ((kind !== "leg" && kind !== "arm") || joints.length < 2) return [];
    const earliest = Math.max(performance.first + 2, from);
    if (to - earliest < at24(performance, 6)) return [];
    const left = leftOf(worldOn(performance), bodyOf(performance, figure).limbs[limb], girdle, to);
    // From where it is farthest off; a hand that waits at the thing came earlier.
    const all = over(earliest, to, left);
    const most = Math.max(...all);
    const start = all.findLastIndex((one) => one > 0.985 * most);
    const there = all.findIndex((one, i) => i > start && one < 0.04 * most);
    return [{ figure, limb, from: earliest + start, to: earliest + there }];
  });
}

/** Whether no point of a limb's end comes further under the ground than it was. @param {Performance} tried
 * @param {Performance} clean @param {ReachPlace} place @param {Limb} limb */
function staysOver(tried, clean, { figure, from, to }, limb) {
  const { stature } = bodyOf(clean, figure);
  const lowest = (/** @type {Performance} */ table, /** @type {number} */ frame) =>
    Math.min(...contactPointsAt(table, limb, frame).map((point) => point[1]));
  return over(from, to, (frame) => lowest(tried, frame)).every(
    (height, i) => height > Math.min(clean.ground.height, lowest(clean, from + i)) - 0.006 * stature,
  );
}

/** @type {FaultKind} */
export const lateReach = {
  name: "late reach",
  checks: ["late-reach"],
  unit: "share of a limb's way to its contact that is left three frames at 24 per second before it",
  sizes: [
    {
      value: 0.45,
      reason:
        "An eased reach of half a second has a tenth of its way left three frames before its end (minimum jerk, Flash and Hogan 1985); this is over four times as much.",
    },
    {
      value: 0.6,
      reason: "Most of the way comes in the last eighth of a second: the hand is thrown at its goal.",
    },
    { value: 0.75, reason: "The limb waits, and is there: three frames carry three quarters of the way." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    const world = worldOn(performance);
    const places = comings(performance).flatMap(({ figure, limb: n, from, to }) => {
      const body = bodyOf(performance, figure);
      const limb = body.limbs[n];
      const length = lengthOf(limb, performance);
      const joint = endOf(limb);
      const joints = limb.joints.slice(0, limb.joints.indexOf(joint) + 1);
      const also = [...new Set([...limb.joints, limb.girdle])].filter((id) => id !== joint);
      const place = { figure, joint, also, from, to, limb: n, base: limb.girdle, joints, freed: [n] };
      if (to - from < at24(performance, 6)) return [];
      if (leftOf(world, limb, limb.girdle, to)(from) < 0.25 * length) return [];
      if (leftLate(world, place, limb, performance.rate) > lateReach.sizes[0].value / 2) return [];
      if (limb.kind === "arm" && isBusy(performance, figure, n, from, to - 3)) return [];
      const tried = copy(performance);
      lateReach.perform?.(tried, place, lateReach.sizes[2].value, random);
      return staysOver(tried, performance, place, limb) ? [place] : [];
    });
    return fitting(performance, random.shuffled(places), lateReach, random);
  },
  perform(performance, place, size) {
    const { figure, from, to, limb: n, base, joints } = /** @type {ReachPlace} */ (place);
    const limb = bodyOf(performance, figure).limbs[n];
    const left = leftOf(worldOn(copy(performance)), limb, base, to);
    const turn = to - at24(performance, late);
    retime(performance, joints, turns, dawdling(left, from, to, turn, size));
  },
  measure(poses, place) {
    const reach = /** @type {ReachPlace} */ (place);
    const { limbs } = bodyOf(poses.performance, place.figure);
    return leftLate(worldIn(poses), reach, limbs[reach.limb], poses.performance.rate);
  },
};
