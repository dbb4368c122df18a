import type { Study } from "../base/study.ts";
import { gridOf } from "../time/grid.ts";
import type { Lens } from "./camera.ts";
import { type Colour, luminanceOf, noColour, rednessOf } from "./colour.ts";
import { drawablesOf, drawSolids, wholePicture } from "./draw.ts";
import { backgroundOf, colourOf } from "./painted.ts";
import { nothing, Raster } from "./raster.ts";
import { solidsOf } from "./solids.ts";

/** Places of the picture's height, and of the widest picture that is looked at. */
const high = 36;
const wide = 96;
const raster = new Raster(wide, high);

/** Least change of relative luminance that counts, and what the darker of the two has to be under (WCAG 2.2). */
const leastChange = 0.1;
const darkUnder = 0.8;
/** Least change of redness that counts where one of the two is a saturated red (WCAG 2.1). */
const leastRed = 20;

/** How a place has changed so far: which way it went last, and the farthest that it has been since. */
class Swing {
  way = 0;
  private farthest = Number.NaN;

  /** Whether a further value makes a change that is opposed to the one before; the first counts as well. */
  turns(value: number, isChange: (from: number, to: number) => boolean): boolean {
    if (Number.isNaN(this.farthest)) {
      this.farthest = value;
      return false;
    }
    const way = Math.sign(value - this.farthest);
    if (way === this.way || way === 0) {
      this.farthest = value;
      return false;
    }
    if (!isChange(this.farthest, value)) return false;
    this.way = way;
    this.farthest = value;
    return true;
  }
}

const isLightChange = (a: number, b: number) => Math.abs(a - b) >= leastChange && Math.min(a, b) < darkUnder;

/** What a colour does to the eye; worked out once for each. */
function lightOf() {
  const known = new Map<Colour, { light: number; red: number; isSaturated: boolean }>();
  return (colour: Colour) => {
    let found = known.get(colour);
    if (found === undefined) {
      const { value: red, isSaturated } = rednessOf(colour);
      found = { light: luminanceOf(colour), red, isSaturated };
      known.set(colour, found);
    }
    return found;
  };
}

/** Where the picture flashes in some samples. */
export interface Flashes {
  /**
   * The most flashes, pairs of opposed changes, in a second from a sample on that so large a part of the picture shows.
   * @param sample at which the second begins
   * @param area share of a field of a third of the picture's width and height
   */
  within(sample: number, area: number): number;
}

/** Draws samples one after the other and counts at each place the opposed changes of its light, and of its red. */
export function flashesIn(study: Study, lens: Lens, from: number, to: number): Flashes {
  const { rate } = gridOf(study);
  const drawables = drawablesOf(study, solidsOf(study));
  const colours = drawables.map(({ solid }) => colourOf(study, solid.node));
  const background = backgroundOf(study);
  const of = lightOf();
  const places = wide * high;
  const light = Array.from({ length: places }, () => new Swing());
  const red = Array.from({ length: places }, () => new Swing());
  const before = new Int32Array(places).fill(noColour);
  // Per sample, the changes at each place: one bit for light, one for red.
  const changes: Uint8Array[] = [];
  for (let i = from; i <= to; i++) {
    const now = new Uint8Array(places);
    changes.push(now);
    if (lens.seen[i] === 0) continue;
    drawSolids(study, lens, drawables, i, wholePicture(lens, i, raster), raster);
    for (let at = 0; at < places; at++) {
      const owner = raster.owner[at];
      const colour = owner === nothing ? background[i] : colours[owner][i];
      if (colour === noColour) continue;
      const seen = of(colour);
      const last = before[at] === noColour ? seen : of(before[at]);
      if (light[at].turns(seen.light, isLightChange)) now[at] |= 1;
      const isRed = seen.isSaturated || last.isSaturated;
      if (red[at].turns(seen.red, (a, b) => isRed && Math.abs(a - b) > leastRed)) now[at] |= 2;
      before[at] = colour;
    }
  }
  const second = Math.max(1, Math.round(rate));
  const counts = [new Uint8Array(places), new Uint8Array(places)];
  return {
    within(sample, area) {
      for (const count of counts) count.fill(0);
      const first = sample - from;
      for (let i = first; i < Math.min(first + second, changes.length); i++) {
        const now = changes[i];
        for (let at = 0; at < places; at++) {
          if ((now[at] & 1) !== 0) counts[0][at]++;
          if ((now[at] & 2) !== 0) counts[1][at]++;
        }
      }
      const width = Math.min(wide, Math.floor(lens.aspect[sample] * high));
      return Math.max(...counts.map((count) => mostOver(count, width, area))) / 2;
    },
  };
}

/** The largest number that a share of some field of a third of the picture's width and height reaches. */
function mostOver(count: Uint8Array, width: number, area: number): number {
  const w = Math.max(1, Math.round(width / 3));
  const h = Math.max(1, Math.round(high / 3));
  let most = 0;
  for (let wanted = 1; ; wanted++) {
    let isReached = false;
    for (let top = 0; top + h <= high && !isReached; top += Math.max(1, h >> 1)) {
      for (let left = 0; left + w <= width && !isReached; left += Math.max(1, w >> 1)) {
        let reached = 0;
        for (let y = top; y < top + h; y++)
          for (let x = left; x < left + w; x++) if (count[y * wide + x] >= wanted) reached++;
        isReached = reached > area * w * h;
      }
    }
    if (!isReached) return most;
    most = wanted;
  }
}
