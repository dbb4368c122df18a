import { type Study, shotMeasure } from "../base/study.ts";
import { headerOf } from "../document/inputs.ts";
import { readNames } from "./hierarchy.ts";
import { type Rig, restPositionsOf, rigOf } from "./rig.ts";

/** The axis of the document that points up, and how it was found. */
export interface UpAxis {
  readonly axis: Axis;
  /** `rest pose`: the hips stand over the feet that way; `assumed`: nothing tells, and y is usual. */
  readonly from: "declared" | "rest pose" | "assumed";
}
type Axis = "x" | "y" | "z";
const axes = ["x", "y", "z"] as const;

/**
 * Least factor by which hips stand farther over the feet on one axis than on either other one for that axis to be up.
 * A leg that leans by 27° still does; geometry: arc tangent of a half.
 */
const steep = 2;

/**
 * The axis that points up: what the document declares; else the one on which the hips of the rest pose stand over the
 * feet, both known by their names; else y. Where surfaces are declared with a normal and no up axis stands beside them,
 * they were written for y.
 */
export const upAxisOf = shotMeasure<UpAxis>(
  "up axis",
  (study) => {
    const { space, surfaces = [] } = headerOf(study);
    if (space?.up !== undefined) return { axis: space.up, from: "declared" };
    const axis = surfaces.length > 0 ? null : standingAxis(rigOf(study), restPositionsOf(study));
    return axis === null ? { axis: "y", from: "assumed" } : { axis, from: "rest pose" };
  },
  (a, b) => a.axis === b.axis && a.from === b.from,
);

/** Index of {@link upAxisOf}'s axis: 0, 1 or 2. */
export const upIndexOf = shotMeasure<number>("up index", (study) => axes.indexOf(upAxisOf(study).axis));

const half = Math.SQRT1_2;

/** Turns that lead from a document's axes to y up: z up maps (x, y, z) to (x, z, -y), x up to (-y, x, z). */
const axisTurns = { x: [0, 0, half, half], y: [0, 0, 0, 1], z: [-half, 0, 0, half] } as const;

/** The turn from the document's axes to y up, as a quaternion. */
export const axisTurnOf = (study: Study): readonly [number, number, number, number] =>
  axisTurns[upAxisOf(study).axis];

/** The axis on which hips stand over feet; null where names tell neither, or the way between them leans. */
function standingAxis(rig: Rig, positions: Float64Array): Axis | null {
  const { names } = readNames(rig);
  const sum = { hips: [0, 0, 0], feet: [0, 0, 0] };
  let hips = 0;
  let feet = 0;
  for (let node = 0; node < rig.count; node++) {
    const { word, end } = names[node];
    if (end || (word !== "pelvis" && word !== "foot")) continue;
    const at = word === "pelvis" ? sum.hips : sum.feet;
    if (word === "pelvis") hips++;
    else feet++;
    for (let k = 0; k < 3; k++) at[k] += positions[3 * node + k];
  }
  if (hips === 0 || feet < 2) return null;
  const way = axes.map((_, k) => sum.hips[k] / hips - sum.feet[k] / feet);
  const up = way.indexOf(Math.max(...way));
  return way.every((part, k) => k === up || way[up] > steep * Math.abs(part)) ? axes[up] : null;
}
