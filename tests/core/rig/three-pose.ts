import { Euler, type EulerOrder, Group, Matrix4, Object3D, Quaternion } from "three";
import { expect } from "vitest";
import { sampleCurve, valueAt } from "../../../packages/core/curve/evaluate.ts";
import type { Shot } from "../../../packages/core/document/model.ts";

const radians = Math.PI / 180;
/** The axis conversions as matrices, written out from (x, y, z) → (x, z, -y) and (x, y, z) → (-y, x, z). */
export const toYUp = {
  x: new Matrix4(0, -1, 0, 0, 1, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1),
  y: new Matrix4(),
  z: new Matrix4(1, 0, 0, 0, 0, 0, 1, 0, 0, -1, 0, 0, 0, 0, 0, 1),
};

/** Poses a shot with three at one frame; objects by node id. Without scale where `plain`. */
export function threePose(shot: Shot, frame: number, plain = false): Map<string, Object3D> {
  const outer = new Group();
  outer.matrixAutoUpdate = false;
  outer.matrix.copy(toYUp[shot.header.space?.up ?? "y"]);
  const metres = plain ? 1 : (shot.header.space?.metresPerUnit ?? 1);
  outer.matrix.premultiply(new Matrix4().makeScale(metres, metres, metres));
  const objects = new Map<string, Object3D>();
  for (const spec of shot.header.nodes) {
    const object = new Object3D();
    objects.set(spec.id, object);
    const parent = spec.parent === undefined ? undefined : objects.get(spec.parent);
    (parent ?? outer).add(object);
    const channel = (name: string, rest: number) => {
      const curve = shot.curves.find((it) => it.node === spec.id && it.channel === name);
      return curve === undefined ? rest : valueAt(curve, frame);
    };
    const of = (kind: string, rest: readonly number[]): [number, number, number] => [
      channel(`${kind}.x`, rest[0]),
      channel(`${kind}.y`, rest[1]),
      channel(`${kind}.z`, rest[2]),
    ];
    object.position.set(...of("translation", spec.translation ?? [0, 0, 0]));
    const [x, y, z] = of("rotation", spec.rotation ?? [0, 0, 0]);
    const order = (spec.rotationOrder ?? "xyz").toUpperCase() as EulerOrder;
    const turn = new Quaternion().setFromEuler(new Euler(x * radians, y * radians, z * radians, order));
    const keyed = shot.curves.find((it) => it.node === spec.id && it.channel === "rotation");
    if (keyed !== undefined) {
      const out = new Float64Array(4);
      sampleCurve(keyed, Float64Array.of(frame), out);
      turn.set(out[0], out[1], out[2], out[3]);
    }
    object.quaternion.set(...(spec.fixedRotation ?? [0, 0, 0, 1])).multiply(turn);
    if (!plain) object.scale.set(...of("scale", spec.scale ?? [1, 1, 1]));
  }
  outer.updateMatrixWorld(true);
  return objects;
}

/** Expects numbers to agree to a tolerance relative to the largest of them (1 at least). */
export function expectNear(actual: ArrayLike<number>, expected: ArrayLike<number>, tolerance: number): void {
  let size = 1;
  let worst = 0;
  for (let k = 0; k < expected.length; k++) {
    size = Math.max(size, Math.abs(expected[k]));
    const difference = Math.abs(actual[k] - expected[k]);
    worst = Number.isNaN(difference) ? Number.POSITIVE_INFINITY : Math.max(worst, difference);
  }
  expect(worst).toBeLessThanOrEqual(tolerance * size);
}

/** The nine numbers of a unit quaternion's matrix, row by row. */
export function rowsOf(q: ArrayLike<number>): number[] {
  const m = new Matrix4().makeRotationFromQuaternion(new Quaternion(q[0], q[1], q[2], q[3])).elements;
  return [m[0], m[4], m[8], m[1], m[5], m[9], m[2], m[6], m[10]];
}

/** The upper left nine numbers of a matrix, row by row. */
export function upperRows(matrix: Matrix4): number[] {
  const m = matrix.elements;
  return [m[0], m[4], m[8], m[1], m[5], m[9], m[2], m[6], m[10]];
}
