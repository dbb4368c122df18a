// @ts-check
/**
 * Faults of turns as they are keyed, and of handles: the long way round, axes near lock, curves that leave their band.
 * @import { ChannelName, FaultKind, KeyedShot, Place, Random, Size } from "../types.d.ts"
 * @import { Channels } from "./tools/local.mjs"
 * @import { Mover } from "./tools/where.mjs"
 */
import { length, subtract } from "../../../../demo/motion/vector.mjs";
import { cutAt, denseIn, reshape } from "./tools/curve.mjs";
import { fitted } from "./tools/fit.mjs";
import { angleBetween, channelsOf, leverEnd, localOf } from "./tools/local.mjs";
import { curvesOf, drawn, framesAt24, jointsIn, placeOn, placesFrom, spotOf } from "./tools/where.mjs";

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

/** @type {FaultKind} */
const rotationFlip = {
  name: "rotation flip",
  checks: ["rotation-flip", "pop"],
  unit: "frames at 24 per second spent going the long way round",
  sizes: [
    { value: 1, reason: "One frame upside down: a flash that is seen at full speed, and in every still." },
    { value: 3, reason: "An eighth of a second: the part whirls round." },
    { value: longestFlip, reason: "A quarter of a second: a somersault of the part." },
  ],
  layer: "keys",
  places: (clean, random) => {
    if (clean.style.stage !== "splined") return [];
    const { first, last } = clean.performance;
    const span = framesAt24(clean, longestFlip);
    const all = jointsIn(clean).flatMap((one) =>
      curvesOf(clean, one.joint).flatMap((curve) => {
        if (!curve.channel.startsWith("rotation")) return [];
        return curve.keys.flatMap(({ frame }) => {
          const fits = Number.isInteger(frame) && frame - span - 1 > first && frame < last - 3;
          const isOpen = !denseIn(curve, frame - span - 1, frame) && !denseIn(curve, frame - 2, frame);
          return fits && isOpen ? [{ one, curve, frame, weight: one.weight / curve.keys.length }] : [];
        });
      }),
    );
    return placesFrom(
      drawn(random, all, ({ weight }) => weight),
      ({ one, curve, frame }) =>
        placeOn(one, frame - span - 1, frame, {
          ...{ at: frame, channel: curve.channel, sign: random.chance(0.5) ? 1 : -1 },
        }),
    );
  },
  edit: (shot, place, size) => {
    const { channel, at, sign } = spotOf(place);
    const curve = shot.curves.get(`${place.joint} ${channel}`);
    if (curve === undefined) return;
    const before = at - framesAt24(shot, size) - 1;
    cutAt(curve, before);
    cutAt(curve, at);
    for (const key of curve.keys) if (key.frame >= at - 1e-6) key.value += 360 * sign;
    const slope = (360 * sign) / (at - before);
    reshape(curve, before, at, slope, slope);
  },
  measure: (poses, place, twin) =>
    (astray(poses, place, twin).filter((angle) => angle > 15).length * 24) / poses.performance.rate,
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

/**
 * Two neighbouring keys that say nearly the same, far enough apart for a handle to bulge between them.
 * @param {KeyedShot} clean @param {Random} random @param {(one: Mover, from: number, to: number) => boolean} fits
 * @returns {Place[]}
 */
function likeKeys(clean, random, fits) {
  if (clean.style.stage !== "splined") return [];
  const channels = channelsOf(clean);
  const { first, last } = clean.performance;
  const all = jointsIn(clean).flatMap((one) =>
    curvesOf(clean, one.joint).flatMap((curve) =>
      curve.keys.slice(1).flatMap((key, i) => {
        const [from, to] = [curve.keys[i].frame, key.frame];
        if (to - from < framesAt24(clean, 5) || from < first || to > last) return [];
        const by = key.value - curve.keys[i].value;
        const { lever, figure } = one;
        const here = leverEnd(channels, channels, lever, from);
        const moved = length(
          subtract(leverEnd(channels, channels, lever, from, { [curve.channel]: by }), here),
        );
        const unit = curve.channel.startsWith("rotation") ? 25 : 0.1 * figure.body.stature;
        const reach = length(
          subtract(leverEnd(channels, channels, lever, from, { [curve.channel]: unit }), here),
        );
        const isHeld = moved < 0.004 * figure.body.stature && reach > 0.05 * figure.body.stature;
        return isHeld && fits(one, from, to) ? [{ one, curve, from, to, weight: one.weight }] : [];
      }),
    ),
  );
  return placesFrom(
    drawn(random, all, ({ weight }) => weight),
    ({ one, curve, from, to }) =>
      placeOn(one, from, to, {
        channel: curve.channel,
        sign: random.chance(0.5) ? 1 : -1,
        shape: random.pick(["out", "in", "both"]),
      }),
  );
}

/** Furthest from the twin between the two keys, % of the stature. @param {Channels} poses @param {Place} place @param {Channels} twin */
function bulge(poses, place, twin) {
  const { lever, stature } = spotOf(place);
  let most = 0;
  for (let frame = place.from; frame <= place.to; frame++) {
    const off = subtract(leverEnd(poses, twin, lever, frame), leverEnd(twin, twin, lever, frame));
    most = Math.max(most, length(off));
  }
  return (100 * most) / stature;
}

/** @param {KeyedShot} keyed @param {Place} place @param {number} size */
function pullHandle(keyed, place, size) {
  const { channel, sign, stature } = spotOf(place);
  const { from, to } = place;
  const unit = channel.startsWith("rotation") ? 60 : 0.3 * stature;
  fitted(
    keyed,
    [place.joint],
    (trial, amount) => {
      const curve = trial.curves.get(`${place.joint} ${channel}`);
      if (curve === undefined) return;
      const slope = (sign * amount * unit * 4) / (to - from);
      const shape = place["shape"];
      reshape(curve, from, to, shape === "in" ? 0 : slope, shape === "out" ? 0 : -slope);
    },
    (poses, twin) => bulge(poses, place, twin),
    size,
    [0, 2],
  );
}

/** @param {string} name @param {string[]} checks @param {readonly [Size, Size, Size]} sizes @param {(clean: KeyedShot, random: Random) => Place[]} places @returns {FaultKind} */
const overshootKind = (name, checks, sizes, places) => ({
  ...{ name, checks, sizes, places, layer: /** @type {const} */ ("keys") },
  unit: "% of the stature outside of the keys' band",
  edit: pullHandle,
  measure: bulge,
});

const overHeld = overshootKind(
  "overshoot of a held part",
  ["overshoot"],
  [
    {
      value: 1,
      reason:
        "Ten pixels in a hold, slowly: more than a breath moves a hand (about a centimetre, common practice).",
    },
    { value: 2.5, reason: "Four centimetres on a grown person: the part leaves its pose and comes back." },
    { value: 5, reason: "A hand's breadth: a move that nobody asked for." },
  ],
  (clean, random) => likeKeys(clean, random, ({ part }) => part !== "leg" && part !== "root"),
);

const overPlanted = overshootKind(
  "overshoot over planted feet",
  ["overshoot", "contact-slide", "through-ground", "off-ground"],
  [
    {
      value: 0.6,
      reason:
        "A centimetre on a grown person; slides are seen below 21 mm (Pražák, Hoyet & O'Sullivan 2011).",
    },
    { value: 1.2, reason: "21 mm on a grown person: the published bound." },
    { value: 3, reason: "Five centimetres: the foot skates or sinks." },
  ],
  (clean, random) =>
    likeKeys(clean, random, ({ part, figure, limb }, from, to) =>
      clean.performance.events.some(
        (event) =>
          event.kind === "plant" &&
          event.figure === figure.id &&
          event.from <= from &&
          event.to >= to &&
          (part === "root" || (part === "leg" && event.limb === limb)),
      ),
    ),
);

/** @type {FaultKind[]} */
export const turnFaults = [rotationFlip, gimbalTrouble, overHeld, overPlanted];
