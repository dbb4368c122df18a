import { referenceRate } from "../../base/constants.ts";
import { medianOf, perMedianDeviation } from "../../base/median.ts";
import { measure, type Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import { cutsOf, isCutBetween } from "../path/cuts.ts";
import { type FootPlant, footPlantsOf, hipsOf } from "./foot-plant.ts";
import { ballHeightAt, footAxesAt, legLean, offShare, soleTiltAt, withRoll } from "./foot-roll.ts";
import { soleUpOf } from "./sole-path.ts";

/** How a foot leaves the ground at the end of a plant. */
export interface ToeOff {
  readonly stance: FootPlant;
  /** The first sample at which its ball is off the ground. */
  readonly at: number;
  /** The largest tilt of the sole in the three frames before that, radians. */
  readonly tilt: number;
  /** How far the leg leans over the foot there, radians. */
  readonly lean: number;
  /** How fast the hips go there, along the ground and up, body heights per second. */
  readonly pace: number;
  readonly climb: number;
  /** How high the ball gets in the quarter of a second after it, body heights. */
  readonly rise: number;
}

/** Frames (at 24 per second) around the end of a plant in which the ball leaves, and after which it has risen. */
const before = 4;
const after = 6;
/** Frames (at 24 per second) before the ball leaves in which the foot has its largest tilt. */
const tilting = 3;
/** Frames (at 24 per second) that a plant has to last for its foot to roll in it. */
const shortest = 6;

/** How the feet of a figure leave the ground, one entry for each plant that ends in a lift. Step keys that cut there tell nothing. */
export const toeOffsOf = measure("toe-offs", (study, figure: number): readonly ToeOff[] => {
  const found: ToeOff[] = [];
  for (const plant of footPlantsOf(study, figure)) {
    const stance = withRoll(study, figure, plant);
    const toeOff = toeOffOf(study, figure, stance);
    // A heel that comes down twice within one plant of its ball leaves once.
    const isKnown = found.some(({ at, stance: { leg } }) => leg.end === stance.leg.end && at === toeOff?.at);
    if (toeOff !== null && !isKnown) found.push(toeOff);
  }
  return found;
});

function toeOffOf(study: Study, figure: number, stance: FootPlant): ToeOff | null {
  const { rate, count } = gridOf(study);
  const { leg, from, to, leaves, toe, heel } = stance;
  const surface = (toe ?? heel)?.surface;
  const frames = (n: number) => Math.max(1, Math.round((n * rate) / referenceRate));
  if (surface === undefined || !leaves || to - from < frames(shortest)) return null;
  if (!soleUpOf(study, leg.end).some((axis) => axis !== 0)) return null;
  const stature = statureOf(study, figure);
  const height = (i: number) => ballHeightAt(study, figure, stance, surface, i);
  let level = Number.POSITIVE_INFINITY;
  for (let i = from; i <= to; i++) level = Math.min(level, height(i));
  let at = Math.max(from + 1, to - frames(before));
  const last = Math.min(count - 2, to + frames(after));
  const isOff = (i: number) => height(i) > level + offShare * stature && height(i + 1) > height(i);
  while (at <= last && !isOff(at)) at++;
  if (at > last || isCutBetween(cutsOf(study, leg.end), Math.max(0, at - frames(tilting)), at + 1))
    return null;
  let tilt = 0;
  for (let i = Math.max(from, at - frames(tilting)); i <= at; i++)
    tilt = Math.max(tilt, soleTiltAt(study, stance, i));
  const axes = footAxesAt(study, stance, Math.round(to - (to - from) / 3));
  let rise = 0;
  for (let i = at; i <= Math.min(count - 1, at + frames(after)); i++)
    rise = Math.max(rise, height(i) - level);
  const hips = worldOf(study, hipsOf(study, figure)).position;
  const k = 3 * at;
  const perSecond = rate / stature;
  return {
    stance,
    at,
    tilt,
    lean: legLean(study, stance, leg.root, axes, at),
    pace: perSecond * lengthOf(hips[k] - hips[k - 3], hips[k + 2] - hips[k - 1]),
    climb: perSecond * (hips[k + 1] - hips[k - 2]),
    rise: rise / stature,
  };
}

/** Feet leave alike where the hips go as fast to this share and 0.15 body heights per second (our choice), … */
const paceShare = 0.3;
const paceRoom = 0.15;
/** … their balls rise as high within this factor, and their legs lean within 15° of each other (our choice). */
const riseFactor = 2;
const leanRoom = (15 * Math.PI) / 180;

function isLike(a: ToeOff, b: ToeOff): boolean {
  const isNear = (x: number, y: number) =>
    Math.abs(x - y) <= paceRoom + paceShare * Math.max(Math.abs(x), Math.abs(y));
  return (
    isNear(a.pace, b.pace) &&
    isNear(a.climb, b.climb) &&
    Math.max(a.rise, b.rise) <= riseFactor * Math.min(a.rise, b.rise) &&
    Math.abs(a.lean - b.lean) <= leanRoom
  );
}

/** What lies farther out than this many standard deviations is no variation (common practice). */
const noiseDeviations = 3;
/** Fewer numbers than this do not tell how they vary (our choice). */
const fewest = 3;

/** With how much tilt the feet of a figure leave the ground in steps like one of them. */
export interface UsualTilt {
  /** Their median, radians. */
  readonly usual: number;
  /** The least that their variation explains, radians. */
  readonly least: number;
}

/**
 * What a foot's roll is compared with: the tilts with which the same figure's feet leave in like steps; only those of its
 * other feet where this one rolls less than half as far in all of its own. How they vary is told by them, or where they are
 * few by how each foot varies in steps that are like each other.
 * @param own one of {@link toeOffsOf}
 * @returns null where no other step is like it
 */
export function usualTilt(toeOffs: readonly ToeOff[], own: ToeOff): UsualTilt | null {
  const likes = toeOffs.filter((other) => other !== own && isLike(other, own));
  const others = likes.filter((other) => !isSameFoot(other, own));
  const half = 0.5 * tiltOf(others);
  const neverRolls = likes.every((other) => !isSameFoot(other, own) || other.tilt < half);
  const group = neverRolls && own.tilt < half ? others : likes;
  if (group.length === 0) return null;
  const usual = tiltOf(group);
  const off = group.length >= fewest ? group.map(({ tilt }) => Math.abs(tilt - usual)) : [];
  for (const other of group.length >= fewest ? [] : toeOffs) {
    const beside = toeOffs.filter(
      (one) => one !== own && one !== other && isSameFoot(one, other) && isLike(one, other),
    );
    if (other !== own && beside.length > 0) off.push(Math.abs(other.tilt - tiltOf(beside)));
  }
  const noise = off.length < fewest ? 0 : noiseDeviations * perMedianDeviation * medianOf(off);
  return { usual, least: usual - noise };
}

const isSameFoot = (a: ToeOff, b: ToeOff) => a.stance.leg.end === b.stance.leg.end;
const tiltOf = (toeOffs: readonly ToeOff[]) => medianOf(toeOffs.map(({ tilt }) => tilt));
