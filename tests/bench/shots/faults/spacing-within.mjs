// @ts-check
/**
 * Within a move: frames without travel, spacing that jumps, turns quicker than a body.
 * @import { FaultKind, KeyedShot, Place, Random } from "../types.d.ts"
 * @import { Channels } from "./tools/local.mjs"
 */
import { multiply } from "../../../../demo/motion/vector.mjs";
import { clearBetween, cutAt, keyIndex, meanSlope, reshape } from "./tools/curve.mjs";
import { fitted, tried } from "./tools/fit.mjs";
import { angleBetween, channelsOf, localOf } from "./tools/local.mjs";
import { isFree, movesIn, stepsAt } from "./tools/moves.mjs";
import { curvesAt, framesAt24, moversIn, placeOn, placesFrom, spotOf } from "./tools/where.mjs";

/** Most frames at 24 per second that a hitch lasts. */
const longest = 3;

/**
 * A copied key: the part waits on it and makes up for it afterwards, at once or in its own time.
 * @param {KeyedShot} shot @param {Place} place @param {number} frames
 */
function hitch(shot, place, frames) {
  const { at, end, sign } = spotOf(place);
  for (const curve of curvesAt(shot, place)) {
    const until = sign > 0 ? at + frames + 1 : end;
    cutAt(curve, until);
    const [own, slope] = [meanSlope(curve, at), meanSlope(curve, until)];
    const { value } = cutAt(curve, at);
    cutAt(curve, at + frames).value = value;
    reshape(curve, at, at + frames, 0, 0);
    const mean = (cutAt(curve, until).value - value) / (until - at - frames);
    reshape(curve, at + frames, until, sign > 0 ? mean : own, sign > 0 ? mean : slope);
  }
}

/** The same, and all that follows in the move comes that much later. @param {KeyedShot} shot @param {Place} place @param {number} frames */
function delayed(shot, place, frames) {
  const { at, end } = spotOf(place);
  for (const curve of curvesAt(shot, place)) {
    const isDense = keyIndex(curve, at) >= 0 && keyIndex(curve, at + 1) >= 0;
    const { value } = cutAt(curve, at);
    cutAt(curve, end);
    cutAt(curve, end + frames + 1);
    clearBetween(curve, end, end + frames + 1);
    for (const key of curve.keys) if (key.frame > at && key.frame <= end) key.frame += frames;
    const moved = curve.keys.find((key) => key.frame > at);
    const wait = { ...cutAt(curve, at), frame: at + frames, value };
    if (isDense && moved !== undefined) {
      for (let frame = at + 1; frame <= at + frames; frame++) {
        curve.keys.splice(keyIndex(curve, frame - 1) + 1, 0, { ...wait, frame });
      }
    } else {
      curve.keys.splice(keyIndex(curve, at) + 1, 0, wait);
      reshape(curve, at, at + frames, 0, 0);
    }
  }
}

/** Frames at 24 per second, within the place, in which the part goes less than a quarter of its way there. @param {Channels} poses @param {Place} place @param {Channels} twin */
function stillFrames(poses, place, twin) {
  const spot = spotOf(place);
  const steps = stepsAt(poses, twin, spot, spot.at, spot.at + framesAt24(poses, longest));
  let still = 0;
  for (const step of steps) if (step < spot.spacing / 4) still += 1 - step / spot.spacing;
  return (still * 24) / poses.performance.rate;
}

/** @param {KeyedShot} clean @param {Random} random @param {boolean} later @returns {Place[]} */
function hitchPlaces(clean, random, later) {
  if (clean.style.stage === "blocked") return [];
  const wait = framesAt24(clean, longest);
  const { last } = clean.performance;
  const channels = channelsOf(clean);
  return placesFrom(movesIn(clean, random, moversIn(clean, !later)), ({ one, move }) => {
    const { from, to, peak } = move;
    if (move.spacing < 0.008 * one.figure.body.stature || to > last - wait - 4) return undefined;
    const at = random.integer(Math.max(from + 2, peak - 3), peak + 1);
    if (at + wait + 3 > to || at <= from || !isFree(clean, one, at - 1, to)) return undefined;
    const place = placeOn(one, at - 1, at + wait + 1, { at, end: to, sign: random.chance(0.4) ? 1 : -1 });
    const steps = stepsAt(channels, channels, spotOf(place), at, at + wait);
    if (Math.min(...steps) < move.spacing / 2) return undefined;
    if (later) {
      // What comes later needs a rest behind the move in which to arrive.
      const rest = stepsAt(channels, channels, spotOf(place), to, to + wait + 1);
      if (Math.max(...rest) > move.spacing / 6) return undefined;
    }
    const found = { ...place, spacing: steps.reduce((sum, step) => sum + step, 0) / steps.length };
    const isSound = [1, longest].every((size) => {
      const still = tried(
        clean,
        one.joints,
        (trial) => (later ? delayed : hitch)(trial, found, framesAt24(clean, size)),
        (poses) => stillFrames(poses, found, channels),
      );
      return still > 0.75 * size && still < size + 1;
    });
    return isSound ? found : undefined;
  });
}

/** @param {string} name @param {boolean} later @returns {FaultKind} */
const hitchKind = (name, later) => ({
  name,
  checks: ["hitch"],
  unit: "frames at 24 per second without travel",
  sizes: [
    { value: 1, reason: "One frame of 42 ms shown twice: the shortest stutter that there is." },
    {
      value: 2,
      reason:
        "Two still frames make a step of three spacings, or a stop that the eye catches (common practice: never hold two frames within a move).",
    },
    { value: 3, reason: "An eighth of a second: the part stops and goes on." },
  ],
  layer: "keys",
  places: (clean, random) => hitchPlaces(clean, random, later),
  edit: (shot, place, size) => {
    const frames = framesAt24(shot, size);
    if (later) delayed(shot, place, frames);
    else hitch(shot, place, frames);
  },
  measure: stillFrames,
});

/**
 * A breakdown too far ahead or behind, with handles that follow it: the spacing swells up to it and is small behind it,
 * or the other way round.
 * @param {KeyedShot} shot @param {Place} place @param {number} share by which the slope changes on either side
 */
function unevenly(shot, place, share) {
  const { at, start, end, sign } = spotOf(place);
  for (const curve of curvesAt(shot, place)) {
    const slopes = [start, at, end].map((frame) => meanSlope(curve, frame));
    cutAt(curve, start);
    cutAt(curve, end);
    const change = sign * share * slopes[1];
    cutAt(curve, at).value += (change * Math.min(at - start, end - at)) / 2;
    reshape(curve, start, at, slopes[0], slopes[1] + change);
    reshape(curve, at, end, slopes[1] - change, slopes[2]);
  }
}

/** Nearly all of the slope goes to one side. */
const greatestShare = 0.98;

/** Doublings or halvings of the spacing from one frame to the next, at most. @param {Channels} poses @param {Place} place @param {Channels} twin */
function doublings(poses, place, twin) {
  const spot = spotOf(place);
  const steps = stepsAt(poses, twin, spot, spot.at - 2, spot.at + 2).map((step) =>
    Math.max(step, spot.spacing / 20),
  );
  return Math.max(...steps.slice(1).map((step, i) => Math.abs(Math.log2(step / steps[i]))));
}

/** @type {FaultKind} */
const spacingJump = {
  name: "spacing jump",
  checks: ["spacing-jump", "hitch", "pop"],
  unit: "doublings of the spacing from one frame to the next",
  sizes: [
    {
      value: 1,
      reason:
        "Twice or half at once, where an eased move of half a second changes by a quarter near its middle.",
    },
    { value: 1.6, reason: "Three to one: the breakdown is seen as a bump in the timing." },
    { value: 2.3, reason: "Five to one: two moves at two speeds, glued together." },
  ],
  layer: "keys",
  places: (clean, random) => {
    if (clean.style.stage === "blocked") return [];
    const channels = channelsOf(clean);
    return placesFrom(movesIn(clean, random, moversIn(clean, true)), ({ one, move }) => {
      const { from, to, peak } = move;
      if (move.spacing < 0.008 * one.figure.body.stature) return undefined;
      const at = peak + random.integer(-1, 1);
      const reach = Math.min(framesAt24(clean, 5), at - from, to - at);
      if (reach < 3 || !isFree(clean, one, at - reach, at + reach)) return undefined;
      const detail = { at, start: at - reach, end: at + reach, spacing: move.spacing };
      const place = placeOn(one, at - 2, at + 2, { ...detail, sign: random.chance(0.6) ? 1 : -1 });
      if (doublings(channels, place, channels) > 0.45) return undefined;
      const greatest = tried(
        clean,
        one.joints,
        (trial) => unevenly(trial, place, greatestShare),
        (poses) => doublings(poses, place, channels),
      );
      return greatest >= 2.3 ? place : undefined;
    });
  },
  edit: (shot, place, size) =>
    fitted(
      shot,
      spotOf(place).joints,
      (trial, amount) => unevenly(trial, place, amount),
      (poses, twin) => doublings(poses, place, twin),
      size,
      [0, greatestShare],
    ),
  measure: doublings,
};

/**
 * The quickest turns that were published, degrees per second: the head in vigorous shaking (Grossman et al. 1988: 780),
 * the upper torso against the pelvis in pitching (J Sports Sci Med 2015, 14:246: 871).
 * @type {Partial<Record<import("./tools/where.mjs").Part, number>>}
 */
const quickest = { head: 780, trunk: 871 };
/** A boxer's hand, metres per second, for a stature of 1.75 m (8 to 10 m/s, from memory). */
const quickestHand = 8;

/** Speed between two frames as a multiple of the quickest known, at most. @param {Channels} poses @param {Place} place @param {Channels} twin */
function timesQuickest(poses, place, twin) {
  const spot = spotOf(place);
  const { rate } = poses.performance;
  const limit = /** @type {number | undefined} */ (place["quickest"]);
  if (limit === undefined) {
    const steps = stepsAt(poses, twin, spot, spot.start, spot.end);
    return (Math.max(...steps) * rate) / ((quickestHand * spot.stature) / 1.75);
  }
  /** @type {number[][]} */
  const turns = [];
  for (let frame = spot.start; frame <= spot.end; frame++) {
    const chain = spot.lever.chain.filter(({ id }) => spot.joints.includes(id));
    turns.push(chain.map((joint) => localOf(poses, joint, frame).turn).reduce(multiply));
  }
  const most = Math.max(...turns.slice(1).map((turn, i) => angleBetween(turns[i], turn)));
  return (most * rate) / limit;
}

/** Two keys too near: most of the move lies between two neighbouring frames. @param {KeyedShot} shot @param {Place} place @param {number} share of the move between them */
function tooNear(shot, place, share) {
  const { start, at, end } = spotOf(place);
  for (const curve of curvesAt(shot, place)) {
    const a = cutAt(curve, start).value;
    const b = cutAt(curve, end).value;
    cutAt(curve, at).value = a + (b - a) * (0.5 - share / 2);
    cutAt(curve, at + 1).value = a + (b - a) * (0.5 + share / 2);
    reshape(curve, start, at, 0, 0);
    reshape(curve, at + 1, end, 0, 0);
  }
}

/** @type {FaultKind} */
const overSpeed = {
  name: "over-speed",
  checks: ["over-speed", "pop"],
  unit: "times the quickest that people were measured at",
  sizes: [
    { value: 1, reason: "As quick as the quickest measured, in a move that nobody meant as an effort." },
    { value: 1.4, reason: "No body does it: it reads as a cut." },
    { value: 2, reason: "Twice what muscles can: the part is here and then there." },
  ],
  layer: "keys",
  places: (clean, random) => {
    if (clean.style.stage === "blocked") return [];
    const channels = channelsOf(clean);
    const movers = moversIn(clean).filter(
      ({ part, figure }) =>
        ["head", "trunk", "arm"].includes(part) && ["two legs", "puppet"].includes(figure.body.plan),
    );
    return placesFrom(movesIn(clean, random, movers), ({ one, move }) => {
      const { from, to, peak } = move;
      if (peak <= from + 1 || peak + 1 >= to - 1) return undefined;
      const place = placeOn(one, peak - 1, peak + 2, {
        ...{ start: from, at: peak, end: to, quickest: quickest[one.part] },
      });
      if (timesQuickest(channels, place, channels) > 0.5) return undefined;
      // One and a half times the move in one frame must do: a key that is near, and too strong as well.
      const greatest = tried(
        clean,
        one.joints,
        (trial) => tooNear(trial, place, 1.5),
        (poses) => timesQuickest(poses, place, channels),
      );
      return greatest >= 2 ? place : undefined;
    });
  },
  edit: (shot, place, size) =>
    fitted(
      shot,
      spotOf(place).joints,
      (trial, amount) => tooNear(trial, place, amount),
      (poses, twin) => timesQuickest(poses, place, twin),
      size,
      [0, 1.5],
    ),
  measure: timesQuickest,
};

/** @type {FaultKind[]} */
export const within = [hitchKind("hitch", false), hitchKind("hitch and late", true), spacingJump, overSpeed];
