import { headerOf, type Study, shotMeasure } from "../study/study.ts";
import { restPositionsOf } from "./rig.ts";

/** Stature that is assumed for a rig whose units nobody declared, in metres; common practice. */
export const assumedStature = 1.7;

/**
 * Metres per document unit: what the document declares, else worked out from the rest pose's height.
 *
 * The motion's own scale never enters, so that an edit to a key does not change the units.
 */
export const metresPerUnitOf = shotMeasure<number>("metres per unit", (study: Study) => {
  const declared = headerOf(study).space?.metresPerUnit;
  if (declared !== undefined) return declared;
  const height = restHeight(study);
  return height > 0 ? assumedStature / height : 1;
});

function restHeight(study: Study): number {
  const positions = restPositionsOf(study);
  const axis = { x: 0, y: 1, z: 2 }[headerOf(study).space?.up ?? "y"];
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = axis; i < positions.length; i += 3) {
    low = Math.min(low, positions[i]);
    high = Math.max(high, positions[i]);
  }
  return high > low ? high - low : 0;
}
