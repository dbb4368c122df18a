// @ts-check
/**
 * Paths of parts, and the moves that they make.
 * @import { KeyedShot, Place, Random } from "../../types.d.ts"
 * @import { Channels } from "./local.mjs"
 * @import { Mover, Spot } from "./where.mjs"
 */
import { length, subtract } from "../../../../../demo/motion/vector.mjs";
import { chainEnd, channelsOf } from "./local.mjs";
import { drawn, spotOf } from "./where.mjs";

/** @type {WeakMap<Channels, Map<string, number[][]>>} */
const paths = new WeakMap();

/** Where a part's end is on every frame, in the frame of what carries it. @param {KeyedShot} shot @param {Mover} one @returns {number[][]} */
export function pathOf(shot, one) {
  const channels = channelsOf(shot);
  let known = paths.get(channels);
  if (known === undefined) {
    known = new Map();
    paths.set(channels, known);
  }
  const name = `${one.lever.chain[0].id} ${one.joints.join()}`;
  let path = known.get(name);
  if (path === undefined) {
    path = Array.from({ length: channels.count }, (_, i) =>
      chainEnd(channels, channels, one.lever, one.joints, channels.first + i),
    );
    known.set(name, path);
  }
  return path;
}

/** Path of a place's part. @param {Channels} poses @param {Channels} twin @param {Place} place @param {number} from @param {number} to @returns {number[][]} */
export function pathAt(poses, twin, place, from, to) {
  const { lever, joints } = spotOf(place);
  const points = [];
  for (let frame = from; frame <= to; frame++) points.push(chainEnd(poses, twin, lever, joints, frame));
  return points;
}

/**
 * Metres from each frame to the next at a place, in the frame of what carries the part.
 * @param {Channels} poses @param {Channels} twin @param {Spot} spot @param {number} from @param {number} to
 */
export const stepsAt = (poses, twin, spot, from, to) => spacingOf(pathAt(poses, twin, spot, from, to));

/** Metres from each frame to the next. @param {readonly number[][]} path @returns {number[]} */
export const spacingOf = (path) => path.slice(1).map((point, i) => length(subtract(point, path[i])));

/**
 * A move between two slow spots.
 * @typedef {object} Move
 * @property {number} from last slow frame before it @property {number} to first slow frame after it
 * @property {number} peak frame after which it is quickest
 * @property {number} spacing metres per frame there @property {number} travel metres along the path
 */

/**
 * Moves of a part: stretches around a peak of its speed, from where it is an eighth of that to where it is again.
 * @param {KeyedShot} shot @param {Mover} one @returns {Move[]}
 */
export const movesOf = (shot, one) =>
  movesAlong(spacingOf(pathOf(shot, one)), shot.performance.first, 0.002 * one.figure.body.stature);

/** @param {readonly number[]} spacing @param {number} first frame @param {number} least spacing of a peak @returns {Move[]} */
export function movesAlong(spacing, first, least) {
  /** @type {Move[]} */
  const found = [];
  let i = 1;
  while (i < spacing.length - 1) {
    const isPeak = spacing[i] >= spacing[i - 1] && spacing[i] > spacing[i + 1];
    if (!isPeak || spacing[i] < least) {
      i++;
      continue;
    }
    const slow = spacing[i] / 8;
    let [a, b] = [i, i];
    while (a > 0 && spacing[a - 1] > slow && spacing[a - 1] <= spacing[i] * 1.001) a--;
    while (b < spacing.length - 1 && spacing[b + 1] > slow && spacing[b + 1] <= spacing[i] * 1.001) b++;
    const ends = a > 0 && b < spacing.length - 1 && spacing[a - 1] <= slow && spacing[b + 1] <= slow;
    if (ends) {
      const travel = spacing.slice(a, b + 1).reduce((sum, one) => sum + one, 0);
      found.push({ from: first + a, to: first + b + 1, peak: first + i, spacing: spacing[i], travel });
    }
    i = ends ? b + 1 : i + 1;
  }
  return found;
}

/**
 * Whether a part may be moved without dragging a planted end along: legs only while they swing.
 * @param {KeyedShot} shot @param {Mover} one @param {number} from @param {number} to
 */
export const isFree = (shot, { part, figure, limb }, from, to) =>
  part !== "leg" ||
  shot.performance.events.some(
    (event) =>
      event.kind === "swing" &&
      event.figure === figure.id &&
      event.limb === limb &&
      event.from <= from &&
      event.to >= to,
  );

/** Moves of all parts, weighted. @param {KeyedShot} shot @param {Random} random @param {readonly Mover[]} parts @returns {{ one: Mover, move: Move }[]} */
export function movesIn(shot, random, parts) {
  const all = parts.flatMap((one) => {
    const moves = movesOf(shot, one);
    return moves.map((move) => ({ one, move, weight: one.weight / moves.length }));
  });
  return drawn(random, all, ({ weight }) => weight);
}
