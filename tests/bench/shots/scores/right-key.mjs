// @ts-check
/**
 * Whether the key that a note names first is the one to look at.
 * @import { Key, KeyedCurve, KeyedShot, Poses } from "../types.d.ts"
 * @import { Planted, PlantedShot } from "../planting/planting.d.ts"
 * @import { KeyView, NoteView } from "./records.d.ts"
 */
import { keyId } from "../planting/changed-keys.mjs";
import { limitAfter } from "./cleared.mjs";

/**
 * @param {NoteView} note @param {Pick<Planted, "keys">} planted
 */
export function namesPlannedKey({ key }, { keys }) {
  return key !== null && keys.has(keyId(key.joint, key.channel, key.frame));
}

/**
 * Whether putting the key back to what the twin has there clears the fault.
 * @param {KeyView} key
 * @param {Planted} planted
 * @param {PlantedShot} shot
 * @param {(keyed: KeyedShot) => Poses} posesOf
 */
export function restoringClears(key, planted, { full, twin }, posesOf) {
  const limit = limitAfter(planted, twin.poses);
  return restored(full.keyed, twin.keyed, key).some((keyed) => {
    const left = planted.fault.kind.measure(posesOf(keyed), planted.fault.place, twin.poses);
    return left < limit;
  });
}

/**
 * A shot with one key put back: to the twin's key; where the twin has none, taken out.
 * @param {KeyedShot} shot @param {KeyedShot} twin @param {KeyView} key
 * @returns {KeyedShot[]} none where there is nothing to put back
 */
export function restored(shot, twin, { joint, channel, frame }) {
  const name = `${joint} ${channel}`;
  const curve = shot.curves.get(name);
  if (curve === undefined) return [];
  const isHere = (/** @type {Key} */ key) => Math.abs(key.frame - frame) < 1e-4;
  const there = twin.curves.get(name);
  const old = there?.keys.find(isHere);
  const others = curve.keys.filter((key) => !isHere(key));
  if (others.length === 0 && old === undefined) return [];
  const mode = old?.interpolation ?? there?.interpolation ?? curve.interpolation;
  const keys = old === undefined ? others : [...others, { ...old, interpolation: mode }];
  keys.sort((a, b) => a.frame - b.frame);
  /** @type {Map<string, KeyedCurve>} */
  const curves = new Map(shot.curves);
  curves.set(name, { ...curve, keys });
  return [{ ...shot, curves }];
}
