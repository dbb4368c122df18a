// @ts-check
/**
 * Pops: a part leaves its path for a frame or two, by one key that is off.
 * @import { ChannelName, FaultKind, KeyedCurve, KeyedShot, Place, Poses, Random, Size } from "../types.d.ts"
 * @import { Channels, Lever } from "./tools/local.mjs"
 * @import { Mover } from "./tools/where.mjs"
 */
import { add, dot, length, scale, subtract } from "../../../../demo/motion/vector.mjs";
import { addKnots, cutAt } from "./tools/curve.mjs";
import { reaching } from "./tools/fit.mjs";
import { channelsOf, leverEnd } from "./tools/local.mjs";
import { pathOf, spacingOf } from "./tools/moves.mjs";
import { curvesOf, drawn, framesAt24, jointsIn, placeOn, placesFrom, spotOf } from "./tools/where.mjs";

/** Degrees, or shares of the stature, by which a key may be off: more would not be taken for a slip. */
const greatest = { rotation: 50, translation: 0.25 };

const greatestOf = (/** @type {ChannelName} */ channel, /** @type {number} */ stature) =>
  channel.startsWith("rotation") ? greatest.rotation : greatest.translation * stature;

/**
 * How far, and which way, a channel takes the end of a lever.
 * @param {Channels} poses @param {Lever} lever @param {number} frame @param {ChannelName} channel @param {number} by
 */
const shiftBy = (poses, lever, frame, channel, by) =>
  subtract(leverEnd(poses, poses, lever, frame, { [channel]: by }), leverEnd(poses, poses, lever, frame));

/**
 * A channel of a joint that can take its end far enough.
 * @param {KeyedShot} clean @param {Mover} one @param {number} frame @param {number} metres that are needed
 * @param {Random} random @param {(way: number[]) => boolean} [fits] the direction
 * @returns {ChannelName | undefined}
 */
function channelFor(clean, one, frame, metres, random, fits = () => true) {
  const poses = channelsOf(clean);
  return random.shuffled(curvesOf(clean, one.joint)).find(({ channel }) => {
    const way = shiftBy(poses, one.lever, frame, channel, greatestOf(channel, one.figure.body.stature));
    return length(way) > metres && fits(way);
  })?.channel;
}

/** @param {KeyedShot} shot @param {Place} place @returns {KeyedCurve} */
const curveOf = (shot, place) =>
  /** @type {KeyedCurve} */ (shot.curves.get(`${place.joint} ${spotOf(place).channel}`));

/**
 * How far a channel must be off so that the lever's end is off by so many metres, with the place's sign.
 * @param {KeyedShot} shot @param {Place} place @param {number} frame @param {number} metres
 */
function offFor(shot, place, frame, metres) {
  const poses = channelsOf({ ...shot });
  const channel = spotOf(place).channel;
  const lever = spotOf(place).lever;
  const sign = spotOf(place).sign;
  const away = (/** @type {number} */ by) => length(shiftBy(poses, lever, frame, channel, sign * by));
  const most = 1.5 * greatestOf(channel, spotOf(place).stature);
  return sign * (reaching(away, metres, most) ?? most);
}

/** Difference to the twin, in the parent's frame. @param {Channels} poses @param {Channels} twin @param {Place} place @param {number} frame */
const apart = (poses, twin, place, frame) => {
  const lever = spotOf(place).lever;
  return subtract(leverEnd(poses, twin, lever, frame), leverEnd(twin, twin, lever, frame));
};

/**
 * The largest distance from the twin, beyond what the frames on both sides have: a shift of everything is no pop.
 * @param {Channels} poses @param {Place} place @param {Channels} twin
 * @param {number} from last frame before it @param {number} to first frame after it
 */
function offPath(poses, place, twin, from, to) {
  const [before, after] = [apart(poses, twin, place, from), apart(poses, twin, place, to)];
  let most = 0;
  for (let frame = from + 1; frame < to; frame++) {
    const share = (frame - from) / (to - from);
    const expected = add(scale(before, 1 - share), scale(after, share));
    most = Math.max(most, length(subtract(apart(poses, twin, place, frame), expected)));
  }
  return most;
}

/** One key, or the same value on two, off the curve. @param {KeyedShot} shot @param {Place} place @param {number} metres */
function pop(shot, place, metres) {
  const off = offFor(shot, place, place.from, metres);
  /** @type {[number, number][]} */
  const knots = [[place.from - 1, 0]];
  for (let frame = place.from; frame <= place.to; frame++) knots.push([frame, off]);
  addKnots(curveOf(shot, place), [...knots, [place.to + 1, 0]]);
}

/**
 * @param {KeyedShot} clean @param {Random} random @param {number} frames that a pop lasts @param {number} metresPerStature that must be in reach
 * @param {(spacing: number, one: Mover) => boolean} fits the motion around: metres per frame
 * @param {(way: number[], motion: number[]) => boolean} [across]
 * @returns {Place[]}
 */
function popPlaces(clean, random, frames, metresPerStature, fits, across) {
  if (clean.style.stage === "blocked") return [];
  const { first, last } = clean.performance;
  const all = jointsIn(clean).flatMap((one) => Array.from({ length: 4 }, () => one));
  return placesFrom(
    drawn(random, all, ({ weight }) => weight),
    (one) => {
      const path = pathOf(clean, one);
      const spacing = spacingOf(path);
      for (let attempt = 0; attempt < 8; attempt++) {
        const frame = random.integer(first + 3, last - 3 - frames);
        const around = spacing.slice(frame - first - 2, frame - first + frames + 1);
        const most = Math.max(...around);
        const mean = around.reduce((sum, value) => sum + value, 0) / around.length;
        if (!fits(most, one)) continue;
        const motion = subtract(path[frame - first + 1], path[frame - first - 1]);
        const unit = metresPerStature * (across === undefined ? one.figure.body.stature : mean);
        const channel = channelFor(clean, one, frame, unit, random, (way) => across?.(way, motion) ?? true);
        if (channel === undefined) continue;
        const sign = random.chance(0.5) ? 1 : -1;
        return placeOn(one, frame, frame + frames - 1, { channel, sign, spacing: mean });
      }
      return undefined;
    },
  );
}

const isQuiet = (/** @type {number} */ spacing, /** @type {Mover} */ { figure }) =>
  spacing < 0.004 * figure.body.stature;
const isModerate = (/** @type {number} */ spacing, /** @type {Mover} */ { figure }) =>
  spacing < 0.015 * figure.body.stature;
const isFast = (/** @type {number} */ spacing, /** @type {Mover} */ { figure }) =>
  spacing >= 0.01 * figure.body.stature;

/** @type {[Size, Size, Size]} */
const inQuiet = [
  {
    value: 0.5,
    reason:
      "Five pixels of a full figure in a 1080-line picture for one frame: a flick that is felt at the second look.",
  },
  { value: 1.5, reason: "Sixteen pixels, the width of a wrist's half: everybody sees the part twitch." },
  { value: 4, reason: "Seven centimetres on a grown person: it cannot be missed at full speed." },
];
/** @type {[Size, Size, Size]} */
const inMotion = [
  {
    value: 0.6,
    reason:
      "Spacing of 1.6 and then 0.4: a ratio of four to one, where even motion may vary by a tenth unseen (speed discrimination, from memory).",
  },
  { value: 1.1, reason: "The part stands still or turns back for a frame amid its move." },
  { value: 2, reason: "It jumps back by a whole spacing and forward by three." },
];
/** @type {[Size, Size, Size]} */
const across = [
  {
    value: 0.5,
    reason:
      "The path turns by 27° on the way out and by 53° at the off frame: a corner that is seen when stepped.",
  },
  { value: 1, reason: "The path turns by 90° at the off frame: a tooth in the arc." },
  { value: 2, reason: "The off frame lies two spacings beside the path: a flash at full speed." },
];

/** @param {Poses} poses @param {Place} place @param {Poses} twin */
const shareOfStature = (poses, place, twin) =>
  (100 * offPath(poses, place, twin, place.from - 1, place.to + 1)) / spotOf(place).stature;
/** @param {Poses} poses @param {Place} place @param {Poses} twin */
const shareOfSpacing = (poses, place, twin) =>
  offPath(poses, place, twin, place.from - 1, place.to + 1) / spotOf(place).spacing;

/** Cosine of the angle between two directions, without sign. @param {number[]} a @param {number[]} b */
const along = (a, b) => Math.abs(dot(a, b)) / (length(a) * length(b) || 1);

const percentOfStature = (/** @type {Place} */ place, /** @type {number} */ size) =>
  (size / 100) * spotOf(place).stature;
const spacings = (/** @type {Place} */ place, /** @type {number} */ size) => size * spotOf(place).spacing;

/** @type {FaultKind[]} */
export const pops = [
  {
    name: "pop",
    checks: ["pop"],
    unit: "% of the stature off the path",
    sizes: inQuiet,
    layer: "keys",
    places: (clean, random) => popPlaces(clean, random, 1, 0.04, isQuiet),
    edit: (shot, place, size) => pop(shot, place, percentOfStature(place, size)),
    measure: shareOfStature,
  },
  {
    name: "pop of two frames",
    checks: ["pop"],
    unit: "% of the stature off the path",
    sizes: inQuiet,
    layer: "keys",
    places: (clean, random) => popPlaces(clean, random, 2, 0.04, isModerate),
    edit: (shot, place, size) => pop(shot, place, percentOfStature(place, size)),
    measure: shareOfStature,
  },
  {
    name: "pop along a fast move",
    checks: ["pop", "hitch", "spacing-jump"],
    unit: "of the spacing there",
    sizes: inMotion,
    layer: "keys",
    places: (clean, random) =>
      popPlaces(clean, random, 1, 2, isFast, (way, motion) => along(way, motion) > 0.75),
    edit: (shot, place, size) => pop(shot, place, spacings(place, size)),
    measure: shareOfSpacing,
  },
  {
    name: "pop across a fast move",
    checks: ["pop", "kinked-path"],
    unit: "of the spacing there",
    sizes: across,
    layer: "keys",
    places: (clean, random) =>
      popPlaces(clean, random, 1, 2, isFast, (way, motion) => along(way, motion) < 0.5),
    edit: (shot, place, size) => pop(shot, place, spacings(place, size)),
    measure: shareOfSpacing,
  },
  {
    name: "stray key",
    checks: ["pop", "kinked-path"],
    unit: "% of the stature off the path",
    sizes: [
      {
        value: 1,
        reason: "A bump of ten pixels over a few frames: twice a pop's size, for it comes and goes eased.",
      },
      { value: 2.5, reason: "Four centimetres on a grown person: the part nods where nothing asks for it." },
      { value: 6, reason: "A hand's breadth: it reads as a move of its own." },
    ],
    layer: "keys",
    places: strayPlaces,
    edit: (shot, place, size) => {
      const off = offFor(shot, place, spotOf(place).at, percentOfStature(place, size));
      cutAt(curveOf(shot, place), spotOf(place).at).value += off;
    },
    measure: (poses, place, twin) =>
      (100 * offPath(poses, place, twin, place.from, place.to)) / spotOf(place).stature,
  },
];

/** Between two keys of a sparse curve that stand four to eight frames apart. @param {KeyedShot} clean @param {Random} random */
function strayPlaces(clean, random) {
  if (clean.style.stage !== "splined") return [];
  const all = jointsIn(clean).flatMap((one) =>
    curvesOf(clean, one.joint).flatMap((curve) =>
      curve.keys.slice(1, -2).flatMap((key, i) => {
        const gap = curve.keys[i + 2].frame - key.frame;
        const fits = gap >= framesAt24(clean, 4) && gap <= framesAt24(clean, 8);
        return fits ? [{ one, curve, from: key.frame, to: curve.keys[i + 2].frame, weight: one.weight }] : [];
      }),
    ),
  );
  return placesFrom(
    drawn(random, all, ({ weight }) => weight),
    ({ one, curve, from, to }) => {
      const at = random.integer(from + 2, to - 2);
      const way = shiftBy(
        channelsOf(clean),
        one.lever,
        at,
        curve.channel,
        greatestOf(curve.channel, one.figure.body.stature),
      );
      if (length(way) < 0.06 * one.figure.body.stature) return undefined;
      return placeOn(one, from, to, { channel: curve.channel, at, sign: random.chance(0.5) ? 1 : -1 });
    },
  );
}
