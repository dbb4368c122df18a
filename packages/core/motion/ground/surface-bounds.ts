import type { Study } from "../../base/study.ts";
import { headerOf } from "../../document/inputs.ts";
import { outlineOf } from "../../document/outline.ts";
import { metresPerUnitOf } from "../../rig/stature.ts";
import { upAxisOf } from "../../rig/up.ts";
import { upright } from "./surface.ts";

/** Least and greatest coordinates along x, y and z, metres. */
export type Bounds = readonly (readonly [number, number])[];

/** The box around a surface's outline, and a little more: its least and greatest coordinates, metres, y up. */
export function boundsOf(study: Study, id: string, more: number): Bounds | null {
  const spec = headerOf(study).surfaces?.find((surface) => surface.id === id);
  const up = upAxisOf(study).axis;
  const outline = spec === undefined ? null : outlineOf(spec, up);
  if (outline === null) return null;
  const metres = metresPerUnitOf(study);
  const bounds = [0, 1, 2].map((): [number, number] => [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]);
  for (let k = 0; k < outline.length; k += 3) {
    const corner = upright([outline[k], outline[k + 1], outline[k + 2]], up);
    bounds.forEach((bound, axis) => {
      bound[0] = Math.min(bound[0], corner[axis] * metres - more);
      bound[1] = Math.max(bound[1], corner[axis] * metres + more);
    });
  }
  return bounds;
}

/** Whether a point of a path is within such a box. @param k three times its sample */
export function isWithin(bounds: Bounds, path: Float64Array, k: number): boolean {
  return bounds.every(([least, most], axis) => path[k + axis] >= least && path[k + axis] <= most);
}
