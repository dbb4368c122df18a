import { perMedianDeviation } from "../../../base/median.ts";
import type { Study } from "../../../base/study.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { figureOfNode, figuresOf } from "../../../rig/body.ts";
import { curveNamesOfNode, localTranslationOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { metresPerUnitOf } from "../../../rig/stature.ts";
import { gridOf } from "../../../time/grid.ts";
import { givesTurn, hasLoneKey, isByItself, isOfOneKey } from "./lone-key.ts";
import { fourthDifferences, mostOff, offCourse, type Stray } from "./off-course.ts";

/**
 * Stray keys: a part turns off its course, or the body's root shifts off it, and is back within a third of a second, from
 * calm to calm. The trunk, the neck and the head are heavy: so much mass is not thrown out and caught again so quickly, and
 * a part that nods at all does it more than once. A hand, a foot or an ear does it on purpose, and is then posed: what
 * only one curve of a joint does, between poses of more, is nobody's flick.
 */

interface StrayValues {
  readonly floor: number;
  readonly angleFloor: number;
  readonly longest: number;
  readonly usual: number;
}

/** Parts in which a stray key is told from a move of its own by how heavy they are. */
const heavyParts: readonly BodyPart[] = ["root", "spine", "chest", "neck", "head"];

/** Fewest samples of a stray: fewer are a spike. */
const fewest = 3;
/** A way across a stray, and a step beside it, are at most these shares of how far it is off (our choice). */
const mostAcross = 0.5;
const mostBeside = 0.25;
/** What is off by this share of it within a second is the same move again (our choice). */
const likeIt = 0.5;
/** A shorter stretch that is off by this share of the most tells where it begins and ends (our choice). */
const asFar = 0.9;
/** Share of the deviations below which those lie that are usual; as for spikes. */
const usualShare = 0.6;

/**
 * Stray keys of a part of a figure that moves on every frame: of the trunk, the neck or the head, or those that stand by
 * themselves.
 * @param name tells apart what is asked for of a study
 * @param course asks for how the part turns, 3 numbers per sample
 */
export function straysOf(
  study: Study,
  node: number,
  { floor, angleFloor, longest, usual }: StrayValues,
  name: string,
  course: () => Float64Array,
): readonly Stray[] {
  const figure = figureOfNode(study, node);
  const { count, rate } = gridOf(study);
  if (figure < 0 || !curveNamesOfNode(study, node).some((curve) => hasLoneKey(study, curve, fewest)))
    return none;
  const least = Math.min(angleFloor, floor / farReachOf(study, node));
  const strays = keptStrays(study, name, [longest, rate, least, usual], () => {
    const path = course();
    return path.length === 3 * count
      ? straysIn(path, Math.round(longest), Math.round(rate), least, usual)
      : none;
  });
  const isOfOne = isHeavy(study, node) ? isOfOneKey : isByItself;
  return strays.filter((stray) => isOfOne(study, node, stray, (curve) => givesTurn(study, curve, stray)));
}

/** Whether a part is so heavy that a stray key in it cannot be a flick. */
export function isHeavy(study: Study, node: number): boolean {
  const figure = figureOfNode(study, node);
  const part = figure < 0 ? undefined : figuresOf(study)[figure].partOf.get(node);
  return part !== undefined && heavyParts.includes(part);
}

/**
 * Stray keys in how a body's root shifts, each curve by itself: a body that walks on is on its course all the same, where
 * it sways aside or bobs.
 * @returns deviations in metres, of the shift against what the root hangs on
 */
export function shiftStraysOf(
  study: Study,
  node: number,
  { floor, longest, usual }: StrayValues,
): readonly Stray[] {
  const figure = figureOfNode(study, node);
  const { count, rate } = gridOf(study);
  if (figure < 0 || figuresOf(study)[figure].partOf.get(node) !== "root") return none;
  return curveNamesOfNode(study, node).flatMap((name) => {
    const axis = shiftChannels.findIndex((channel) => name.endsWith(channel));
    if (axis < 0 || !hasLoneKey(study, name, fewest)) return [];
    const strays = keptStrays(study, `pop by a stray key ${name}`, [longest, rate, floor, usual], () => {
      const shift = localTranslationOf(study, node);
      const unit = metresPerUnitOf(study);
      const course = new Float64Array(3 * count);
      for (let i = 0; i < count; i++) course[3 * i] = unit * shift[3 * i + axis];
      return straysIn(course, Math.round(longest), Math.round(rate), floor, usual);
    });
    return strays.filter((stray) => isOfOneKey(study, node, stray, (curve) => curve === name));
  });
}

const shiftChannels = ["translation.x", "translation.y", "translation.z"];

/** Only another course asks for strays again. */
function keptStrays(
  study: Study,
  name: string,
  sees: readonly number[],
  find: () => readonly Stray[],
): readonly Stray[] {
  const all = Number.POSITIVE_INFINITY;
  return study.memo.keep(study, name, -all, all, sees, find);
}

const none: readonly never[] = [];

/**
 * Stretches of three samples and more that are off a series' course, see {@link Stray}.
 * @param path 3 numbers per sample
 * @param longest most samples of a stray
 * @param second samples of a second, within which nothing else is off like it
 * @param floor smallest deviation that counts
 * @param usual how many times what is usual of stretches as long
 */
function straysIn(
  path: Float64Array,
  longest: number,
  second: number,
  floor: number,
  usual: number,
): Stray[] {
  const found: Stray[] = [];
  const count = path.length / 3;
  if (bends.length < count) bends = new Float64Array(count);
  fourthDifferences(path, bends);
  for (let at = 3; at + fewest + 2 < count; at++) {
    const stray = strayAt(path, at, longest, floor);
    if (stray === null || isAgain(path, stray, second)) continue;
    const limit = Math.max(floor, usual * usualOff(path, stray));
    if (stray.deviation >= limit) found.push({ ...stray, limit });
    at += stray.length;
  }
  return found;
}

type Stretch = Pick<Stray, "at" | "length" | "deviation">;

/** The stretch off the course that begins at a sample or up to `longest` behind it, where it is furthest off. */
function strayAt(path: Float64Array, at: number, longest: number, floor: number): Stretch | null {
  const first = stretchAt(path, at, longest, floor);
  if (first === null) return null;
  let most = first.deviation;
  const near: Stretch[] = [first];
  for (let next = at + 1; next <= at + longest; next++) {
    const other = stretchAt(path, next, longest, floor);
    if (other === null) continue;
    near.push(other);
    most = Math.max(most, other.deviation);
  }
  const far = near.filter(({ deviation }) => deviation >= asFar * most);
  return far.reduce((best, other) => (other.length < best.length ? other : best));
}

/** The shortest stretch from a sample on that is off as far as any of up to `longest`, from calm to calm. */
function stretchAt(path: Float64Array, at: number, longest: number, floor: number): Stretch | null {
  let best: Stretch | null = null;
  const step = squared(path, at - 2, at - 1);
  let bend = Math.max(bends[at], bends[at + 1]);
  for (let length = fewest; length <= longest && at + length + 1 < path.length / 3; length++) {
    const last = bends[at + length - 1];
    if (last > bend || Number.isNaN(last)) bend = last;
    // Nearly all stretches are told to be none by how little the path bends for the way that it goes.
    const most = mostOff(length) * bend;
    if (most < floor * floor || most * mostBeside * mostBeside < step) continue;
    if (most * mostAcross * mostAcross < squared(path, at - 1, at + length)) continue;
    const deviation = offCourse(path, at, length);
    if (deviation < floor || deviation < leastFor(path, at, length)) continue;
    if (best === null || asFar * deviation > best.deviation) best = { at, length, deviation };
  }
  return best;
}

/** How far a stretch has to be off at least to come back from there: it gets on little across it, and beside it. */
function leastFor(path: Float64Array, at: number, length: number): number {
  const across = distance(path, at - 1, at + length);
  const before = distance(path, at - 2, at - 1);
  const behind = distance(path, at + length, at + length + 1);
  return Math.max(across / mostAcross, Math.max(before, behind) / mostBeside);
}

/**
 * Whether a stretch as long is off half as far within a second on either side, and comes back as well: what goes on from
 * there is another move, and not this one again. Where a part shakes, the next swing the other way shares half of the
 * stretch; one with an end in a stray that stands alone has a long way across, and so does not count.
 */
function isAgain(path: Float64Array, { at, length, deviation }: Stretch, second: number): boolean {
  const count = path.length / 3;
  for (let other = Math.max(2, at - length - second); other <= at + length + second; other++) {
    if (other + length + 1 >= count) return false;
    if (2 * Math.abs(other - at) <= length) continue;
    const off = offCourse(path, other, length);
    if (off >= likeIt * deviation && off >= leastFor(path, other, length)) return true;
  }
  return false;
}

/** What is usual of stretches as long in the whole series, without those that the stray touches. */
function usualOff(path: Float64Array, { at, length }: Stretch): number {
  const others: number[] = [];
  for (let other = 2; other + length + 1 < path.length / 3; other++) {
    if (Math.abs(other - at) > length + 2) others.push(offCourse(path, other, length));
  }
  others.sort((a, b) => a - b);
  return perMedianDeviation * (others[Math.floor(usualShare * (others.length - 1))] ?? 0);
}

/** See {@link fourthDifferences}, of the path in which strays are looked for. */
let bends = new Float64Array(0);

function distance(path: Float64Array, from: number, to: number): number {
  return Math.sqrt(squared(path, from, to));
}

function squared(path: Float64Array, from: number, to: number): number {
  const x = path[3 * to] - path[3 * from];
  const y = path[3 * to + 1] - path[3 * from + 1];
  const z = path[3 * to + 2] - path[3 * from + 2];
  return x * x + y * y + z * z;
}
