import { floats } from "../../base/room.ts";
import { type Study, sameNumbers, shotMeasure } from "../../base/study.ts";
import { headerOf } from "../../document/inputs.ts";
import { normalOf } from "../../document/outline.ts";
import { metresPerUnitOf } from "../../rig/stature.ts";
import { upAxisOf } from "../../rig/up.ts";

/** A plane on which feet stand: points p with normal · p = height. Metres, y up. */
export interface Surface {
  readonly id: string;
  readonly normal: readonly [number, number, number];
  /** Along the normal, metres. */
  readonly height: number;
  /** Whether the document declares it. */
  readonly declared: boolean;
}

/** The surfaces on which one can stand: those that are declared, but for levels of water and other media. */
export const declaredSurfacesOf = shotMeasure<readonly Surface[]>(
  "declared surfaces",
  (study) => {
    const levels = mediumLevelIds(study);
    return planesOf(study).filter(({ id }) => !levels.has(id));
  },
  sameSurfaces,
);

/** The surfaces that bound a medium, as the level of water does: nobody stands on them. */
export const mediumLevelsOf = shotMeasure<readonly Surface[]>(
  "medium levels",
  (study) => {
    const levels = mediumLevelIds(study);
    return planesOf(study).filter(({ id }) => levels.has(id));
  },
  sameSurfaces,
);

function mediumLevelIds(study: Study): ReadonlySet<string | undefined> {
  return new Set(headerOf(study).surroundings?.map(({ below }) => below));
}

/**
 * The planes that the document declares, in metres and y up. Normals are made unit length; null vectors are left out, and
 * so is what a node carries: these planes stand still.
 */
const planesOf = shotMeasure<readonly Surface[]>(
  "declared planes",
  (study) => {
    const { surfaces } = headerOf(study);
    const metres = metresPerUnitOf(study);
    const found: Surface[] = [];
    const up = upAxisOf(study).axis;
    for (const surface of surfaces ?? []) {
      const { id, height, node } = surface;
      const normal = normalOf(surface, up);
      const length = Math.hypot(...normal);
      if (!(length > 0) || node !== undefined) continue;
      const [x, y, z] = upright(normal, up);
      found.push({
        id,
        normal: [x / length, y / length, z / length],
        height: height * metres,
        declared: true,
      });
    }
    return found;
  },
  sameSurfaces,
);

/** Turns a vector of a document with the given up axis into y up, right-handed. */
export function upright(
  vector: readonly [number, number, number],
  up: "x" | "y" | "z",
): [number, number, number] {
  const [x, y, z] = vector;
  return up === "y" ? [x, y, z] : up === "z" ? [x, z, -y] : [-y, x, z];
}

/** Distance of each point of a path (3 numbers per sample) from a surface, metres, positive on the normal's side. */
export function heightsOver(surface: Surface, path: Float64Array): Float64Array {
  const [nx, ny, nz] = surface.normal;
  const heights = floats(path.length / 3);
  for (let i = 0, k = 0; i < heights.length; i++, k += 3) {
    heights[i] = nx * path[k] + ny * path[k + 1] + nz * path[k + 2] - surface.height;
  }
  return heights;
}

/** Distance of one point of a path from a surface, as {@link heightsOver} has it, for whoever looks at a few. */
export function heightAt(
  { normal: [nx, ny, nz], height }: Surface,
  path: Float64Array,
  sample: number,
): number {
  const k = 3 * sample;
  return nx * path[k] + ny * path[k + 1] + nz * path[k + 2] - height;
}

export function sameSurface(a: Surface, b: Surface): boolean {
  return (
    a.id === b.id && a.height === b.height && a.declared === b.declared && sameNumbers(a.normal, b.normal)
  );
}

function sameSurfaces(a: readonly Surface[], b: readonly Surface[]): boolean {
  return a.length === b.length && a.every((surface, index) => sameSurface(surface, b[index]));
}
