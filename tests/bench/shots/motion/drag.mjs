// @ts-check
/**
 * Loose chains and tails that hang on a moving base: uniform rods, drawn by gravity, slowed by damping, and drawn to their
 * rest shape by springs where they are stiff. The rods are coupled: each step solves their constraints exactly, with the
 * consistent mass matrix of a rod. So one rod swings at √(3g/2L), and many at the pace of a hanging chain, 1.2024·√(g/L).
 * @import { Performance } from "../types.d.ts"
 */
import { inverse, length, mix, multiply, rotate, scale, unit } from "../../../../demo/motion/vector.mjs";
import { chainMotion } from "./chain.mjs";
import { setTurn } from "./limbs.mjs";
import { figureOf, framesOf } from "./performance.mjs";
import { rigOf } from "./rig.mjs";
import { sourceOf, worldSeries } from "./world.mjs";

/**
 * @typedef {object} DragOptions
 * @property {number} [damping] share of critical damping of the slowest swing: 0.3 a plait, 0.6 cloth, 0.8 a tail (0.35)
 * @property {number} [stiffness] Hz at which its own springs would swing it without gravity, at its base; they grow weaker
 *   towards the tip, which trails more (0: it hangs loose)
 * @property {number} [gravity] share of gravity that acts: 1; less in water or where muscles carry a tail
 * @property {number} [tip] metres of a bone beyond the last joint; the last joint is the tip itself if left out, but for a
 *   limb of one joint, whose bone hangs down by 0.1
 */

/** Seconds for which a chain settles before the first frame. */
const lead = 4;

/**
 * Lets a limb's joints be dragged by what carries them, over the whole table: sets the rotations of its joints. Do it when
 * everything above is set. Before the first frame the base has moved on evenly as it does there, until the chain has settled.
 * @param {Performance} performance @param {string} figure @param {number} limb index into the body's limbs
 * @param {DragOptions} [options]
 */
export function dragLimb(performance, figure, limb, options = {}) {
  dragChain(performance, figureOf(performance, figure).body.limbs[limb].joints, options);
}

/**
 * The same for any chain of joints, each the child of the one before.
 * @param {Performance} performance @param {readonly string[]} joints @param {DragOptions} [options]
 */
export function dragChain(performance, joints, options = {}) {
  const { damping = 0.35, stiffness = 0, gravity = 1 } = options;
  const rig = rigOf(performance);
  const top = rig.require(joints[0]);
  const carrier = worldSeries(sourceOf(performance))(rig.parent[top]);
  const rods = rodsOf(rig, joints, options.tip);
  const count = framesOf(performance);
  const base = (/** @type {number} */ i) => {
    const turn = [...carrier.orientation.subarray(4 * i, 4 * i + 4)];
    const shift = rotate(turn, [...rig.at.subarray(3 * top, 3 * top + 3)]);
    return { at: shift.map((part, k) => part + carrier.position[3 * i + k]), turn };
  };
  const frames = Array.from({ length: count }, (_, i) => base(i));
  const motion = chainMotion(frames, { rods, rate: performance.rate, lead, damping, stiffness, gravity });
  for (let i = 0; i < count; i++) {
    let world = frames[i].turn;
    rods.forEach((rod, n) => {
      const direction = [0, 1, 2].map((k) => motion[n][3 * i + k]);
      const turn = shortestTurn(rod, rotate(inverse(world), direction));
      setTurn(performance, joints[n], performance.first + i, turn);
      world = multiply(world, turn);
    });
  }
}

/** @param {import("./rig.mjs").Rig} rig @param {readonly string[]} joints @param {number} [tip] */
function rodsOf(rig, joints, tip) {
  const rods = joints.slice(1).map((joint) => {
    const i = rig.require(joint);
    return [...rig.at.subarray(3 * i, 3 * i + 3)];
  });
  if (rods.length === 0) return [[0, -(tip ?? 0.1), 0]];
  return tip === undefined ? rods : [...rods, scale(unit(rods[rods.length - 1]), tip)];
}

/** The shortest turn from one direction to another. @param {number[]} from @param {number[]} to @returns {number[]} */
function shortestTurn(from, to) {
  const [a, b] = [unit(from), unit(to)];
  const half = unit(mix(a, b, 0.5));
  if (length(half) < 0.5) return Math.abs(a[0]) < 0.9 ? [1, 0, 0, 0] : [0, 1, 0, 0];
  return [
    a[1] * half[2] - a[2] * half[1],
    a[2] * half[0] - a[0] * half[2],
    a[0] * half[1] - a[1] * half[0],
    a[0] * half[0] + a[1] * half[1] + a[2] * half[2],
  ];
}
