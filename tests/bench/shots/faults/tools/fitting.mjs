// @ts-check
/**
 * Whether a body can do at a place what a fault asks of it: legs are only so long.
 * @import { FaultKind, Performance, Place } from "../../types.d.ts"
 */
import { copy, worldAt } from "../../motion/index.mjs";
import { bodyOf, contactPointsAt, endOf, eventsOf, lengthOf, meets } from "./limbs.mjs";
import { turns } from "./windows.mjs";

/** Places that a kind offers in a shot at most, where each has to be tried out. */
const most = 6;
/** Statures by which an end that stands may give way: twice what a clean shot allows. */
const give = 0.003;
/** Degrees by which a joint may turn from one frame at 24 per second to the next where it is not quicker in the clean shot:
 * 720° a second, near the quickest voluntary turns of a head (Grossman and others 1988). */
const jerk = 30;
/** The same where a fault is about legs that push or catch the body (`quick` in its place): 1,200° a second, under the 1,500 to
 * 2,000 of a knee that kicks (from memory). */
const legJerk = 50;

/**
 * The first places at which the strongest fault leaves the ends where they stand and turns nothing over.
 * @param {Performance} performance of the clean shot
 * @param {readonly Place[]} places `freed` in a place names limbs whose ends the fault is about
 * @param {FaultKind} kind @param {import("../../types.d.ts").Random} random
 * @returns {Place[]}
 */
export function fitting(performance, places, kind, random) {
  const fit = [];
  for (const place of places.slice(0, 3 * most)) {
    const tried = copy(performance);
    kind.perform?.(tried, place, kind.sizes[2].value, random.fork("fitting"));
    if (standsStill(tried, performance, place) && isSmooth(tried, performance, place)) fit.push(place);
    if (fit.length === most) break;
  }
  return fit;
}

/** @param {Performance} tried @param {Performance} clean @param {Place} place */
function standsStill(tried, clean, place) {
  const body = bodyOf(clean, place.figure);
  const freed = /** @type {readonly number[] | undefined} */ (place.freed) ?? [];
  return eventsOf(clean, "plant", place.figure).every((plant) => {
    if (freed.includes(plant.limb) || !meets(plant, place.from - 6, place.to + 6)) return true;
    const limb = body.limbs[plant.limb];
    for (let frame = plant.from; frame <= plant.to; frame++) {
      const [now, then] = [tried, clean].map((table) => contactPointsAt(table, limb, frame));
      const off = now.map((point, n) => Math.hypot(...point.map((value, axis) => value - then[n][axis])));
      if (Math.max(...off) > give * body.stature) return false;
    }
    return true;
  });
}

/** @param {Performance} tried @param {Performance} clean @param {Place} place */
function isSmooth(tried, clean, { figure, quick }) {
  const limit = ((quick === true ? legJerk : jerk) * 24) / clean.rate;
  for (const { id } of bodyOf(clean, figure).joints) {
    for (const channel of turns) {
      const now = tried.tracks.get(`${id} ${channel}`);
      const then = clean.tracks.get(`${id} ${channel}`);
      if (now === undefined) continue;
      // What is quick in the clean shot may be as quick elsewhere.
      const quickest = then === undefined ? 0 : stepsOf(then).reduce((most, step) => Math.max(most, step), 0);
      const usual = Math.max(limit, 1.5 * quickest);
      if (stepsOf(now).some((step) => step > usual)) return false;
    }
  }
  return true;
}

/** Changes from each frame to the next. @param {Float64Array} values */
const stepsOf = (values) => Array.from(values.subarray(1), (value, i) => Math.abs(value - values[i]));

/**
 * Lowers a root over a window until every limb that stands there is within reach of where it stood in `before`.
 * @param {Performance} performance changed in place @param {Performance} before @param {string} figure
 * @param {readonly number[]} limbs @param {number} from @param {number} to
 * @param {(frame: number) => number} share 0 to 1, how much of it each frame takes
 */
export function sinkIntoReach(performance, before, figure, limbs, from, to, share) {
  const body = bodyOf(performance, figure);
  let deepest = 0;
  for (let frame = Math.max(performance.first, from); frame <= Math.min(performance.last, to); frame++) {
    const by = share(frame);
    if (by < 0.05) continue;
    for (const n of limbs) {
      const limb = body.limbs[n];
      const end = worldAt(before, endOf(limb), frame).position;
      const gap = (/** @type {Performance} */ table) => {
        const top = worldAt(table, limb.joints[0], frame).position;
        return {
          length: Math.hypot(...top.map((value, axis) => value - end[axis])),
          height: top[1] - end[1],
        };
      };
      const is = gap(performance);
      const longest = Math.max(gap(before).length, 0.99 * lengthOf(limb, performance));
      if (is.length > longest && is.height > 0)
        deepest = Math.max(deepest, ((is.length - longest) * is.length) / is.height / by);
    }
  }
  const height = performance.tracks.get(`${body.root} translation.y`);
  if (height === undefined || deepest === 0) return;
  for (let i = 0; i < height.length; i++) height[i] -= deepest * share(performance.first + i);
}
