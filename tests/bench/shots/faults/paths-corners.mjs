// @ts-check
/**
 * Corners: a breakdown beside the arc of a hand, a head or a tail.
 * @import { FaultKind, KeyedShot, Place, Random } from "../types.d.ts"
 * @import { Channels } from "./tools/local.mjs"
 */
import { cross, dot, length, scale, subtract, unit } from "../../../../demo/motion/vector.mjs";
import { addKnots } from "./tools/curve.mjs";
import { fitted, tried } from "./tools/fit.mjs";
import { channelsOf } from "./tools/local.mjs";
import { isFree, movesIn, pathAt } from "./tools/moves.mjs";
import { beside, bringEnd } from "./tools/solve.mjs";
import { curvesAt, framesAt24, moversIn, placeOn, placesFrom, spotOf } from "./tools/where.mjs";

/** The sharpest turn of the path from one spacing to the next, degrees. @param {Channels} poses @param {Place} place @param {Channels} twin */
function corner(poses, place, twin) {
  const { at } = spotOf(place);
  const path = pathAt(poses, twin, place, at - 2, at + 2);
  const steps = path.slice(1).map((point, i) => subtract(point, path[i]));
  const turns = steps.slice(1).map((step, i) => {
    return (Math.atan2(length(cross(steps[i], step)), dot(steps[i], step)) * 180) / Math.PI;
  });
  return Math.max(...turns);
}

/** A breakdown beside the arc, with its neighbours left where they are. @param {KeyedShot} shot @param {Place} place @param {ReadonlyMap<string, number>} by @param {number} amount */
function displace(shot, place, by, amount) {
  const { at, start, end } = spotOf(place);
  for (const curve of curvesAt(shot, place)) {
    const off = amount * (by.get(`${curve.joint} ${curve.channel}`) ?? 0);
    if (off !== 0)
      addKnots(curve, [
        [start, 0],
        [at, off],
        [end, 0],
      ]);
  }
}

/** Changes of channels that take the end a spacing aside per frame of the breakdown's span. @param {KeyedShot} shot @param {Place} place */
function aside(shot, place) {
  const { at, start, sign, lever, spacing } = spotOf(place);
  const poses = channelsOf({ ...shot });
  const [before, here, after] = pathAt(poses, poses, place, at - 1, at + 1);
  const way = unit(subtract(after, before));
  // Across the motion, in the plane that the limb and its motion do not share, or at a right angle to that.
  const bone = unit(here);
  const normal = unit(cross(way, bone));
  const side = place["inPlane"] === true ? unit(cross(normal, way)) : normal;
  const target = beside(here, scale(side, sign), spacing * (at - start));
  return bringEnd(poses, lever, curvesAt(shot, place), at, target);
}

/** @type {FaultKind} */
export const kinkedPath = {
  name: "kinked path",
  checks: ["kinked-path", "pop"],
  unit: "degrees by which the path turns in one frame",
  sizes: [
    {
      value: 40,
      reason: "An arc of twelve frames through a right angle turns by 8° a frame: five times that is a dent.",
    },
    { value: 70, reason: "A corner that shows in the drawn arc at once." },
    { value: 110, reason: "The part turns back on itself: a spike." },
  ],
  layer: "keys",
  places: kinkPlaces,
  edit: (shot, place, size) => {
    const { by } = aside(shot, place);
    fitted(
      shot,
      spotOf(place).joints,
      (trial, amount) => displace(trial, place, by, amount),
      (poses, twin) => corner(poses, place, twin),
      size,
      [0, 2],
    );
  },
  measure: corner,
};

/** @param {KeyedShot} clean @param {Random} random */
function kinkPlaces(clean, random) {
  if (clean.style.stage === "blocked") return [];
  const channels = channelsOf(clean);
  return placesFrom(movesIn(clean, random, moversIn(clean, true)), ({ one, move }) => {
    const { from, to, peak } = move;
    const { stature } = one.figure.body;
    if (move.spacing < 0.008 * stature) return undefined;
    const at = peak + random.integer(-1, 1);
    const span = Math.min(framesAt24(clean, 4), at - from, to - at);
    if (span < 2 || !isFree(clean, one, at - span, at + span)) return undefined;
    const detail = {
      at,
      start: at - span,
      end: at + span,
      spacing: move.spacing,
      inPlane: random.chance(0.5),
    };
    const place = placeOn(one, at - span, at + span, { ...detail, sign: random.chance(0.5) ? 1 : -1 });
    if (corner(channels, place, channels) > 18) return undefined;
    const { by } = aside(clean, place);
    const greatest = tried(
      clean,
      one.joints,
      (trial) => displace(trial, place, by, 2),
      (poses) => corner(poses, place, channels),
    );
    return greatest >= 110 ? place : undefined;
  });
}
