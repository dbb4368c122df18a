import { rotateVector } from "../base/quaternion.ts";
import { floats } from "../base/room.ts";
import { measure, type Study, shotMeasure } from "../base/study.ts";
import { headerOf } from "../document/inputs.ts";
import { outlineOf } from "../document/outline.ts";
import type { BodyPart, NodeSpec, ShapeSpec } from "../document/schema.ts";
import { figuresOf } from "../rig/body.ts";
import { outerWorldOf, worldOf } from "../rig/pose.ts";
import { rigOf } from "../rig/rig.ts";
import { metresPerUnitOf } from "../rig/stature.ts";
import { upAxisOf } from "../rig/up.ts";
import { multiplyMatrix } from "../rig/world.ts";
import { gridOf } from "../time/grid.ts";
import { bonesOf } from "./flesh.ts";

/** A body in the shot as it can be seen: the hull of balls about points. */
export interface Solid {
  /** Node that it moves with, and index of the figure that it is of; −1 for none. */
  readonly node: number;
  readonly figure: number;
  readonly part: BodyPart | undefined;
  /** Metres about each of its points: 0 for a box. */
  readonly radius: number;
  /** The bone's two ends (rig indices), or which of its node's shapes it is. */
  readonly of: { readonly from: number; readonly to: number } | { readonly shape: number };
}

/** All that can be seen: shapes where nodes have some, capsules on the bones of figures elsewhere. */
export const solidsOf = shotMeasure<readonly Solid[]>("solids", (study) => {
  const { indexOf } = rigOf(study);
  const metres = metresPerUnitOf(study);
  const solids: Solid[] = [];
  const figureAt = new Map<number, number>();
  figuresOf(study).forEach(({ nodes }, figure) => {
    for (const node of nodes) figureAt.set(node, figure);
  });
  const shaped = new Set<number>();
  for (const { id, shapes } of headerOf(study).nodes) {
    const node = indexOf.get(id);
    if (shapes === undefined || node === undefined || shaped.has(node)) continue;
    shaped.add(node);
    const figure = figureAt.get(node) ?? -1;
    const part = figure < 0 ? undefined : figuresOf(study)[figure].partOf.get(node);
    shapes.forEach((shape, index) => {
      const radius = shape.kind === "box" ? 0 : shape.radius * metres;
      solids.push({ node, figure, part, radius, of: { shape: index } });
    });
  }
  figuresOf(study).forEach((_, figure) => {
    for (const { from, to, radius, part } of bonesOf(study, figure))
      if (!shaped.has(from)) solids.push({ node: from, figure, part, radius, of: { from, to } });
  });
  return solids;
});

/** The paths of a solid's points: one of 3 numbers per sample for each, metres. */
export function pathsOf(study: Study, { node, of }: Solid): readonly Float64Array[] {
  if ("shape" in of) return shapePathsOf(study, node)[of.shape] ?? [];
  return of.from === of.to
    ? [worldOf(study, of.from).position]
    : [worldOf(study, of.from).position, worldOf(study, of.to).position];
}

/** The paths of the points of each of a node's shapes. */
const shapePathsOf = measure<number, readonly (readonly Float64Array[])[]>("shape paths", (study, node) => {
  const id = rigOf(study).ids[node];
  const shapes = headerOf(study).nodes.find((spec: NodeSpec) => spec.id === id)?.shapes ?? [];
  return shapes.map((shape) => pointsOf(shape).map((point) => pathOfPoint(study, node, point)));
});

/** Points of a shape in its node's space, document units. */
function pointsOf(shape: ShapeSpec): readonly (readonly number[])[] {
  if (shape.kind === "sphere") return [shape.centre ?? [0, 0, 0]];
  if (shape.kind === "capsule") return [shape.from, shape.to];
  const { size, centre = [0, 0, 0], rotation = [0, 0, 0, 1] } = shape;
  const length = Math.hypot(...rotation) || 1;
  const turn = Float64Array.from(rotation, (part) => part / length);
  const corner = new Float64Array(3);
  return Array.from({ length: 8 }, (_, k) => {
    for (let axis = 0; axis < 3; axis++) corner[axis] = ((k >> axis) & 1 ? 0.5 : -0.5) * size[axis];
    rotateVector(turn, 0, corner, 0, corner, 0);
    return centre.map((at, axis) => at + corner[axis]);
  });
}

/**
 * The way of a point that is fixed to a node; to the world where the node is −1.
 * @param point in the node's space, document units
 */
function pathOfPoint(study: Study, node: number, point: ArrayLike<number>): Float64Array {
  const { count } = gridOf(study);
  const metres = metresPerUnitOf(study);
  const { position, orientation, linear } = node < 0 ? outerWorldOf(study, undefined) : worldOf(study, node);
  const path = floats(3 * count);
  const arm = new Float64Array(3);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 3; k++) arm[k] = metres * point[k];
    if (linear !== null) multiplyMatrix(linear, 9 * i, arm);
    else rotateVector(orientation, 4 * i, arm, 0, arm, 0);
    for (let k = 0; k < 3; k++) path[3 * i + k] = position[3 * i + k] + arm[k];
  }
  return path;
}

/** The edge of a surface that has one. */
export interface Outline {
  readonly id: string;
  /** The paths of its corners in their order around, 3 numbers per sample, metres. */
  readonly corners: readonly Float64Array[];
}

/** The outlines of all surfaces with edges. */
export const outlinesOf = shotMeasure<readonly Outline[]>("outlines", (study) => {
  const { indexOf } = rigOf(study);
  return (headerOf(study).surfaces ?? []).flatMap((surface): Outline[] => {
    const corners = outlineOf(surface, upAxisOf(study).axis);
    const node = surface.node === undefined ? -1 : indexOf.get(surface.node);
    if (corners === null || node === undefined) return [];
    const paths = Array.from({ length: corners.length / 3 }, (_, k) =>
      pathOfPoint(study, node, corners.subarray(3 * k, 3 * k + 3)),
    );
    return [{ id: surface.id, corners: paths }];
  });
});
