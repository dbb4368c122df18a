import { bytes } from "../../base/room.ts";
import { measure, type Study, sameNumbers } from "../../base/study.ts";
import { headerOf } from "../../document/inputs.ts";
import type { SurroundingSpec } from "../../document/schema.ts";
import { carrierOf, figuresOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import { heightsOver, mediumLevelsOf } from "./surface.ts";

/** Densities of what a document names, kg/m³; water at 20 °C, air at sea level (from memory). */
const densities = { air: 1.2, water: 998, vacuum: 0 } as const;
/** Density of a body, kg/m³: a horse's, three Thoroughbreds (abstract); people and dogs float as barely. */
const bodyDensity = 950;
/**
 * Share of a body's weight that a medium has to lift so that the body is carried by it. Common practice: in water up to
 * the hips a person stands on about half of the weight.
 */
const carriedShare = 0.5;

/**
 * 1 at the samples at which a figure's hips, or its root, are in a medium that carries it: water does, air does not. Of
 * several media that are declared there, the last one counts.
 * @param figure index into `figuresOf`
 * @returns 0 or 1 per sample
 */
export const buoyedAt = measure(
  "buoyed",
  (study, figure: number): Uint8Array => {
    const { count, frames } = gridOf(study);
    const buoyed = bytes(count);
    const { surroundings = [] } = headerOf(study);
    if (surroundings.length === 0) return buoyed;
    const { position } = worldOf(study, carrierOf(figuresOf(study)[figure]));
    for (const spec of surroundings) {
      const level = spec.below === undefined ? undefined : levelOf(study, spec.below);
      if (level === null) continue;
      const heights = level === undefined ? null : heightsOver(level, position);
      const [first, last] = spec.frames ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
      const carries = isDense(spec) ? 1 : 0;
      for (let i = 0; i < count; i++) {
        const isIn = heights === null || heights[i] < 0;
        if (isIn && frames[i] >= first - 1e-9 && frames[i] <= last + 1e-9) buoyed[i] = carries;
      }
    }
    return buoyed;
  },
  sameNumbers,
);

function isDense({ medium, density }: SurroundingSpec): boolean {
  return (density ?? densities[medium ?? "air"]) >= carriedShare * bodyDensity;
}

/** The plane that bounds a medium; null where it is none that stands still. */
function levelOf(study: Study, id: string) {
  return mediumLevelsOf(study).find((surface) => surface.id === id) ?? null;
}
