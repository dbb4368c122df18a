// @ts-check
/**
 * Moves without ease: stops and starts in one frame, linear keys between poses.
 * @import { FaultKind, KeyedShot, Place, Random } from "../types.d.ts"
 * @import { Channels } from "./tools/local.mjs"
 * @import { Move } from "./tools/moves.mjs"
 * @import { Mover } from "./tools/where.mjs"
 */
import { cutAt, meanSlope, reshape } from "./tools/curve.mjs";
import { fitted, tried } from "./tools/fit.mjs";
import { channelsOf } from "./tools/local.mjs";
import { movesIn, stepsAt } from "./tools/moves.mjs";
import { curvesAt, framesAt24, moversIn, placeOn, placesFrom, spotOf } from "./tools/where.mjs";

/** A slope that goes the way of the mean, or none. @param {number} slope @param {number} mean */
const sameWay = (slope, mean) => (slope * mean > 0 ? slope : 0);

/**
 * The last part of a move arrives at speed, too early, and waits there; or the first part waits and sets out at speed.
 * @param {KeyedShot} shot @param {Place} place @param {number} sharpness slope at the wall, in mean slopes
 */
function wall(shot, place, sharpness) {
  const { start, peak, end, at } = spotOf(place);
  const isStop = at > peak;
  for (const curve of curvesAt(shot, place)) {
    const slope = meanSlope(curve, peak);
    const [outer] = [cutAt(curve, isStop ? end : start), cutAt(curve, peak)];
    cutAt(curve, at).value = outer.value;
    const mean = (outer.value - cutAt(curve, peak).value) / (at - peak);
    if (isStop) {
      reshape(curve, peak, at, sameWay(slope, mean), sharpness * mean);
      reshape(curve, at, end, 0, 0);
    } else {
      reshape(curve, start, at, 0, 0);
      reshape(curve, at, peak, sharpness * mean, sameWay(slope, mean));
    }
  }
}

/** Share of the move's top speed that is lost (or won) within one frame, at most. @param {Channels} poses @param {Place} place @param {Channels} twin */
function sharpest(poses, place, twin) {
  const spot = spotOf(place);
  const isStop = spot.at > spot.peak;
  const steps = stepsAt(poses, twin, spot, spot.start - 1, spot.end + 1);
  let most = 0;
  for (let i = 1; i < steps.length; i++) {
    most = Math.max(most, isStop ? steps[i - 1] - steps[i] : steps[i] - steps[i - 1]);
  }
  return most / spot.spacing;
}

/** Mean slopes at the wall, at most. */
const sharpestSlope = 2.5;

/** Moves long and wide enough to be seen to ease. @param {KeyedShot} clean @param {Move} move @param {Mover} one */
const isEased = (clean, { from, to, spacing }, { figure }) =>
  to - from >= framesAt24(clean, 8) && spacing > 0.006 * figure.body.stature;

/** @param {KeyedShot} clean @param {Random} random @param {boolean} isStop @returns {Place[]} */
function wallPlaces(clean, random, isStop) {
  if (clean.style.stage === "blocked") return [];
  const { first, last } = clean.performance;
  return placesFrom(movesIn(clean, random, moversIn(clean)), ({ one, move }) => {
    if (!isEased(clean, move, one) || move.from < first + 2 || move.to > last - 3) return undefined;
    const { from, to, peak } = move;
    const place = placeOn(one, isStop ? peak : from, isStop ? to : peak, {
      ...{ start: from, peak, end: to, at: isStop ? to : from, spacing: move.spacing },
    });
    const channels = channelsOf(clean);
    const steps = stepsAt(channels, channels, spotOf(place), isStop ? peak : from, isStop ? to : peak);
    const rest = steps.reduce((sum, step) => sum + step, 0);
    // At nine tenths of the top speed on average.
    const span = Math.max(2, Math.round(rest / (0.9 * move.spacing)));
    const at = isStop ? peak + span : peak - span;
    if (isStop ? at > to - 1 : at < from + 1) return undefined;
    const found = { ...place, at };
    if (sharpest(channels, found, channels) > 0.28) return undefined;
    const greatest = tried(
      clean,
      one.joints,
      (trial) => wall(trial, found, sharpestSlope),
      (poses) => sharpest(poses, found, channels),
    );
    return greatest >= 0.95 ? found : undefined;
  });
}

/** @param {"stop" | "start"} what @returns {FaultKind} */
const wallKind = (what) => ({
  name: `hard ${what}`,
  checks: [`hard-${what}`],
  unit: `of the move's top speed ${what === "stop" ? "lost" : "won"} within one frame`,
  sizes: [
    {
      value: 0.6,
      reason:
        "An eased move of half a second changes by at most a quarter of its top speed in a frame (minimum jerk: 5.77 / 1.875 / 12).",
    },
    { value: 0.8, reason: "Only a fifth of the ease is left: the part bumps against a wall." },
    {
      value: 1,
      reason: "From full speed to none between two frames: a part that hits something nobody sees.",
    },
  ],
  layer: "keys",
  places: (clean, random) => wallPlaces(clean, random, what === "stop"),
  edit: (shot, place, size) =>
    fitted(
      shot,
      spotOf(place).joints,
      (trial, amount) => wall(trial, place, amount),
      (poses, twin) => sharpest(poses, place, twin),
      size,
      [0, sharpestSlope],
    ),
  measure: sharpest,
});

/** Variation of the speed of an eased (minimum-jerk) move: the root of 10/7 − 1. */
const easedVariation = Math.sqrt(10 / 7 - 1);

/** 0 for an eased move, 1 for one with the same spacing all along. @param {Channels} poses @param {Place} place @param {Channels} twin */
function evenness(poses, place, twin) {
  const spot = spotOf(place);
  const steps = stepsAt(poses, twin, spot, spot.start, spot.end);
  const mean = steps.reduce((sum, step) => sum + step, 0) / steps.length;
  const variance = steps.reduce((sum, step) => sum + (step - mean) ** 2, 0) / steps.length;
  return 1 - Math.sqrt(variance) / (mean || 1) / easedVariation;
}

/** Metres along a place's path. @param {Channels} poses @param {Place} place @param {Channels} twin */
function travelAt(poses, place, twin) {
  const spot = spotOf(place);
  return stepsAt(poses, twin, spot, spot.start, spot.end).reduce((sum, step) => sum + step, 0);
}

/** Takes the ease out of a move: slopes at its ends, and all between, go towards the mean. @param {KeyedShot} shot @param {Place} place @param {number} share */
function straighten(shot, place, share) {
  const { start, end } = spotOf(place);
  for (const curve of curvesAt(shot, place)) {
    const mean = (cutAt(curve, end).value - cutAt(curve, start).value) / (end - start);
    reshape(curve, start, end, share * mean, share * mean);
  }
}

/** @type {FaultKind} */
const evenSpacing = {
  name: "even spacing",
  checks: ["even-spacing", "hard-stop", "hard-start"],
  unit: "of the ease taken out",
  sizes: [
    {
      value: 0.7,
      reason:
        "Speed varies by a fifth of its mean where an eased move varies by two thirds: it is felt as stiff, not yet named.",
    },
    {
      value: 0.85,
      reason:
        "Speed varies by a tenth, about what people can tell apart in speed (from memory): it runs like a machine.",
    },
    { value: 1, reason: "Linear keys: every spacing the same, a start and a stop in one frame." },
  ],
  layer: "keys",
  places: (clean, random) => {
    if (clean.style.stage === "blocked") return [];
    const { first, last } = clean.performance;
    const channels = channelsOf(clean);
    return placesFrom(movesIn(clean, random, moversIn(clean)), ({ one, move }) => {
      const { from, to } = move;
      if (!isEased(clean, move, one) || from < first + 2 || to > last - 3) return undefined;
      const least = 0.04 * one.figure.body.stature;
      if (move.travel < least) return undefined;
      const place = placeOn(one, from, to, { start: from, end: to, spacing: move.spacing });
      if (evenness(channels, place, channels) > 0.33) return undefined;
      const greatest = tried(
        clean,
        one.joints,
        (trial) => straighten(trial, place, 1),
        // A nod that ends where it began is gone when it is straightened: nothing moves evenly there.
        (poses) => (travelAt(poses, place, channels) < least ? 0 : evenness(poses, place, channels)),
      );
      return greatest >= 0.85 ? place : undefined;
    });
  },
  edit: (shot, place, size) =>
    fitted(
      shot,
      spotOf(place).joints,
      (trial, amount) => straighten(trial, place, amount),
      (poses, twin) => evenness(poses, place, twin),
      size,
      [0, 1],
    ),
  measure: (poses, place, twin) => evenness(poses, place, twin),
};

/** @type {FaultKind[]} */
export const ends = [wallKind("stop"), wallKind("start"), evenSpacing];
