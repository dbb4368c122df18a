// @ts-check
/** From courses of angles and places to keyed curves. */
import { fitKeys, keysOnOnes } from "./keys.mjs";

const axes = ["x", "y", "z"];

/**
 * Keys one kind of channel of a node from a course of three numbers. An axis that does not move gets no curve; the
 * value it holds goes into the node's rest values.
 * @param {import("./skeleton.mjs").Node} node
 * @param {"translation" | "rotation"} kind
 * @param {(frame: number) => number[]} asked the course
 * @param {{ from: number, to: number, tolerance: number, at?: number[] }} how
 * @returns {import("./keys.mjs").KeyedCurve[]}
 */
export function keyCourse(node, kind, asked, how) {
  const course = remembered(asked);
  const curves = [];
  const rest = [0, 1, 2].map((axis) => Math.round(course(how.from)[axis] * 1000) / 1000 + 0);
  for (let axis = 0; axis < 3; axis++) {
    const one = (/** @type {number} */ frame) => course(frame)[axis];
    const moved = moving(one, how.from, how.to, how.tolerance);
    if (moved) curves.push(curve(node.id, `${kind}.${axes[axis]}`, "bezier", fitKeys(one, how)));
  }
  if (kind === "rotation" && rest.some((value) => value !== 0)) node.rotation = rest;
  if (kind === "translation") node.translation = rest;
  return curves;
}

/**
 * Keys a node's rotation once per frame (limbs that were solved).
 * @param {string} node @param {number[][]} angles one per frame @param {number} from
 * @returns {import("./keys.mjs").KeyedCurve[]}
 */
export function keySolved(node, angles, from) {
  return [0, 1, 2].flatMap((axis) => {
    const values = angles.map((one) => one[axis]);
    const spread = Math.max(...values) - Math.min(...values);
    return spread < 0.01 ? [] : [curve(node, `rotation.${axes[axis]}`, "linear", keysOnOnes(values, from))];
  });
}

/**
 * Keys a value that changes at once and holds.
 * @param {string} node @param {string} channel @param {[frame: number, value: number][]} list
 * @returns {import("./keys.mjs").KeyedCurve}
 */
export const keyStepped = (node, channel, list) =>
  curve(
    node,
    channel,
    "step",
    list.map(([frame, value]) => ({ frame, value })),
  );

/** @param {string} node @param {string} channel @param {string} interpolation @param {import("./keys.mjs").Key[]} keys */
const curve = (node, channel, interpolation, keys) => ({ node, channel, interpolation, keys });

/** @param {import("./moves.mjs").Track} course @param {number} from @param {number} to @param {number} tolerance */
function moving(course, from, to, tolerance) {
  const start = course(from);
  for (let f = from; f <= to; f++) if (Math.abs(course(f) - start) > tolerance / 2) return true;
  return false;
}

/**
 * A course that is worked out once per frame.
 * @param {(frame: number) => number[]} course @returns {(frame: number) => number[]}
 */
function remembered(course) {
  /** @type {Map<number, number[]>} */
  const known = new Map();
  return (frame) => {
    const before = known.get(frame);
    if (before !== undefined) return before;
    const value = course(frame);
    known.set(frame, value);
    return value;
  };
}
