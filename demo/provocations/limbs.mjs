// @ts-check
/** Arms and legs whose ends are put somewhere, as a rig with a handle at the wrist or the ankle does it. */
import { defaultSettings, gridOf, registry, rigOf, studyOf, worldOf } from "@keyside/core";
import { reach } from "../motion/two-bone.mjs";
import { inverse, multiply, subtract, toAngles } from "../motion/vector.mjs";
import { rekeyed, valueIn } from "./keying.mjs";

/** @typedef {import("./keying.mjs").Shot} Shot @typedef {import("./keying.mjs").KeyEdit} KeyEdit */

const axes = /** @type {const} */ (["x", "y", "z"]);

/** Bones in centimetres, the way the middle joint bends, and the rotation orders of the first and the last joint. */
const limbs = {
  arm: {
    parts: ["upper_arm", "forearm", "hand"],
    bones: [29, 26],
    bend: /** @type {const} */ (-1),
    orders: ["zxy", "xzy"],
  },
  leg: {
    parts: ["thigh", "shin", "foot"],
    bones: [43, 42],
    bend: /** @type {const} */ (1),
    orders: ["xzy", "yxz"],
  },
};

/** Where a node is at a frame, in centimetres, and how it is turned. @param {Shot} shot */
export function posesOf(shot) {
  const study = studyOf(shot, defaultSettings(registry));
  const { frames } = gridOf(study);
  return (/** @type {string} */ node, /** @type {number} */ frame) => {
    const index = rigOf(study).indexOf.get(node);
    if (index === undefined) throw new Error(`The shot has no node ${node}.`);
    const { position, orientation } = worldOf(study, index);
    const at = frames.indexOf(frame);
    return {
      position: Array.from(position.subarray(3 * at, 3 * at + 3), (metres) => 100 * metres),
      orientation: Array.from(orientation.subarray(4 * at, 4 * at + 4)),
    };
  };
}

/**
 * Keys of a limb on every frame of a stretch, so that its end is where it is wanted and keeps its turn in the world.
 * @param {Shot} shot @param {"arm" | "leg"} kind @param {"l" | "r"} side @param {number} from @param {number} to
 * @param {(place: number[], frame: number) => number[]} wanted where the end is to be, from where it is
 * @param {Shot} [was] the shot from which the end's place is taken; `shot` itself if left out
 * @returns {KeyEdit[]}
 */
export function reaching(shot, kind, side, from, to, wanted, was = shot) {
  const { parts, bones, bend, orders } = limbs[kind];
  const [upper, lower, end] = parts.map((part) => `${part}_${side}`);
  const parent = shot.header.nodes.find(({ id }) => id === upper)?.parent ?? "";
  const [now, before] = [posesOf(shot), posesOf(was)];
  const anglesAt = (/** @type {string} */ node, /** @type {number} */ frame) =>
    axes.map((axis) => valueIn(was, node, `rotation.${axis}`, frame));
  /** @type {Record<string, number[][]>} */
  const course = { [upper]: [], [lower]: [], [end]: [] };
  for (let frame = from; frame <= to; frame++) {
    const start = now(upper, frame).position;
    const goal = before(end, frame);
    const pole = subtract(before(lower, frame).position, before(upper, frame).position);
    const target = wanted(goal.position, frame);
    const limb = reach({ start, target, pole, upper: bones[0], lower: bones[1], bend });
    if (limb.stretch > 1) throw new Error(`The ${kind} cannot reach so far at frame ${frame}.`);
    const held = now(parent, frame).orientation;
    course[upper].push(toAngles(orders[0], multiply(inverse(held), limb.upper), anglesAt(upper, frame)));
    course[lower].push([limb.angle, ...anglesAt(lower, frame).slice(1)]);
    const hinged = multiply(limb.upper, hinge(limb.angle));
    course[end].push(toAngles(orders[1], multiply(inverse(hinged), goal.orientation), anglesAt(end, frame)));
  }
  return Object.entries(course).flatMap(([node, angles]) =>
    axes.flatMap((axis, n) => {
      const channel = /** @type {const} */ (`rotation.${axis}`);
      if (node === lower && n > 0) return [];
      const keys = angles.map((one, i) => {
        const [a, b] = [angles[Math.max(0, i - 1)][n], angles[Math.min(angles.length - 1, i + 1)][n]];
        return { frame: from + i, value: one[n], slope: (b - a) / 2 };
      });
      return rekeyed(shot, node, channel, keys);
    }),
  );
}

/** @param {number} degrees about x */
const hinge = (degrees) => {
  const half = (degrees * Math.PI) / 360;
  return [Math.sin(half), 0, 0, Math.cos(half)];
};
