// @ts-check
/**
 * Finding how strongly a slip has to be made so that its measure comes to the planned size.
 * @import { KeyedShot } from "../../types.d.ts"
 * @import { Channels } from "./local.mjs"
 */
import { copyOf } from "./curve.mjs";
import { channelsOf } from "./local.mjs";

/** A shot whose curves of some joints are its own; the others are shared. @param {KeyedShot} shot @param {readonly string[]} joints @returns {KeyedShot} */
export function trialOf(shot, joints) {
  const own = new Set(joints);
  const curves = [...shot.curves].map(
    ([name, curve]) => /** @type {const} */ ([name, own.has(curve.joint) ? copyOf(curve) : curve]),
  );
  return { ...shot, curves: new Map(curves) };
}

/**
 * Makes a slip so strong that its measure is about `size`; the measure must grow with the amount. Where the greatest
 * amount does not reach the size, that one is made.
 * @param {KeyedShot} shot changed in place
 * @param {readonly string[]} joints whose curves the slip changes
 * @param {(shot: KeyedShot, amount: number) => void} slip
 * @param {(poses: Channels, twin: Channels) => number} measure
 * @param {number} size
 * @param {readonly [low: number, high: number]} range of the amount
 */
export function fitted(shot, joints, slip, measure, size, [low, high]) {
  const before = channelsOf(trialOf(shot, joints));
  const measured = (/** @type {number} */ amount) => {
    const trial = trialOf(shot, joints);
    slip(trial, amount);
    return measure(channelsOf(trial), before);
  };
  let [a, b] = [low, high];
  if (measured(high) > size) {
    for (let round = 0; round < 14; round++) {
      const middle = (a + b) / 2;
      if (measured(middle) < size) a = middle;
      else b = middle;
    }
  }
  slip(shot, b);
}

/**
 * What a slip's measure comes to on a clean shot, for finding out whether a place can take it.
 * @param {KeyedShot} clean @param {readonly string[]} joints @param {(shot: KeyedShot) => void} slip
 * @param {(poses: Channels, twin: Channels) => number} measure
 */
export function tried(clean, joints, slip, measure) {
  const trial = trialOf(clean, joints);
  slip(trial);
  return measure(channelsOf(trial), channelsOf(clean));
}

/** Grows a value until a rising function reaches a goal; undefined where the greatest does not. @param {(value: number) => number} f @param {number} goal @param {number} greatest */
export function reaching(f, goal, greatest) {
  if (f(greatest) < goal) return undefined;
  let [low, high] = [0, greatest];
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2;
    if (f(middle) < goal) low = middle;
    else high = middle;
  }
  return high;
}
