import { inRadians } from "../../../base/constants.ts";
import { conjugate, multiplyQuaternions, rotated } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import type { Vector } from "../../../base/vector.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import type { Lens } from "../../../staging/camera.ts";
import { gridOf } from "../../../time/grid.ts";
import { localTurns, turnedNode } from "../../shared/posing/node-turns.ts";

/** Seconds over which a turn comes and goes beside the frames that need it. */
const ramp = 1 / 4;

/** Axes of what a camera sees, in the world: the line of sight, to the right, upwards. */
export function axesOfSight({ turn }: Lens, sample: number): readonly [Vector, Vector, Vector] {
  const of = (axis: Vector) => rotated(turn, axis, 4 * sample);
  return [of([0, 0, -1]), of([1, 0, 0]), of([0, 1, 0])];
}

/**
 * Edits that turn a joint about an axis of the world over some frames, eased in before them and out behind.
 * @param axis unit vector in the world
 * @param degrees counter-clockwise about it
 */
export function turnedOver(
  study: Study,
  node: number,
  { from, to }: { readonly from: number; readonly to: number },
  axis: Vector,
  degrees: number,
): KeyEdit[] {
  const { count, rate } = gridOf(study);
  const reach = Math.max(2, Math.round(ramp * rate));
  const samples = { lo: Math.max(0, from - reach), hi: Math.min(count - 1, to + reach) };
  const turns = localTurns(study, node, samples);
  const parent = rigOf(study).parent[node];
  const turn = new Float64Array(4);
  for (let i = samples.lo; i <= samples.hi; i++) {
    const gone = i < from ? (i - from + reach) / reach : i > to ? (to + reach - i) / reach : 1;
    const share = gone * gone * (3 - 2 * gone);
    const half = (inRadians(degrees) * share) / 2;
    const own: Vector =
      parent < 0 ? axis : rotated(conjugate(worldOf(study, parent).orientation, 4 * i), axis);
    for (let k = 0; k < 3; k++) turn[k] = own[k] * Math.sin(half);
    turn[3] = Math.cos(half);
    multiplyQuaternions(turn, 0, turns, 4 * (i - samples.lo), turns, 4 * (i - samples.lo));
  }
  return turnedNode(study, node, samples, turns);
}
