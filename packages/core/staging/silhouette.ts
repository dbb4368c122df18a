import type { Study } from "../base/study.ts";
import type { Lens } from "./camera.ts";
import { type Drawable, discs, discsOf, laySolid } from "./draw.ts";
import { Raster, type Window } from "./raster.ts";

/** Places across the larger side of a shape's box: a hand of an upright figure is about twelve of them long. */
export const placesAcross = 128;
/** Places left free around. */
const margin = 2;

const raster = new Raster(placesAcross, placesAcross);
const ofPart = 1;
const ofRest = 2;
const unit: Window = { left: 0, top: 0, scale: 1 };
const window: Window = { left: 0, top: 0, scale: 1 };

/**
 * How much of a part is seen as a shape of its own: the share of the places that it covers over which nothing of the rest
 * lies, in front or behind. Drawn through the lens into {@link placesAcross} places across the box of both.
 * @returns NaN where the part is not seen whole, or covers nothing
 */
export function shareOutside(
  study: Study,
  lens: Lens,
  part: readonly Drawable[],
  rest: readonly Drawable[],
  sample: number,
): number {
  if (!fit(study, lens, [part, rest], sample)) return Number.NaN;
  raster.clear();
  for (const drawable of part) {
    const count = discsOf(study, lens, drawable, sample, window);
    if (count === 0) return Number.NaN;
    laySolid(study, lens, drawable, sample, window, raster, ofPart);
  }
  for (const drawable of rest) laySolid(study, lens, drawable, sample, window, raster, ofRest);
  let alone = 0;
  let all = 0;
  for (const groups of raster.groups) {
    if ((groups & ofPart) === 0) continue;
    all++;
    if (groups === ofPart) alone++;
  }
  return all === 0 ? Number.NaN : alone / all;
}

/** Lets the window hold some solids at a sample; false where none of them is seen. */
function fit(study: Study, lens: Lens, lists: readonly (readonly Drawable[])[], sample: number): boolean {
  let left = Infinity;
  let right = -Infinity;
  let low = Infinity;
  let high = -Infinity;
  for (const list of lists) {
    for (const drawable of list) {
      const count = discsOf(study, lens, drawable, sample, unit);
      for (let k = 0; k < count; k++) {
        const x = discs[4 * k];
        const y = -discs[4 * k + 1];
        const radius = discs[4 * k + 2];
        left = Math.min(left, x - radius);
        right = Math.max(right, x + radius);
        low = Math.min(low, y - radius);
        high = Math.max(high, y + radius);
      }
    }
  }
  const size = Math.max(right - left, high - low);
  if (!(size > 0)) return false;
  window.scale = (placesAcross - 2 * margin) / size;
  window.left = left - margin / window.scale;
  window.top = high + margin / window.scale;
  return true;
}
