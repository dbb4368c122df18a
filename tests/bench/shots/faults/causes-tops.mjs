// @ts-check
/**
 * Tops without slow spacing: what rises and falls turns round at once.
 * @import { FaultKind, KeyedShot, Performance, Place, Poses } from "../types.d.ts"
 * @import { Mover } from "./tools/where.mjs"
 */
import { addTrack, massCentreAt, worldAt } from "../motion/index.mjs";
import { bodyOf, carrierOf, eventsOf, isBlocked, isBusy, meets } from "./tools/limbs.mjs";
import { drawn, moversIn } from "./tools/where.mjs";
import { at24, between, over, retime, turns } from "./tools/windows.mjs";

/**
 * @typedef {Place & { top: number, reach: number, drop: number, names: readonly string[], hand?: { end: string, base: string, joints: readonly string[] } }} TopPlace
 * `top` is the highest frame, `reach` how many frames to either side belong to it, `drop` how many metres the lower one of
 * its two sides lies below; `names` of the tracks that change; `hand`: an end of a limb over the joint at which the limb begins, else the body's mass
 */

/** Heights of a place's part. @param {Poses} poses @param {TopPlace} place @returns {(frame: number) => number} */
const heightIn = (poses, { figure, hand }) =>
  hand === undefined
    ? (frame) => poses.massCentre(figure, frame)[1]
    : (frame) => poses.position(hand.end, frame)[1] - poses.position(hand.base, frame)[1];

/** @param {Performance} performance @param {TopPlace} place @returns {(frame: number) => number} */
const heightOn = (performance, { figure, hand }) =>
  hand === undefined
    ? (frame) => massCentreAt(performance, figure, frame)[1]
    : (frame) =>
        worldAt(performance, hand.end, frame).position[1] -
        worldAt(performance, hand.base, frame).position[1];

/**
 * Frames that a course spends in the top quarter of its height, around its highest frame; read between frames on straight lines.
 * @param {(frame: number) => number} height @param {TopPlace} place
 */
function slowFrames(height, { top, reach, drop }) {
  const values = over(top - reach, top + reach, height);
  const most = Math.max(...values);
  const level = most - drop / 4;
  const at = values.indexOf(most);
  const way = (/** @type {1 | -1} */ step) => {
    for (let i = at; ; i += step) {
      const [here, next] = [values[i], values[i + step]];
      if (next === undefined) return Math.abs(i - at);
      if (next < level) return Math.abs(i - at) + (here - level) / (here - next);
    }
  };
  return way(1) + way(-1);
}

/** Greatest haste: with more, the course would stand still on its way. */
const mostHaste = 1.6;

/**
 * Reads a course so that it passes its top more quickly, and waits as much longer on its way; it joins smoothly at both ends.
 * @param {TopPlace} place @param {number} amount 0 to {@link mostHaste}: by how much quicker it is at the very top
 */
const hasty =
  ({ top, reach }, amount) =>
  (/** @type {number} */ frame) => {
    const by = frame - top;
    if (Math.abs(by) >= reach) return frame;
    const turn = (Math.PI * by) / reach;
    return frame + ((amount * reach) / Math.PI) * Math.sin(turn) * (0.5 + 0.5 * Math.cos(turn));
  };

/** How much faster a top has to be for the share of slow frames that is to go; the most where that is not reached. @param {(amount: number) => number} missing @param {number} size */
function amountFor(missing, size) {
  let [low, high] = [0, mostHaste];
  for (let round = 0; round < 12; round++) {
    const middle = (low + high) / 2;
    if (missing(middle) < size) low = middle;
    else high = middle;
  }
  return high;
}

/** What is missing of the slow frames if the top is passed in haste. @param {Performance} performance @param {TopPlace} place */
function missingBy(performance, place) {
  const usual = slowFrames(heightOn(performance, place), place);
  return (/** @type {number} */ amount) => {
    const tried = { ...performance, tracks: new Map(performance.tracks) };
    for (const name of place.names) {
      const track = tried.tracks.get(name);
      if (track !== undefined) tried.tracks.set(name, track.slice());
    }
    hurry(tried, place, amount);
    return 1 - slowFrames(heightOn(tried, place), place) / usual;
  };
}

/** Passes a top in haste. @param {Performance} performance changed in place @param {TopPlace} place @param {number} amount */
function hurry(performance, place, amount) {
  const { joint, top, reach, hand } = place;
  const course = hasty(place, amount);
  if (hand !== undefined) {
    retime(performance, hand.joints, turns, course);
    return;
  }
  const heights = over(top - reach, top + reach, heightOn(performance, place));
  // Its height alone: over the ground, and in its pose, it goes on.
  const by = (/** @type {number} */ frame) =>
    between(heights, course(frame) - top + reach) - heights[frame - top + reach];
  addTrack(performance, joint, "translation.y", by, top - reach, top + reach);
}

/** A flight's top. @param {Performance} performance @returns {TopPlace[]} */
function flightsIn(performance) {
  return eventsOf(performance, "flight").flatMap(({ figure, from, to }) => {
    const isFlown = eventsOf(performance, "beat", figure).some((beat) => meets(beat, from, to));
    const body = bodyOf(performance, figure);
    const joint = carrierOf(performance, body);
    const also = [...new Set([body.root, ...body.trunk])];
    const place = { figure, joint, also, from, to, names: [`${joint} translation.y`] };
    return isFlown ? [] : topsIn(performance, place, 0.025 * body.stature);
  });
}

/** Tops of arms, necks and heads that rise and come down again. @param {KeyedShot} clean @param {Mover} one @returns {TopPlace[]} */
function tossesIn({ performance }, { figure, part, joint, also, joints, limb, lever }) {
  if (part !== "arm" || limb === undefined) return [];
  const place = { figure: figure.id, joint, also, from: performance.first, to: performance.last };
  const hand = { end: lever.chain[lever.chain.length - 1].id, base: lever.chain[0].id, joints };
  const names = joints.flatMap((id) => turns.map((channel) => `${id} ${channel}`));
  return topsIn(performance, { ...place, hand, names }, 0.05 * figure.body.stature).filter(
    ({ from, to }) => !isBusy(performance, figure.id, limb, from - 2, to + 2),
  );
}

/**
 * Highest frames within a stretch from which the part comes down on both sides by some height, with a slow top.
 * @param {Performance} performance @param {Place & Pick<TopPlace, "hand" | "names">} place @param {number} least metres @returns {TopPlace[]}
 */
function topsIn(performance, place, least) {
  const [first, last] = [
    Math.max(performance.first, place.from - 1),
    Math.min(performance.last, place.to + 1),
  ];
  const values = over(first, last, heightOn(performance, /** @type {TopPlace} */ (place)));
  const longest = Math.round(at24(performance, 14));
  /** @type {TopPlace[]} */
  const found = [];
  for (let i = 1; i < values.length - 1; i++) {
    if (values[i] < values[i - 1] || values[i] <= values[i + 1]) continue;
    let [a, b] = [i, i];
    while (a > 0 && values[a - 1] < values[a]) a--;
    while (b < values.length - 1 && values[b + 1] < values[b]) b++;
    const reach = Math.min(i - a, b - i);
    if (reach < at24(performance, 3.5) || reach > longest) continue;
    const drop = values[i] - Math.max(values[i - reach], values[i + reach]);
    if (drop < least) continue;
    const top = first + i;
    found.push({ ...place, from: top - reach, to: top + reach, top, reach, drop });
  }
  return found;
}

/** @type {FaultKind} */
export const quickTop = {
  name: "quick top",
  checks: ["quick-top", "hang-time"],
  unit: "share of the slow frames at the top of a rise and fall that is missing",
  sizes: [
    {
      value: 0.2,
      reason:
        "Half of a fall's time belongs to the top quarter of its height (computed); a fifth less is a clip played a quarter too fast, which naive viewers see from 18 % on (Sci Rep 2017 7:15379).",
    },
    {
      value: 0.3,
      reason:
        "A third of the slow frames is gone: the top is passed half as fast again, and the weight with it.",
    },
    {
      value: 0.4,
      reason: "Near the half that an even speed would leave: up and down like a ball on a string.",
    },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    const tosses = drawn(random, moversIn(clean), ({ weight }) => weight).flatMap((one) =>
      tossesIn(clean, one),
    );
    const places = [...random.shuffled(flightsIn(performance)), ...tosses.slice(0, 12)];
    return places.filter((place) => missingBy(performance, place)(mostHaste) > quickTop.sizes[2].value);
  },
  perform(performance, place, size) {
    const spot = /** @type {TopPlace} */ (place);
    hurry(performance, spot, amountFor(missingBy(performance, spot), size));
  },
  measure(poses, place, twin) {
    const spot = /** @type {TopPlace} */ (place);
    return Math.max(0, 1 - slowFrames(heightIn(poses, spot), spot) / slowFrames(heightIn(twin, spot), spot));
  },
};
