// @ts-check
/**
 * Faults of turns as they are keyed: the long way round, and axes near lock.
 * @import { ChannelName, FaultKind, KeyedCurve, KeyedShot, Place, Random, Size } from "../types.d.ts"
 * @import { Channels } from "./tools/local.mjs"
 */
import { cutAt, denseIn, reshape } from "./tools/curve.mjs";
import { fitted } from "./tools/fit.mjs";
import { angleBetween, channelsOf, localOf } from "./tools/local.mjs";
import { drawn, framesAt24, jointsIn, placeOn, placesFrom, spotOf } from "./tools/where.mjs";

/** Degrees between a joint's own turn and the twin's, per frame of the place. @param {Channels} poses @param {Place} place @param {Channels} twin */
function astray(poses, place, twin) {
  const joint = spotOf(place).lever.chain[0];
  const angles = [];
  for (let frame = place.from; frame <= place.to; frame++) {
    angles.push(angleBetween(localOf(poses, joint, frame).turn, localOf(twin, joint, frame).turn));
  }
  return angles;
}

/** Most frames at 24 per second that a flip takes. */
const longestFlip = 6;

/**
 * Where a turn may start to go the long way: keys of sparse curves, with room before them.
 * @param {KeyedShot} clean @param {Random} random @param {boolean} all whether the joint needs curves of all three axes
 */
function flipPlaces(clean, random, all) {
  if (clean.style.stage !== "splined") return [];
  const { first, last } = clean.performance;
  const span = framesAt24(clean, longestFlip);
  const candidates = jointsIn(clean).flatMap((one) => {
    const curves = ["x", "y", "z"].flatMap((axis) => turnCurve(clean, one.joint, axis) ?? []);
    if (all && curves.length < 3) return [];
    return curves.flatMap((curve) =>
      curve.keys.flatMap(({ frame }) => {
        const fits = Number.isInteger(frame) && frame - span - 1 > first && frame < last - 3;
        const isOpen = curves.every((each) => !denseIn(each, frame - 2, frame));
        return fits && isOpen ? [{ one, curve, frame, weight: one.weight / curve.keys.length }] : [];
      }),
    );
  });
  return placesFrom(
    drawn(random, candidates, ({ weight }) => weight),
    ({ one, curve, frame }) =>
      placeOn(one, frame - span - 1, frame, {
        ...{ at: frame, channel: curve.channel, sign: random.chance(0.5) ? 1 : -1 },
      }),
  );
}

/**
 * Reads a curve's keys otherwise from a frame on; the way there is straight.
 * @param {KeyedCurve} curve @param {number} at @param {number} frames between the last key that was left and this one
 * @param {1 | -1} factor @param {number} by each value becomes factor · value + by
 */
function readOtherwise(curve, at, frames, factor, by) {
  const start = cutAt(curve, at - frames - 1);
  cutAt(curve, at);
  for (const key of curve.keys) {
    if (key.frame < at - 1e-6) continue;
    key.value = factor * key.value + by;
    if (key.in !== undefined) key.in = [key.in[0], factor * key.in[1]];
    if (key.out !== undefined) key.out = [key.out[0], factor * key.out[1]];
  }
  const slope = (cutAt(curve, at).value - start.value) / (at - start.frame);
  reshape(curve, start.frame, at, slope, slope);
}

/** Frames at 24 per second that are plainly off the course. @param {Channels} poses @param {Place} place @param {Channels} twin */
const framesAstray = (poses, place, twin) =>
  (astray(poses, place, twin).filter((angle) => angle > 15).length * 24) / poses.performance.rate;

/** @type {[Size, Size, Size]} */
const flipSizes = [
  {
    value: 1,
    reason: "One frame upside down: a flash that is seen at full speed, and in every still.",
  },
  { value: 3, reason: "An eighth of a second: the part whirls round." },
  { value: longestFlip, reason: "A quarter of a second: a somersault of the part." },
];

/** @type {FaultKind} */
const rotationFlip = {
  name: "rotation flip",
  checks: ["rotation-flip", "pop"],
  unit: "frames at 24 per second spent going the long way round",
  sizes: flipSizes,
  layer: "keys",
  places: (clean, random) => flipPlaces(clean, random, false),
  edit: (shot, place, size) => {
    const { channel, at, sign } = spotOf(place);
    const curve = shot.curves.get(`${place.joint} ${channel}`);
    if (curve !== undefined) readOtherwise(curve, at, framesAt24(shot, size), 1, 360 * sign);
  },
  measure: framesAstray,
};

/**
 * The same turn in other angles: the outer axes half round, the middle one past its right angle. Every key still shows its
 * pose; between two that are read differently the part tumbles through the lock.
 * @type {FaultKind}
 */
const otherAngles = {
  name: "turn read back in other angles",
  checks: ["rotation-flip", "gimbal-lock", "pop"],
  unit: rotationFlip.unit,
  sizes: flipSizes,
  layer: "keys",
  places: (clean, random) => flipPlaces(clean, random, true),
  edit: (shot, place, size) => {
    const { at, sign, lever } = spotOf(place);
    const { id, order } = lever.chain[0];
    const frames = framesAt24(shot, size);
    [...order].forEach((axis, n) => {
      const curve = turnCurve(shot, id, axis);
      if (curve === undefined) return;
      if (n === 1) readOtherwise(curve, at, frames, -1, 180 * sign);
      else readOtherwise(curve, at, frames, 1, 180 * (n === 0 ? sign : -sign));
    });
  },
  measure: framesAstray,
};

/** Degrees of the middle axis from which the other two turn about nearly the same line. */
const nearLock = 55;

/** @type {FaultKind} */
const gimbalTrouble = {
  name: "gimbal trouble",
  checks: ["gimbal-lock", "rotation-flip"],
  unit: "degrees off the course",
  sizes: [
    {
      value: 8,
      reason:
        "Four times a turn of the head that is just seen (1.9°, Wilson et al. 2000), on the way between two poses.",
    },
    { value: 20, reason: "The part swings out sideways on its way." },
    { value: 45, reason: "The part wobbles through poses that nobody keyed." },
  ],
  layer: "keys",
  places: (clean, random) => {
    if (clean.style.stage !== "splined") return [];
    const { first, last } = clean.performance;
    const channels = channelsOf(clean);
    const all = jointsIn(clean).flatMap((one) => {
      const { id, order } = one.lever.chain[0];
      const curves = [...order].map((axis) => turnCurve(clean, id, axis));
      if (curves.some((curve) => curve === undefined)) return [];
      const middle = curves[1];
      return (middle?.keys ?? []).flatMap(({ frame }) => {
        if (!Number.isInteger(frame) || frame < first + 3 || frame > last - 3) return [];
        const value = channels.channel(id, /** @type {ChannelName} */ (`rotation.${order[1]}`), frame);
        return Math.abs(value) >= nearLock && Math.abs(value) <= 125
          ? [{ one, frame, value, weight: one.weight }]
          : [];
      });
    });
    return placesFrom(
      drawn(random, all, ({ weight }) => weight),
      ({ one, frame, value }) => {
        const span = framesAt24(clean, 8);
        const cycle = ["xyz", "yzx", "zxy"].includes(one.lever.chain[0].order) ? 1 : -1;
        return placeOn(one, Math.max(first, frame - span), Math.min(last, frame + span), {
          ...{ at: frame, sign: random.chance(0.5) ? 1 : -1, opposite: -cycle * Math.sign(value) },
        });
      },
    );
  },
  edit: (keyed, place, size) => {
    const { at, sign, lever } = spotOf(place);
    const { id, order } = lever.chain[0];
    const opposite = /** @type {number} */ (place["opposite"]);
    fitted(
      keyed,
      [id],
      (trial, amount) => {
        const [a, , c] = [...order].map((axis) => turnCurve(trial, id, axis));
        if (a === undefined || c === undefined) return;
        cutAt(a, at).value += sign * amount;
        cutAt(c, at).value += opposite * sign * amount;
      },
      (poses, twin) => Math.max(...astray(poses, place, twin)),
      size,
      [0, 175],
    );
  },
  measure: (poses, place, twin) => Math.max(...astray(poses, place, twin)),
};

/** @param {KeyedShot} keyed @param {string} joint @param {string} axis */
const turnCurve = (keyed, joint, axis) => keyed.curves.get(`${joint} rotation.${axis}`);

/** @type {FaultKind[]} */
export const turnFaults = [rotationFlip, otherAngles, gimbalTrouble];
