import type { Study } from "../base/study.ts";
import type { Lens } from "./camera.ts";
import type { Raster, Window } from "./raster.ts";
import { projectPoint, seenWidth } from "./screen.ts";
import { pathsOf, type Solid } from "./solids.ts";
import { isVisible } from "./visible.ts";

/** A solid with the paths of its points, looked up once for all frames. */
export interface Drawable {
  readonly solid: Solid;
  readonly paths: readonly Float64Array[];
}

/** Solids made ready to be drawn at any sample. */
export function drawablesOf(study: Study, solids: readonly Solid[]): readonly Drawable[] {
  return solids
    .map((solid) => ({ solid, paths: pathsOf(study, solid) }))
    .filter(({ paths }) => paths.length > 0);
}

/** Most points that a solid has: a box has eight. */
const mostPoints = 8;
const seen = new Float64Array(seenWidth);
/** The discs that {@link discsOf} found last: x, y, radius (places) and depth (metres) each. */
export const discs = new Float64Array(4 * mostPoints);

/**
 * Finds the discs of a solid's points in a raster, in {@link discs}, which the next call fills anew.
 * @returns how many; 0 where the solid is not seen whole
 */
export function discsOf(
  study: Study,
  lens: Lens,
  { solid: { radius, node }, paths }: Drawable,
  sample: number,
  { left, top, scale }: Window,
): number {
  if (!isVisible(study, node, sample)) return 0;
  for (let k = 0; k < paths.length; k++) {
    projectPoint(lens, sample, paths[k], 3 * sample, seen, 0);
    if (Number.isNaN(seen[0])) return 0;
    discs[4 * k] = (seen[0] - left) * scale;
    discs[4 * k + 1] = (top - seen[1]) * scale;
    discs[4 * k + 2] = radius * seen[3] * scale;
    discs[4 * k + 3] = seen[2];
  }
  return paths.length;
}

/** Draws solids at a sample with their depth; the owner of a place is the solid's index in the list. */
export function drawSolids(
  study: Study,
  lens: Lens,
  drawables: readonly Drawable[],
  sample: number,
  window: Window,
  raster: Raster,
): void {
  raster.clear();
  drawables.forEach((drawable, owner) => {
    const count = discsOf(study, lens, drawable, sample, window);
    if (count > 0) raster.solid(discs, count, owner);
  });
}

/** Lays the bits of one solid over a raster. */
export function laySolid(
  study: Study,
  lens: Lens,
  drawable: Drawable,
  sample: number,
  window: Window,
  raster: Raster,
  bits: number,
): void {
  const count = discsOf(study, lens, drawable, sample, window);
  if (count > 0) raster.lay(discs, count, bits);
}

/** The window of a raster that shows the whole picture of a sample. */
export function wholePicture({ aspect }: Lens, sample: number, { height }: Raster): Window {
  return { left: -aspect[sample] / 2, top: 0.5, scale: height };
}
