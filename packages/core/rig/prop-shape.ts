import { conjugateInto, rotateVector } from "../base/quaternion.ts";
import { lengthOf } from "../base/vector.ts";
import type { ShapeSpec } from "../document/schema.ts";
import type { Prop } from "./props.ts";
import type { World } from "./world.ts";

const point = new Float64Array(3);
const back = new Float64Array(4);

/**
 * Distance of a point from the outside of a prop, metres, negative inside; Infinity where it has no shape. The prop's own
 * scale is left out.
 * @param at a path, 3 numbers per sample @param k sample of the point
 */
export function gapTo({ shapes }: Prop, world: World, i: number, at: Float64Array, k: number): number {
  conjugateInto(world.orientation, 4 * i, back, 0);
  for (let axis = 0; axis < 3; axis++) point[axis] = at[3 * k + axis] - world.position[3 * i + axis];
  rotateVector(back, 0, point, 0, point, 0);
  let gap = Number.POSITIVE_INFINITY;
  for (const shape of shapes) gap = Math.min(gap, gapToShape(shape, point[0], point[1], point[2]));
  return gap;
}

const none = [0, 0, 0] as const;
const inBox = new Float64Array(3);
const turn = new Float64Array(4);

/** Distance of a point from the outside of a shape in its own space, negative inside; in the shape's unit. */
export function gapToShape(shape: ShapeSpec, x: number, y: number, z: number): number {
  if (shape.kind === "sphere") {
    const [cx, cy, cz] = shape.centre ?? none;
    return lengthOf(x - cx, y - cy, z - cz) - shape.radius;
  }
  if (shape.kind === "capsule") {
    const { from, to, radius } = shape;
    const ax = to[0] - from[0];
    const ay = to[1] - from[1];
    const az = to[2] - from[2];
    const px = x - from[0];
    const py = y - from[1];
    const pz = z - from[2];
    const square = ax * ax + ay * ay + az * az;
    const t = square > 0 ? Math.min(1, Math.max(0, (px * ax + py * ay + pz * az) / square)) : 0;
    return lengthOf(px - t * ax, py - t * ay, pz - t * az) - radius;
  }
  const [cx, cy, cz] = shape.centre ?? none;
  inBox[0] = x - cx;
  inBox[1] = y - cy;
  inBox[2] = z - cz;
  if (shape.rotation !== undefined) {
    turn.set(shape.rotation);
    const length = Math.hypot(turn[0], turn[1], turn[2], turn[3]) || 1;
    for (let k = 0; k < 4; k++) turn[k] *= (k < 3 ? -1 : 1) / length;
    rotateVector(turn, 0, inBox, 0, inBox, 0);
  }
  const qx = Math.abs(inBox[0]) - shape.size[0] / 2;
  const qy = Math.abs(inBox[1]) - shape.size[1] / 2;
  const qz = Math.abs(inBox[2]) - shape.size[2] / 2;
  const outside = lengthOf(Math.max(qx, 0), Math.max(qy, 0), Math.max(qz, 0));
  return outside + Math.min(0, Math.max(qx, qy, qz));
}
