import { referenceRate } from "../../base/constants.ts";
import type { PlantLimits } from "./plant.ts";

/**
 * When a point of a foot counts as planted, in body heights and body heights per second; our choice, by what feet do.
 * A plant lasts while the point is lower and slower than a swinging foot (5 cm, 1.2 m/s of a grown person), counts where
 * it gets half as high and two thirds as fast, or nearly stands (0.1 m/s) a little higher: it hovers. Farther below the
 * surface than a foot is long it is not on it.
 */
export const plantShares = {
  deepest: 0.1,
  leaveHeight: 0.03,
  leaveSpeed: 0.7,
  enterHeight: 0.015,
  enterSpeed: 0.45,
  stillSpeed: 0.06,
} as const;

/** Shortest plant, seconds: the shortest of a sprint last about 0.1 s; two samples at 24 frames per second. */
const shortestPlant = 0.06;

/** Limits of a plant for a body height (metres) and a rate (samples per second). */
export function plantLimitsFor(stature: number, rate: number): PlantLimits {
  return {
    deepest: plantShares.deepest * stature,
    leaveHeight: plantShares.leaveHeight * stature,
    leaveSpeed: plantShares.leaveSpeed * stature,
    enterHeight: plantShares.enterHeight * stature,
    enterSpeed: plantShares.enterSpeed * stature,
    stillSpeed: plantShares.stillSpeed * stature,
    shortest: Math.max(2, Math.round(shortestPlant * rate)),
    longestGap: Math.round(rate / referenceRate),
  };
}
