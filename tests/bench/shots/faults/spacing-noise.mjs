// @ts-check
/**
 * Jitter: noise on a stretch of keys, on every frame or on every other.
 * @import { FaultKind, Place } from "../types.d.ts"
 * @import { Channels } from "./tools/local.mjs"
 */
import { add, dot, scale, subtract } from "../../../../demo/motion/vector.mjs";
import { addKnots } from "./tools/curve.mjs";
import { fitted } from "./tools/fit.mjs";
import { leverEnd } from "./tools/local.mjs";
import { curvesAt, drawn, framesAt24, jointsIn, placeOn, placesFrom, spotOf } from "./tools/where.mjs";

/**
 * How far each frame lies off the middle of its neighbours, more than in the twin: root mean square over the stretch,
 * as the standard deviation of noise that is new on every frame (whose bend has one and a half times its variance).
 * @param {Channels} poses @param {Place} place @param {Channels} twin @returns {number} % of the stature
 */
function roughness(poses, place, twin) {
  const { from, to } = place;
  const { lever, stature } = spotOf(place);
  const apart = [];
  for (let frame = from - 1; frame <= to + 1; frame++) {
    apart.push(subtract(leverEnd(poses, twin, lever, frame), leverEnd(twin, twin, lever, frame)));
  }
  let sum = 0;
  for (let i = 1; i + 1 < apart.length; i++) {
    const bend = subtract(apart[i], scale(add(apart[i - 1], apart[i + 1]), 0.5));
    sum += dot(bend, bend);
  }
  return (100 * Math.sqrt(sum / (to - from + 1) / 1.5)) / stature;
}

/** @type {FaultKind} */
const jitter = {
  name: "jitter",
  checks: ["jitter", "pop"],
  unit: "% of the stature, standard deviation",
  sizes: [
    {
      value: 0.15,
      reason:
        "One and a half pixels of a full figure in a 1080-line picture: a shimmer, seen because it never rests.",
    },
    { value: 0.4, reason: "Seven millimetres on a grown person, several times a second: the part buzzes." },
    { value: 1, reason: "Two centimetres from frame to frame: raw capture with a lost marker." },
  ],
  layer: "keys",
  places: (clean, random) => {
    if (clean.style.stage === "blocked") return [];
    const { first, last } = clean.performance;
    const joints = jointsIn(clean);
    return placesFrom(
      drawn(random, [...joints, ...joints, ...joints], ({ weight }) => weight),
      (one) => {
        const span = framesAt24(clean, random.integer(10, 30));
        if (last - first < span + 8) return undefined;
        const from = random.integer(first + 3, last - 3 - span);
        return placeOn(one, from, from + span, { every: random.chance(0.7) ? 1 : 2 });
      },
    );
  },
  edit: (shot, place, size, random) => {
    const { from, to } = place;
    const every = /** @type {number} */ (place["every"]);
    const draw = random.fork("noise");
    // Sum of three uniform draws: near enough to normal, and never far out.
    const noises = curvesAt(shot, place).map(({ joint, channel }) => {
      const unit = channel.startsWith("rotation") ? 1 : 0.01 * spotOf(place).stature;
      /** @type {[number, number][]} */
      const knots = [[from - 1, 0]];
      for (let frame = from; frame <= to; frame += every) {
        knots.push([frame, unit * (draw.between(-1, 1) + draw.between(-1, 1) + draw.between(-1, 1))]);
      }
      knots.push([to + 1, 0]);
      return { name: `${joint} ${channel}`, knots };
    });
    fitted(
      shot,
      spotOf(place).joints,
      (trial, amount) => {
        for (const { name, knots } of noises) {
          const curve = trial.curves.get(name);
          if (curve === undefined) continue;
          addKnots(
            curve,
            knots.map(([frame, by]) => [frame, by * amount]),
          );
        }
      },
      (poses, twin) => roughness(poses, place, twin),
      size,
      [0, 20],
    );
  },
  measure: roughness,
};

/** @type {FaultKind[]} */
export const noise = [jitter];
