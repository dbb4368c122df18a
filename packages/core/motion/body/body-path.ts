import { conjugateInto, rotateVector } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import { measure } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { figureOfNode, figuresOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";

/**
 * Path of a node of a figure with two arms, in axes that go with its chest: across (from the right shoulder to the
 * left one), up along the chest, forward; from the middle between the shoulders. 3 numbers per sample, metres.
 * All zero where the node's figure has no two arms.
 */
export const bodyPathOf = measure<number, Float64Array>("body path", (study, node) => {
  const { count } = gridOf(study);
  const out = floats(3 * count);
  const figure = figuresOf(study)[figureOfNode(study, node)];
  const a = figure?.parts.get("leftUpperArm")?.[0];
  const b = figure?.parts.get("rightUpperArm")?.[0];
  if (figure === undefined || a === undefined || b === undefined) return out;
  const chest = figure.parts.get("chest")?.at(-1) ?? figure.parts.get("spine")?.at(-1) ?? figure.root;
  const base = worldOf(study, chest);
  const left = worldOf(study, a).position;
  const right = worldOf(study, b).position;
  const path = worldOf(study, node).position;
  const inverse = new Float64Array(4);
  const axes = new Float64Array(9);
  const local = new Float64Array(3);
  for (let i = 0; i < count; i++) {
    conjugateInto(base.orientation, 4 * i, inverse, 0);
    // The axes are taken once, from the first frame, and carried along by the chest's orientation.
    if (i === 0) bodyAxes(left, right, base.position, inverse, axes);
    for (let k = 0; k < 3; k++) local[k] = path[3 * i + k] - (left[3 * i + k] + right[3 * i + k]) / 2;
    rotateVector(inverse, 0, local, 0, local, 0);
    for (let row = 0; row < 3; row++) {
      out[3 * i + row] =
        local[0] * axes[3 * row] + local[1] * axes[3 * row + 1] + local[2] * axes[3 * row + 2];
    }
  }
  return out;
});

/** A body path on the other side of the plane of symmetry. */
export function mirrored(path: Float64Array): Float64Array {
  const out = path.slice();
  for (let k = 0; k < out.length; k += 3) out[k] = -out[k];
  return out;
}
/** Across, up and forward, in the chest's own axes, from the first frame. */
function bodyAxes(
  a: Float64Array,
  b: Float64Array,
  chest: Float64Array,
  inverse: Float64Array,
  axes: Float64Array,
): void {
  for (let axis = 0; axis < 3; axis++) {
    axes[axis] = a[axis] - b[axis];
    axes[3 + axis] = (a[axis] + b[axis]) / 2 - chest[axis];
  }
  normalise(axes, 0);
  if (lengthOf(axes[3], axes[4], axes[5]) < 1e-6) axes[4] = 1;
  const along = axes[3] * axes[0] + axes[4] * axes[1] + axes[5] * axes[2];
  for (let axis = 0; axis < 3; axis++) axes[3 + axis] -= along * axes[axis];
  normalise(axes, 3);
  axes[6] = axes[1] * axes[5] - axes[2] * axes[4];
  axes[7] = axes[2] * axes[3] - axes[0] * axes[5];
  axes[8] = axes[0] * axes[4] - axes[1] * axes[3];
  for (let row = 0; row < 9; row += 3) rotateVector(inverse, 0, axes, row, axes, row);
}

function normalise(axes: Float64Array, at: number): void {
  const length = lengthOf(axes[at], axes[at + 1], axes[at + 2]) || 1;
  for (let axis = at; axis < at + 3; axis++) axes[axis] /= length;
}
