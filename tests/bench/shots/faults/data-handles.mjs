// @ts-check
/**
 * Handles that take a curve out of the band of its keys.
 * @import { FaultKind, KeyedShot, Place, Random, Size } from "../types.d.ts"
 * @import { Channels } from "./tools/local.mjs"
 * @import { Mover } from "./tools/where.mjs"
 */
import { length, subtract } from "../../../../demo/motion/vector.mjs";
import { reshape } from "./tools/curve.mjs";
import { fitted } from "./tools/fit.mjs";
import { channelsOf, leverEnd } from "./tools/local.mjs";
import { curvesOf, drawn, framesAt24, jointsIn, placeOn, placesFrom, spotOf } from "./tools/where.mjs";

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
export const handleFaults = [overHeld, overPlanted];
