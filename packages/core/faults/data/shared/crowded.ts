import { measure } from "../../../base/study.ts";
import { stepMode } from "../../../curve/keys.ts";
import { curveTraitsOf } from "../../../curve/traits.ts";
import { curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";

/** Least distance between neighbouring keys, in the document's frames, before they crowd. */
export const leastGap = 0.95;
/** Share of a curve's gaps that are shorter from which on it counts as sampled at a higher rate. */
export const sampledShare = 0.25;

/**
 * Indices of keys that stand closer behind the key before than they should; a step key may be followed at once by its
 * new value, and a curve that was sampled more densely throughout has none.
 * @param gap in the document's frames
 */
export function crowdedIn({ frames, modes }: Curve, gap: number, share: number): readonly number[] {
  if (frames.length < 3) return none;
  const close: number[] = [];
  for (let key = 1; key < frames.length; key++) {
    if (frames[key] - frames[key - 1] < gap && modes[key - 1] !== stepMode) close.push(key);
  }
  return close.length >= share * (frames.length - 1) ? none : close;
}

/** {@link crowdedIn} of a curve by its name, with the values of the program. */
export const crowdedKeysOf = measure<string, readonly number[]>("crowded keys", (study, name) => {
  const traits = curveTraitsOf(study, name);
  const curve = traits !== null && traits.gap < leastGap ? curveOf(study, name) : null;
  return curve === null ? none : crowdedIn(curve, leastGap, sampledShare);
});

const none: readonly number[] = [];
