import { conjugateInto, multiplyQuaternions } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { curveOf } from "../../../document/inputs.ts";
import { curveNamesOfNode, localRotationOf } from "../../../rig/pose.ts";
import { gridOf, sampleAt } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";

/**
 * How far a joint leaves the shortest turn from one of its keys to the next, over some samples: the farthest of them,
 * radians. That is what is seen of a lock: keys on every frame, and keys that hold their pose, leave nothing between them.
 */
export function detourOf(study: Study, node: number, { from, to }: Span): number {
  const grid = gridOf(study);
  const turns = localRotationOf(study, node);
  let most = 0;
  let before = -1;
  for (const key of keysOf(study, node)) {
    const at = sampleAt(grid, key);
    if (before >= 0 && at > from && before < to) most = Math.max(most, detourBetween(turns, before, at));
    before = at;
  }
  return most;
}

/** Frames of the keys that turn a node, ascending. */
function keysOf(study: Study, node: number): readonly number[] {
  const frames = new Set<number>();
  for (const name of curveNamesOfNode(study, node)) {
    const curve = curveOf(study, name);
    if (curve?.channel.startsWith("rotation")) for (const frame of curve.frames) frames.add(frame);
  }
  return [...frames].sort((a, b) => a - b);
}

/** The farthest that the samples between two of them are off the shortest turn from the one to the other, radians. */
function detourBetween(turns: Float64Array, first: number, last: number): number {
  turnFrom(turns, first, last, whole);
  const sine = Math.hypot(whole[0], whole[1], whole[2]);
  const angle = 2 * Math.atan2(sine, whole[3]);
  let most = 0;
  for (let i = first + 1; i < last; i++) {
    turnFrom(turns, first, i, part);
    const along = sine === 0 ? 0 : (part[0] * whole[0] + part[1] * whole[1] + part[2] * whole[2]) / sine;
    const share = Math.min(angle, Math.max(0, 2 * Math.atan2(along, part[3])));
    const nearness = part[3] * Math.cos(share / 2) + along * Math.sin(share / 2);
    most = Math.max(most, 2 * Math.acos(Math.min(1, Math.abs(nearness))));
  }
  return most;
}

const inverse = new Float64Array(4);
const whole = new Float64Array(4);
const part = new Float64Array(4);

/** The turn from one sample to another, the shorter way round. */
function turnFrom(turns: Float64Array, from: number, to: number, out: Float64Array): void {
  conjugateInto(turns, 4 * from, inverse, 0);
  multiplyQuaternions(inverse, 0, turns, 4 * to, out, 0);
  if (out[3] < 0) for (let k = 0; k < 4; k++) out[k] = -out[k];
}
