// @ts-check
import { slerp } from "../../people/kit/math.mjs";

/** Turns from key to key, eased in and out of each. @param {Record<number, number[]>} keys quaternions by frame */
export function turnTrack(keys) {
  const frames = Object.keys(keys)
    .map(Number)
    .sort((a, b) => a - b);
  return (/** @type {number} */ f) => {
    if (f <= frames[0]) return keys[frames[0]];
    for (let i = 0; i + 1 < frames.length; i++) {
      const [a, b] = [frames[i], frames[i + 1]];
      if (f > b) continue;
      const u = (f - a) / (b - a);
      return slerp(keys[a], keys[b], u * u * (3 - 2 * u));
    }
    return keys[frames[frames.length - 1]];
  };
}
