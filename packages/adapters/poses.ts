import {
  type Curve,
  curveName,
  curveOf,
  defaultSettings,
  type Grid,
  gridOf,
  headerOf,
  metresPerUnitOf,
  type Rig,
  registry,
  rigOf,
  type Shot,
  type Study,
  sampleCurve,
  studyOf,
} from "@keyside/core";
import {
  degreesPerRadian,
  type LocalMotion,
  localMotionOf,
  multiplyQuaternions,
  outerWorldOf,
  quaternionCurveOf,
  radiansPerUnitOf,
} from "@keyside/core/internal";

export type Axis = "x" | "y" | "z";
export const axes = ["x", "y", "z"] as const;

/** A shot whose poses can be asked for on each frame of its range, at its own rate: what writers of poses are made of. */
export class Poses {
  readonly shot: Shot;
  readonly study: Study;
  readonly rig: Rig;
  readonly grid: Grid;

  constructor(shot: Shot) {
    this.shot = shot;
    this.study = studyOf(shot, defaultSettings(registry));
    this.rig = rigOf(this.study);
    this.grid = gridOf(this.study);
  }

  /** Metres per unit of length: what the shot says, else what its figures' size tells. */
  get metresPerUnit(): number {
    return metresPerUnitOf(this.study);
  }

  /** The turn that leads from the document's axes to y up. */
  get toYUp(): readonly [number, number, number, number] {
    const [x, y, z, w] = outerWorldOf(this.study, undefined).orientation;
    return [x, y, z, w];
  }

  /** Shift, turn and scale of a node against its parent on each frame, in document units. */
  local(node: number): LocalMotion {
    return localMotionOf(this.study, node);
  }

  /** The curve of a channel; null where it has none, or one without keys. */
  curve(node: number, channel: Curve["channel"]): Curve | null {
    const curve = curveOf(this.study, curveName(this.rig.ids[node], channel));
    return curve === null || curve.frames.length === 0 ? null : curve;
  }

  /** The curve of a node's turn as quaternions; null where angles turn it, or nothing does. */
  quaternions(node: number): Curve | null {
    return quaternionCurveOf(this.study, node);
  }

  /** Order of the axes about which a node turns. */
  order(node: number): readonly Axis[] {
    const spec = headerOf(this.study).nodes.find(({ id }) => id === this.rig.ids[node]);
    return [...(spec?.rotationOrder ?? "xyz")] as Axis[];
  }

  /** Whether a node has a turn that goes before its own. */
  hasFixedTurn(node: number): boolean {
    const { fixedRotation } = this.rig;
    return [0, 1, 2].some((k) => fixedRotation[4 * node + k] !== 0);
  }

  /** Degrees of a node's rotation channels as they are keyed, on each frame, in the order in which they turn. */
  angles(node: number): readonly Float64Array[] {
    const toDegrees = radiansPerUnitOf(this.study) * degreesPerRadian;
    return this.order(node).map((axis) => {
      const values = new Float64Array(this.grid.count);
      const curve = this.curve(node, `rotation.${axis}`);
      if (curve === null) {
        const rest = this.rig.restRotation[3 * node + axes.indexOf(axis)];
        return values.fill(rest * degreesPerRadian);
      }
      sampleCurve(curve, this.grid.frames, values);
      for (let i = 0; i < values.length; i++) values[i] *= toDegrees;
      return values;
    });
  }

  /** The turn of a node at rest: its fixed turn, then its rest angles. */
  restTurn(node: number): number[] {
    const { fixedRotation, restRotation } = this.rig;
    let turn = [...fixedRotation.subarray(4 * node, 4 * node + 4)];
    for (const axis of this.order(node)) {
      const k = axes.indexOf(axis);
      const half = restRotation[3 * node + k] / 2;
      const own = [0, 0, 0, Math.cos(half)];
      own[k] = Math.sin(half);
      turn = product(turn, own);
    }
    return turn;
  }
}

/** One turn after another, as quaternions. */
export function product(a: readonly number[], b: readonly number[]): number[] {
  const result = new Float64Array(4);
  multiplyQuaternions(Float64Array.from(a), 0, Float64Array.from(b), 0, result, 0);
  return [...result];
}

/** A vector turned by a quaternion. */
export function turned([x, y, z, w]: readonly number[], v: readonly number[]): [number, number, number] {
  const [tx, ty, tz] = [2 * (y * v[2] - z * v[1]), 2 * (z * v[0] - x * v[2]), 2 * (x * v[1] - y * v[0])];
  return [v[0] + w * tx + y * tz - z * ty, v[1] + w * ty + z * tx - x * tz, v[2] + w * tz + x * ty - y * tx];
}

/**
 * Angles of turns about three axes, one after another: R = R(first) · R(second) · R(third). With the second at ±90° the
 * third is 0.
 * @param turns unit quaternions, 4 numbers each
 * @param order three different axes
 * @returns degrees, an array for each axis in the order
 */
export function anglesOfTurns(turns: Float64Array, order: readonly Axis[]): readonly Float64Array[] {
  const [i, j, k] = order.map((axis) => axes.indexOf(axis));
  const sign = (j - i + 3) % 3 === 1 ? 1 : -1;
  const count = turns.length / 4;
  const angles = [0, 1, 2].map(() => new Float64Array(count));
  for (let n = 0; n < count; n++) {
    const m = matrixOf(turns, 4 * n);
    const sine = Math.max(-1, Math.min(1, sign * m[3 * i + k]));
    const isLocked = Math.abs(sine) > 1 - 1e-12;
    const first = isLocked
      ? Math.atan2(sign * m[3 * k + j], m[3 * j + j])
      : Math.atan2(-sign * m[3 * j + k], m[3 * k + k]);
    angles[0][n] = first * degreesPerRadian;
    angles[1][n] = Math.asin(sine) * degreesPerRadian;
    angles[2][n] = isLocked ? 0 : Math.atan2(-sign * m[3 * i + j], m[3 * i + i]) * degreesPerRadian;
  }
  return angles;
}

function matrixOf(q: Float64Array, at: number): number[] {
  const length = Math.hypot(q[at], q[at + 1], q[at + 2], q[at + 3]) || 1;
  const [x, y, z, w] = [q[at] / length, q[at + 1] / length, q[at + 2] / length, q[at + 3] / length];
  return [
    ...[1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
    ...[2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
    ...[2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
  ];
}
